"""Working diagrams written: one PDF and one SVG for each square."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from constraints.design import Design
from constraints.working.habits import Habits
from explore.files import write_whole
from explore.papers.worked import worked
from gallery.diagram.drawn import Diagram, DiagramOptions
from gallery.diagram.pages import clear_scale, leaf_of_all, pages
from gallery.paper import page
from gallery.paper.layers import figure
from gallery.paper.layers_svg import svg


def write(
    design: Design, name: str, wanted: DiagramOptions, paper: str, pdf: Path, vector: Path, habits: Habits
) -> str:
    """Write the working diagram of a square, and say in a few words what was made. name: of its study. A scale of
    0 stands for the one that suits square and paper.

    Refused if the square cannot be worked; OSError.
    """
    scale = wanted.scale or clear_scale(design, paper)
    diagram = Diagram(worked(design, habits), replace(wanted, scale=scale))
    leaves = pages(diagram, name, paper)
    pdf.parent.mkdir(parents=True, exist_ok=True)
    page.write([figure(leaf) for leaf in leaves], pdf)
    write_whole(vector, svg(leaf_of_all(diagram, name)))
    return f"{design.pairs} pairs, {diagram.scale:g} times as large, {len(leaves)} pages {paper}"

"""One square large, written as PNG, PDF and SVG."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from constraints.design import Design
from explore.asking.names import ThreadColour
from explore.files import write_whole
from explore.papers.colouring import coloured, told
from explore.papers.worked import worked
from gallery.looks.named import proportions
from gallery.paper import page
from gallery.sheets.captions import facts
from gallery.sheets.large import large
from gallery.web.vector import vector, vector_of_threads


def check_colours(design: Design, colour: Sequence[ThreadColour]) -> None:
    """Refused if a thread cannot be coloured so; to be asked before anything is written."""
    if colour:
        coloured(worked(design), colour)


def write(
    design: Design, look: str, side: float, plain: bool, colour: Sequence[ThreadColour], files: Sequence[Path]
) -> None:
    """Write a square in a look. side: the longer one, mm; colour: threads of the lace look; files: PNG, PDF and
    SVG. The SVG has no words. Raises OSError, BadInput."""
    picture, pdf, svg = files
    words = [] if plain else [f"No. {design.number}", *facts(design)]
    points = side / page.MM_PER_POINT
    threads = None
    if look == "lace" and colour:
        done = worked(design)
        threads = done, coloured(done, colour)
        words += [] if plain else told(colour)
    pdf.parent.mkdir(parents=True, exist_ok=True)
    shown = large(design, look, side, words, threads)
    page.write([shown], picture)
    page.write([shown], pdf)
    drawn = vector(design, look, points) if threads is None else vector_of_threads(*threads, points)
    write_whole(svg, drawn.svg(side, look, proportions(design)))

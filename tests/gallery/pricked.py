"""Squares to be pricked, and their prickings read back from the files."""

from __future__ import annotations

from dataclasses import replace
from io import StringIO
from pathlib import Path
from xml.etree import ElementTree

import numpy as np
import shapely
from examples import diamond, make
from reading_pdf import Read, read_pdf
from svgelements import SVG, Circle

from constraints.design import Design
from constraints.working.work import work
from gallery.paper import page
from gallery.paper.layers import Dots, Leaf, Words, figure, gathered
from gallery.paper.layers_svg import svg
from gallery.pricking.drawn import PrickingOptions
from gallery.pricking.pages import leaf_of_all, pages

ALL = PrickingOptions(arrows=True, cross_overs=True, numbers=True, by_stitch=True)
MIXED = make(
    15,
    [("cloth", diamond(10, 3, 3)), ("half", diamond(5, 0, 3))],
    rose=lambda x, y: np.abs(x) + np.abs(y) > 17,
    spiders=[(8, diamond(0, -9, 3))],
)
ACROSS = make(9, [("cloth", diamond(0, -3, 3))], worked="across", symmetry="upright-mirror")
LONELY = make(9, [("half", diamond(-3, -2, 3))], symmetry="none")
SQUARES = {"mixed": MIXED, "across": ACROSS, "lonely": LONELY}
# Larger than A4 both ways: 300 mm.
LARGE = replace(make(50, [("cloth", diamond(0, -20, 6))]), pitch_mm=6.0)


def written(design: Design, folder: Path, part: str = "whole", paper: str = "a4") -> list[Read]:
    leaves = pages(work(design), "garden-society", PrickingOptions(), part, paper)
    page.write([figure(leaf) for leaf in leaves], folder / "07-pricking.pdf")
    return read_pdf(folder / "07-pricking.pdf")


def circles(design: Design, options: PrickingOptions, part: str = "whole") -> np.ndarray:
    """(n, 3) middle and diameter of every dot of the SVG, mm."""
    text = svg(leaf_of_all(work(design), "garden-society", options, part))
    root = SVG.parse(StringIO(text), ppi=25.4)
    return np.array([(each.cx, each.cy, 2 * each.rx) for each in root.elements() if isinstance(each, Circle)])


def bars(sheet: Read) -> list[float]:
    """Lengths of the lines of a page that are 100 mm long."""
    return [each.length for each in sheet.strokes if abs(each.length - 100) < 0.5 and len(each.points) == 2]


def numbered(design: Design, options: PrickingOptions) -> dict[int, tuple[float, float]]:
    """Each number of the SVG and the middle of the dot nearest to it."""
    leaf = leaf_of_all(work(design), "a", options, "whole")
    root = ElementTree.fromstring(svg(leaf))
    dots = circles(design, options)[:, :2]
    (group,) = [each for each in root if each.get("id") == "numbers"]
    (layer,) = [layer for layer in gathered(leaf.layers) if layer.name == "numbers"]
    found = {}
    for words, text in zip(layer.marks, group, strict=True):
        assert isinstance(words, Words)
        a, b, c, d = words.box
        near = dots[np.hypot(*(dots - [(a + c) / 2, (b + d) / 2]).T).argmin()]
        found[int(text.text or "")] = (float(near[0]), float(near[1]))
    return found


def uncovered(leaf: Leaf) -> bool:
    """Whether no word of a leaf lies on a dot."""
    words = [shapely.box(*mark.box) for layer in leaf.layers for mark in layer.marks if isinstance(mark, Words)]
    dots = [
        shapely.Point(centre).buffer(mark.diameter / 2)
        for layer in leaf.layers for mark in layer.marks if isinstance(mark, Dots) for centre in mark.centres
    ]  # fmt: skip
    return len(shapely.STRtree(dots).query(words, predicate="intersects")[0]) == 0

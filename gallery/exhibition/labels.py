"""Labels to hang beside designs: several to a page of A4 at their true size, with marks to cut along."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure

from constraints.design import Design
from constraints.fillings import FILLINGS
from constraints.pins import pins
from constraints.stitches import GROUND, STITCHES
from constraints.wording import measures
from gallery.paper.page import PAPERS, Type, house_rules, new_page, put_text
from gallery.paper.paths import Pencil, lines
from gallery.paper.setting import fit, leading, put_lines
from gallery.sheets.captions import BETWEEN, stitches_used

# All in mm: a label, how many stand beside and below each other, and the marks at their corners.
WIDTH, HEIGHT = 90.0, 50.0
_COLUMNS, _ROWS = 2, 5
_MARK, _OFF = 4.0, 1.2
_INSET = 7.0
_NOTE_ROOM = 12.0

_IN_FULL = {
    **{name: stitch.words for name, stitch in STITCHES.items()},
    **{name: filling.label for name, filling in FILLINGS.items()},
}

_SERIES = Type(7.5, colour="#5d626c")
_TITLE = Type(17, family="serif")
_FACTS = Type(8.5)


@dataclass(frozen=True)
class Label:
    """What one label says. above: a line over the title; facts: a few words each."""

    above: str
    title: str
    facts: tuple[str, ...]


def label(design: Design, title: str, series: str) -> Label:
    """The label of a design: title, size, pairs, pins and stitches."""
    told = (measures(design).replace("x", "\N{MULTIPLICATION SIGN}"), f"{design.pairs} pairs")
    return Label(series, title, (*told, f"{pins(design)} pins", ", ".join(in_full(design))))


def in_full(design: Design) -> list[str]:
    """The stitches and fillings of a square as a visitor reads them; its ground if there are none."""
    return [_IN_FULL[name] for name in stitches_used(design)] or [GROUND]


def labels(told: Sequence[Label]) -> list[Figure]:
    """Pages of A4 with the labels in their order, ten to a page, 90 x 50 mm each if printed at 100 %."""
    with house_rules():
        on_page = _COLUMNS * _ROWS
        return [_page(told[first : first + on_page]) for first in range(0, len(told), on_page)]


def corner(place: int) -> tuple[float, float]:
    """Top left corner of the label at a place of its page, mm."""
    width, height = PAPERS["a4"]
    left = (width - _COLUMNS * WIDTH) / 2
    top = (height - _NOTE_ROOM - _ROWS * HEIGHT) / 2 + _NOTE_ROOM / 2
    return left + place % _COLUMNS * WIDTH, top + place // _COLUMNS * HEIGHT


def _page(told: Sequence[Label]) -> Figure:
    width, height = PAPERS["a4"]
    figure, axes = new_page(width, height)
    rows = -(-len(told) // _COLUMNS)
    columns = min(len(told), _COLUMNS)
    _marks(axes, columns, rows)
    for place, each in enumerate(told):
        _label(axes, *corner(place), each)
    note = f"Print at 100 %, then measure: a label is {WIDTH:g} x {HEIGHT:g} mm between the cutting marks."
    put_text(axes, width / 2, height - 8.0, note, Type(7, colour="#5d626c"), "center")
    return figure


def _marks(axes: Axes, columns: int, rows: int) -> None:
    """Short lines outside the block of labels, on every line to cut along."""
    left, top = corner(0)
    right, bottom = left + columns * WIDTH, top + rows * HEIGHT
    ends = []
    for column in range(columns + 1):
        x = left + column * WIDTH
        ends += [[(x, top - _OFF), (x, top - _OFF - _MARK)], [(x, bottom + _OFF), (x, bottom + _OFF + _MARK)]]
    for row in range(rows + 1):
        y = top + row * HEIGHT
        ends += [[(left - _OFF, y), (left - _OFF - _MARK, y)], [(right + _OFF, y), (right + _OFF + _MARK, y)]]
    Pencil(axes).stroke(lines(np.array(ends)), 0.1, "#2a2d33")


def _label(axes: Axes, x: float, y: float, told: Label) -> None:
    middle, room = x + WIDTH / 2, WIDTH - 2 * _INSET
    style, above = fit(told.above, _SERIES, room, 6.5, 2)
    put_lines(axes, middle, y + 8.0, above, style, "center")
    style, title = fit(told.title, _TITLE, room, 9.0, 2)
    first = y + 22.0 - (len(title) - 1) * leading(style) / 2
    put_lines(axes, middle, first, title, style, "center")
    Pencil(axes).stroke(lines(np.array([[(middle - 9, y + 30.0), (middle + 9, y + 30.0)]])), 0.15, "#a9a294")
    *numbers, stitches = told.facts
    put_text(axes, middle, y + 36.0, _FACTS.fitted(BETWEEN.join(numbers), room), _FACTS, "center")
    style, named = fit(stitches, _FACTS, room, 6.5, 2)
    put_lines(axes, middle, y + 40.7, named, style, "center")

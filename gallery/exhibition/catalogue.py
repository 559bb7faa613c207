"""The catalogue of a series: a title page, a page for each square in the lace look, and a page of cautions."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.transforms import Affine2D

from constraints.design import Design
from gallery.looks import lace
from gallery.looks.excerpt import excerpt, shown
from gallery.looks.named import extent
from gallery.paper.page import PAPERS, Type, house_rules, new_page, put_text
from gallery.paper.paths import Pencil, lines
from gallery.paper.setting import fit, leading, paragraph, put_lines

_WIDTH, _HEIGHT = PAPERS["a4"]
_MARGIN = 22.0
_ROOM = _WIDTH - 2 * _MARGIN
_SIDE, _TOP = 166.0, 48.0
_TALL = 2.5  # a longer strip is shown in part
_SOFT, _RULE = "#5d626c", "#a9a294"
_TITLE, _HEADING, _TEXT = Type(32, family="serif"), Type(22, family="serif"), Type(10)
_SMALL, _NAME = Type(8.5, colour=_SOFT), Type(9, colour=_SOFT)


@dataclass(frozen=True)
class CataloguePage:
    """A page of the catalogue. facts: name and value, one a line."""

    design: Design
    title: str
    facts: tuple[tuple[str, str], ...]


@dataclass(frozen=True)
class Front:
    """The title page and the last one. statements, cautions: one short paragraph each."""

    title: str
    subtitle: str
    statements: tuple[str, ...]
    cautions: tuple[str, ...]


def catalogue(front: Front, entries: Sequence[CataloguePage]) -> list[Figure]:
    """Pages of A4: the title, the entries in their order, the cautions."""
    with house_rules():
        pages = [_title_page(front, entries)]
        pages += [_entry_page(front.title, number, entry) for number, entry in enumerate(entries, 2)]
        return [*pages, _last_page(front, len(entries) + 2)]


def _title_page(front: Front, entries: Sequence[CataloguePage]) -> Figure:
    figure, axes = new_page(_WIDTH, _HEIGHT)
    style, title = fit(front.title, _TITLE, _ROOM, 15, 3)
    y = put_lines(axes, _WIDTH / 2, 52.0, title, style, "center")
    put_text(axes, _WIDTH / 2, y + 1.0, _TEXT.fitted(front.subtitle, _ROOM), _TEXT, "center")
    _small_pictures(axes, y + 12.0, entries)
    _rule(axes, _HEIGHT - 82.0)
    y = _HEIGHT - 74.0
    for words in front.statements:
        y = put_lines(axes, _MARGIN, y, paragraph(words, _SMALL, _ROOM), _SMALL) + 1.5
    return figure


def _small_pictures(axes: Axes, top: float, entries: Sequence[CataloguePage]) -> None:
    """The squares in their order, small, as large as the page has room for, to one scale."""
    tall, best = _HEIGHT - 92.0 - top, (0.0, 1)
    for columns in range(1, len(entries) + 1):
        rows = -(-len(entries) // columns)
        best = max(best, (min((_ROOM + 4.0) / columns, (tall + 4.0) / rows, 62.0), columns))
    step, columns = best
    reach = max(_reach(entry.design) for entry in entries)
    for place, entry in enumerate(entries):
        row, column = divmod(place, columns)
        held = min(columns, len(entries) - row * columns)
        x = _WIDTH / 2 + (column - (held - 1) / 2) * step
        half = (step - 4.0) / 2 * _reach(entry.design) / reach
        _draw(axes, entry.design, x, top + (row + 0.5) * step, half, detailed=False)


def _entry_page(series: str, number: int, entry: CataloguePage) -> Figure:
    figure, axes = new_page(_WIDTH, _HEIGHT)
    style, title = fit(entry.title, _HEADING, _ROOM, 11, 2)
    first = 36.0 - (len(title) - 1) * leading(style)
    put_lines(axes, _MARGIN, first, title, style)
    _draw(axes, entry.design, _WIDTH / 2, _TOP + _SIDE / 2, _SIDE / 2)
    y = _TOP + _SIDE + 13.0
    part = shown(entry.design, _TALL)
    for name, value in (*entry.facts, *([("Picture", part)] if part else [])):
        put_text(axes, _MARGIN, y, name, _NAME)
        style, told = fit(value, _TEXT, _ROOM - 32.0, 8, 2)
        y = max(put_lines(axes, _MARGIN + 32.0, y, told, style), y + leading(_TEXT)) + 1.1
    _foot(axes, series, number)
    return figure


def _last_page(front: Front, number: int) -> Figure:
    figure, axes = new_page(_WIDTH, _HEIGHT)
    put_text(axes, _MARGIN, 36.0, "Before the work begins", _HEADING)
    y = 52.0
    for words in front.cautions:
        put_text(axes, _MARGIN, y, "\N{EN DASH}", _TEXT)
        y = put_lines(axes, _MARGIN + 5.0, y, paragraph(words, _TEXT, _ROOM - 5.0), _TEXT) + 2.0
    _foot(axes, front.title, number)
    return figure


def _foot(axes: Axes, series: str, number: int) -> None:
    _rule(axes, _HEIGHT - 20.0)
    put_text(axes, _MARGIN, _HEIGHT - 14.5, _SMALL.fitted(series, _ROOM - 15.0), _SMALL)
    put_text(axes, _WIDTH - _MARGIN, _HEIGHT - 14.5, str(number), _SMALL, "right")


def _rule(axes: Axes, y: float) -> None:
    Pencil(axes).stroke(lines(np.array([[(_MARGIN, y), (_WIDTH - _MARGIN, y)]])), 0.15, _RULE)


def _reach(design: Design) -> float:
    return extent(excerpt(design, _TALL)) * design.pitch_mm


def _draw(axes: Axes, design: Design, x: float, y: float, half: float, detailed: bool | None = None) -> None:
    drawn = excerpt(design, _TALL)
    lace.draw(axes, drawn, Affine2D().scale(half / extent(drawn)).translate(x, y), detailed)

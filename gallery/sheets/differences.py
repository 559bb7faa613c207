"""Two squares side by side, and under them a panel that shows pinhole for pinhole where they differ.

Every kind of difference has a colour and a pattern, so that it is seen without colours too. The colours are
of the palette that Okabe and Ito made for all kinds of colour vision (Color Universal Design, 2008).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.path import Path
from matplotlib.transforms import Affine2D

from constraints.design import Design
from constraints.differing import Differences, PinholeChange
from constraints.forms import Form
from constraints.lattice import BoolArray, FloatArray
from constraints.layout import lay
from constraints.repeats import repeat_of, unrolled
from gallery.looks.bent import bent
from gallery.looks.blocks import block_outlines, outlines
from gallery.looks.named import LOOKS, extent
from gallery.paper import paths
from gallery.paper.page import MM_PER_POINT, PAPERS, Type, house_rules, new_page, put_text
from gallery.paper.paths import Pen, Pencil
from gallery.sheets.captions import wrapped

# All in millimetres, on A4; other papers are this page made larger.
_WIDTH, _HEIGHT = 210.0, 262.0
_MARGIN, _HEAD, _GAP = 12.0, 15.0, 8.0
_SIDE = (_WIDTH - 2 * _MARGIN - _GAP) / 2
_PANEL = 118.0
_DOTS = 200

_TITLE, _NOTE = Type(15, family="serif"), Type(7.5, colour="#5d626c")
_NUMBER, _WORDS, _BOLD = Type(11, bold=True), Type(8), Type(8, bold=True)

_PAPER, _BOTH, _OUTLINE, _EDGE, _PINHOLE = "#ffffff", "#e2e3e6", "#4b5059", "#8d929b", "#a9adb5"


@dataclass(frozen=True)
class Sign:
    """How a change is shown: a tint, and lines or dots of a colour in every cell.

    lines: (k, 2, 2) in lattice units round the pinhole, such that those of neighbours join; dots: their width.
    """

    colour: str
    tint: str
    lines: FloatArray
    dot: float = 0.0


def _strokes(*ends: tuple[float, float, float, float]) -> FloatArray:
    return np.array(ends, dtype=np.float64).reshape(-1, 2, 2)


# The cell of a pinhole is the diamond |dx| + |dy| <= 1.
SIGNS = {
    PinholeChange.SAME: Sign(_BOTH, _BOTH, _strokes()),
    PinholeChange.GAINED: Sign("#005a91", "#0072b2", _strokes()),
    PinholeChange.LOST: Sign("#a84300", "#f6cdb0", _strokes((-0.75, -0.25, 0.25, 0.75), (-0.25, -0.75, 0.75, 0.25))),
    PinholeChange.ALIKE: Sign(
        "#8a3f6d", "#efcfe0", _strokes((0, -1, 0, 1), (-0.5, -0.5, -0.5, 0.5), (0.5, -0.5, 0.5, 0.5))
    ),
    PinholeChange.FILLING: Sign("#00664b", "#cdebe0", _strokes(), dot=0.62),
}


@dataclass(frozen=True)
class DifferenceLine:
    """One line of the legend. change: SAME for blocks that stay. words: what it means; amount: how much there is."""

    change: PinholeChange
    words: str
    amount: str


def draw(
    found: Differences,
    *,
    title: str,
    note: str,
    names: tuple[str, str],
    captions: tuple[list[str], list[str]],
    legend: Sequence[DifferenceLine],
    told: Sequence[tuple[str, str, str]],
    look: str = "drawing",
    paper: str = "a4",
) -> Figure:
    """One page. names: what the two squares are called; captions: their facts, each a few words.

    legend: the changes to explain. told: rows of a small table, a heading and what holds for each square.
    KeyError if the look or the paper is unknown.
    """
    with house_rules():
        scale = PAPERS.get(paper, PAPERS["a4"])[0] / _WIDTH if paper != "screen" else 1.0
        figure, axes = new_page(_WIDTH, _HEIGHT, _DOTS)
        figure.set_size_inches(*(figure.get_size_inches() * scale))
        room = _WIDTH - 2 * _MARGIN
        put_text(axes, _MARGIN, _MARGIN + 5.5, _TITLE.fitted(title, room), _TITLE)
        put_text(axes, _MARGIN, _MARGIN + 11.0, _NOTE.fitted(note, room), _NOTE)
        lowest = 0.0
        reach = max(extent(found.first), extent(found.second))
        for place, design in enumerate((found.first, found.second)):
            x = _MARGIN + place * (_SIDE + _GAP)
            _picture(axes, design, (x + _SIDE / 2, _MARGIN + _HEAD + _SIDE / 2), _SIDE / 2 / reach, look)
            bottom = _caption(axes, x, _MARGIN + _HEAD + _SIDE, names[place], captions[place])
            lowest = max(lowest, bottom)
        top = lowest + 4.0
        _panel(axes, found, (_MARGIN + _PANEL / 2, top + _PANEL / 2), _PANEL / 2 / reach)
        _legend(axes, _MARGIN + _PANEL + 6.0, top + 3.0, names, legend, told)
        return figure


def _picture(axes: Axes, design: Design, middle: tuple[float, float], scale: float, look: str) -> None:
    LOOKS[look](axes, design, Affine2D().scale(scale).translate(*middle), None)


def _caption(axes: Axes, x: float, y: float, name: str, facts: list[str]) -> float:
    """The name and the facts of a square; where the last line stands."""
    line = y + 5.0
    put_text(axes, x, line, _NUMBER.fitted(name, _SIDE), _NUMBER)
    for words in wrapped(facts, _SIDE, _SIDE, _WORDS.width):
        line += 1.5 * _WORDS.size * MM_PER_POINT
        put_text(axes, x, line, words, _WORDS)
    return line


# --- the panel ------------------------------------------------------------------------------------------


def _panel(axes: Axes, found: Differences, middle: tuple[float, float], scale: float) -> None:
    layout = lay(found.smaller)
    pencil = bent(Pencil(axes, Affine2D().scale(scale).translate(*middle)), found.smaller, layout.piece)
    for form in dict.fromkeys((found.first.form, found.second.form)):
        if form.repeating is None or form == found.smaller.form:
            _frame(pencil, form)
    places = layout.piece.pinholes.astype(np.float64)
    unchanged = (found.change == PinholeChange.SAME) & ~layout.inside
    pencil.stroke(paths.dots(places[unchanged]), 0.28, _PINHOLE)
    for change, sign in SIGNS.items():
        there = found.solid if change is PinholeChange.SAME else found.change == change
        _sign(pencil, sign, places[there], _area(found, there))
    first = lay(_as_long(found.first, found.smaller))
    pencil.stroke(paths.rings(block_outlines(first, first.inside)), 0.16, _OUTLINE)


def _as_long(design: Design, other: Design) -> Design:
    """A strip with as many repeats as the shorter one."""
    strip = other.form.repeating
    if strip is not None and design.form != strip:
        return unrolled(repeat_of(design).design, strip)
    return design


def _sign(pencil: Pen, sign: Sign, places: FloatArray, area: Path) -> None:
    pencil.fill(area, sign.tint)
    if len(sign.lines) and len(places):
        ends = places[:, None, None, :] + sign.lines[None]
        pencil.stroke(paths.lines(ends.reshape(-1, 2, 2)), 0.2, sign.colour, capstyle="butt")
    if sign.dot:
        pencil.stroke(paths.dots(places), sign.dot, sign.colour)
    pencil.stroke(area, 0.12, sign.colour)


def _frame(pencil: Pen, form: Form) -> None:
    """The edges of a piece: a line round the cells of its outer pins, one inside those of an opening."""
    left, top, right, bottom = form.box
    found = [_ring(left - 1.0, top - 1.0, right + 1.0, bottom + 1.0)]
    if form.has_opening:
        wide, high = form.opening
        found.append(_ring(1.0 - wide, 1.0 - high, wide - 1.0, high - 1.0))
    pencil.stroke(paths.rings(found), 0.12, _EDGE)


def _ring(left: float, top: float, right: float, bottom: float) -> FloatArray:
    return np.array([(left, top), (right, top), (right, bottom), (left, bottom)])


def _area(found: Differences, which: BoolArray) -> Path:
    """The cells of a mask of pinholes, as far as they lie within the square."""
    piece = found.smaller.piece()
    return paths.rings(outlines(piece.pinholes, piece.neighbours, np.where(which, 0, -1)))


# --- the legend -----------------------------------------------------------------------------------------


def _legend(
    axes: Axes,
    x: float,
    y: float,
    names: tuple[str, str],
    entries: Sequence[DifferenceLine],
    told: Sequence[tuple[str, str, str]],
) -> None:
    put_text(axes, x, y, "Where they differ", _BOLD)
    y += 4.0
    for entry in entries:
        _swatch(axes, SIGNS[entry.change], x, y + 1.0)
        put_text(axes, x + 14.0, y + 2.2, _WORDS.fitted(entry.words, _WIDTH - x - 19.0), _WORDS)
        put_text(axes, x + 14.0, y + 6.0, entry.amount, _NOTE)
        y += 11.0
    _outline_entry(axes, x, y, names[0])
    y += 12.0
    if not told:
        return
    columns = (x, x + 20.0, x + 41.0)
    for row, style in (("", *names), _BOLD), *((row, _WORDS) for row in told):
        for place, words in zip(columns, row, strict=True):
            put_text(axes, place, y, style.fitted(words, 20.0), style)
        y += 4.6


def _outline_entry(axes: Axes, x: float, y: float, name: str) -> None:
    Pencil(axes).stroke(paths.lines(np.array([[(x, y + 1.0), (x + 12.0, y + 1.0)]])), 0.5, _OUTLINE)
    words = f"outline of the blocks of {name}"
    put_text(axes, x + 14.0, y + 2.2, _WORDS.fitted(words, _WIDTH - x - 19.0), _WORDS)


def _swatch(axes: Axes, sign: Sign, x: float, y: float) -> None:
    """Three cells of a sign, as large on every page."""
    pencil = Pencil(axes, Affine2D().scale(2.0).translate(x + 6.0, y + 1.0))
    places = np.array([(-2.0, 0.0), (0.0, 0.0), (2.0, 0.0)])
    cells = [place + np.array([(0, -1), (1, 0), (0, 1), (-1, 0)]) for place in places]
    _sign(pencil, sign, places, paths.rings(cells))

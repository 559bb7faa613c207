"""The exhibition sheet: the pieces of a series as they hang, in their order, all to one scale."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.transforms import Affine2D

from constraints.design import Design
from gallery.looks import lace
from gallery.looks.bent import half_sides
from gallery.looks.excerpt import excerpt, shown
from gallery.paper.page import PAPERS, Type, house_rules, new_page, put_text
from gallery.paper.paths import Pencil, rings
from gallery.paper.setting import fit, leading, put_lines
from gallery.sheets.captions import BETWEEN

# A screen's wall is broad; paper stands upright. mm, and dots to an inch.
_SIZES = {**{name: (*size, 200) for name, size in PAPERS.items()}, "screen": (440.0, 292.0, 130)}
_MARGIN, _HEADER, _GAP = 14.0, 24.0, 11.0
_TALL = 4.0  # a longer strip hangs in part
_NARROW = 0.45  # of its longer side: a narrower piece has so much room for its caption
_MOUNT = 0.035  # of a square's side, round it
_WALL, _BOARD, _SHADOW, _FRAME = "#f1ede4", "#fdfcf9", "#d9d2c3", "#b9b09d"
_INK, _SOFT = "#2a2d33", "#5d626c"


@dataclass(frozen=True)
class _Hanging:
    """Where the pieces hang, mm. side: the longer one of the largest with its mount; broad, tall: of the room that the
    broadest and the tallest take; scale: mm a mm of lace."""

    width: float
    height: float
    dots: int
    columns: int
    count: int
    side: float
    broad: float
    tall: float
    scale: float
    title: Type
    words: Type

    def centre(self, place: int) -> tuple[float, float]:
        """Where a square hangs; the rows stand in the middle of the wall, a short last one too."""
        row, column = divmod(place, self.columns)
        beside = min(self.columns, self.count - row * self.columns)
        middle = self.width / 2 + (column - (beside - 1) / 2) * self._across
        return middle, self._first + row * self._down + self.tall / 2

    @property
    def room(self) -> float:
        """What a caption may take across."""
        return max(self.broad + 0.6 * _GAP, min(self._across - 0.4 * _GAP, self.side))

    @property
    def _across(self) -> float:
        return min((self.width - 2 * _MARGIN + _GAP) / self.columns, max(self.broad, _NARROW * self.side) + 3 * _GAP)

    @property
    def top(self) -> float:
        """Where the head begins: what is left of the page stands above and below, a little more below."""
        return self._first - _HEADER

    @property
    def _rows(self) -> int:
        return -(-self.count // self.columns)

    @property
    def _down(self) -> float:
        room = (self.height - 2 * _MARGIN - _HEADER) / self._rows
        return min(room, self.tall + _below(self.title) + 1.6 * _GAP)

    @property
    def _first(self) -> float:
        left = self.height - 2 * _MARGIN - _HEADER - self._rows * self._down
        return _MARGIN + _HEADER + 0.45 * left


def wall(
    designs: Sequence[Design],
    titles: Sequence[str],
    told: Sequence[str],
    *,
    title: str,
    note: str,
    paper: str = "a3",
    detailed: bool | None = None,
) -> list[Figure]:
    """One page with the squares in reading order, each with its title and what is told of it.

    title, note: at the head. detailed: as a look takes it. KeyError if the paper is unknown (a4, a3, screen).
    """
    with house_rules():
        hung = _hanging(designs, paper)
        figure, axes = new_page(hung.width, hung.height, hung.dots)
        _panel(axes, 0, 0, hung.width, hung.height, _WALL)
        _head(axes, hung, title, note)
        for place, design in enumerate(designs):
            _hang(axes, hung, place, design, detailed)
            part = shown(design, _TALL)
            _caption(axes, hung, place, titles[place], told[place] + (f"{BETWEEN}{part}" if part else ""))
        return [figure]


def _hanging(designs: Sequence[Design], paper: str) -> _Hanging:
    """The columns that show the pieces largest."""
    width, height, dots = _SIZES[paper]
    every = np.array([half_sides(excerpt(design, _TALL)) * design.pitch_mm for design in designs]).max(axis=0)
    reach = float(every.max())
    # Of the longer side with its mount: what the broadest and the tallest take.
    broad, tall = (float(each) * (1 - 2 * _MOUNT) + 2 * _MOUNT for each in every / reach)
    best = (0.0, 0)
    for columns in range(1, len(designs) + 1):
        rows = -(-len(designs) // columns)
        high = (height - 2 * _MARGIN - _HEADER) / rows - _GAP / 2
        side = min(((width - 2 * _MARGIN + _GAP) / columns - _GAP) / max(broad, _NARROW), high / tall)
        side = min(side, (high - _below(_title(side))) / tall)
        best = max(best, (side, -columns))
    side, columns = best[0], -best[1]
    scale = side * (1 - 2 * _MOUNT) / (2 * reach)
    title = _title(side)
    words = Type(0.72 * title.size, colour=_SOFT)
    return _Hanging(width, height, dots, columns, len(designs), side, broad * side, tall * side, scale, title, words)


def _title(side: float) -> Type:
    return Type(min(12.0, max(6.5, 0.13 * side)), family="serif", colour=_INK)


def _below(title: Type) -> float:
    return 2.4 * leading(title)


def _hang(axes: Axes, hung: _Hanging, place: int, design: Design, detailed: bool | None) -> None:
    x, y = hung.centre(place)
    drawn, unit = excerpt(design, _TALL), design.pitch_mm * hung.scale
    wide, high = (half_sides(drawn) * unit + _MOUNT * hung.side).tolist()
    _panel(axes, x - wide + 0.9, y - high + 1.1, 2 * wide, 2 * high, _SHADOW)
    _panel(axes, x - wide, y - high, 2 * wide, 2 * high, _FRAME)
    _panel(axes, x - wide + 0.3, y - high + 0.3, 2 * wide - 0.6, 2 * high - 0.6, _BOARD)
    lace.draw(axes, drawn, Affine2D().scale(unit).translate(x, y), detailed)


def _caption(axes: Axes, hung: _Hanging, place: int, title: str, told: str) -> None:
    x, y = hung.centre(place)
    room = hung.room
    style, lines = _titled(title, hung.title, room)
    # Below the largest, so that the captions of a row stand on one line; two lines share the room of one.
    line = y + hung.tall / 2 + 1.15 * leading(hung.title)
    first = line - (len(lines) - 1) * 0.75 * leading(style)
    put_lines(axes, x, first, lines, style, "center")
    put_text(axes, x, line + leading(hung.title) * 0.95, hung.words.fitted(told, room), hung.words, "center")


def _titled(title: str, style: Type, room: float) -> tuple[Type, list[str]]:
    """A title on one line, smaller if need be; where that would cut it, smaller still on two."""
    sized, lines = fit(title, style, room, 0.6 * style.size)
    if lines == [" ".join(title.split())]:
        return sized, lines
    return fit(title, sized, room, 0.75 * sized.size, 2)


def _head(axes: Axes, hung: _Hanging, title: str, note: str) -> None:
    room = hung.width - 2 * _MARGIN
    style, lines = fit(title, Type(26, family="serif", colour=_INK), room, 13)
    put_lines(axes, hung.width / 2, hung.top + 8.5, lines, style, "center")
    style, lines = fit(note, Type(9.5, colour=_SOFT), room, 6.5)
    put_lines(axes, hung.width / 2, hung.top + 15.5, lines, style, "center")


def _panel(axes: Axes, x: float, y: float, width: float, height: float, colour: str) -> None:
    corners = np.array([(x, y), (x + width, y), (x + width, y + height), (x, y + height)])
    Pencil(axes).fill(rings([corners]), colour)

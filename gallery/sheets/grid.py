"""Where the squares of a sheet stand: as large as the paper lets them, in rows that differ by one square at most."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from constraints.design import Design
from gallery.looks.excerpt import TALL, excerpt
from gallery.looks.named import proportions
from gallery.paper.page import PAPERS, Type
from gallery.paper.setting import leading

# All in millimetres.
MARGIN, GAP_ACROSS, GAP_DOWN = 10.0, 4.0, 3.5
_SCREEN_SIDES, _SCREEN_COLUMNS, _SCREEN_WIDE, _NARROWEST = (56.0, 150.0), 6, 210.0, 130.0
_SCREEN_SHAPE = 1.4  # a screen is so much wider than high
PAPER_DOTS, SCREEN_DOTS = 200, 150  # to an inch, where a page becomes pixels
# Rows stand no farther apart than this.
_FARTHEST = 12.0
# What is left of the page stands above the squares and below them, a little more below.
_ABOVE = 0.4
# Columns are no wider than so many pictures, nor narrower than captions need, mm.
_WIDEST, _CAPTION = 1.4, 50.0
# Columns in which captions would be cut come after all others: more than any side, mm.
_CRAMPED = 1000.0
# Rows that are not all of one length count as squares so much smaller.
_UNEVEN = 0.85
# Captions are read at arm's length: points.
SMALLEST, LARGEST = 8.0, 10.0


@dataclass(frozen=True)
class SheetLayout:
    """Where the squares of a page stand. side: the longer one of a picture; high: its height; cell: the room across of
    a picture with its caption; down: from one row to the next, all mm. words: of the captions.

    columns: squares in the longest row. beside: room kept free at the left of every row, which then begins there;
    without it rows stand in the middle of the page. top: where the first row begins.
    """

    width: float
    height: float
    dots: int
    columns: int
    cell: float
    side: float
    high: float
    down: float
    words: Type
    top: float
    beside: float = 0.0

    def middle(self, place: int, count: int) -> tuple[float, float]:
        """The middle of the picture at a place of a page with so many, mm."""
        row, before = 0, 0
        rows = balanced(count, self.columns)
        while place >= before + rows[row]:
            before += rows[row]
            row += 1
        left = MARGIN + self.beside if self.beside else (self.width - rows[row] * self.cell) / 2
        return left + (place - before + 0.5) * self.cell, self.top + row * self.down + self.high / 2

    @property
    def room(self) -> float:
        """How wide a line of a caption may be, mm."""
        return self.cell - GAP_ACROSS


@dataclass(frozen=True)
class Around:
    """What a page has beside its squares. head, foot: their heights on a page so wide, mm. lines: how many lines a
    caption takes in a room so wide, in a type. least: how wide a caption is at the least."""

    head: Callable[[float], float]
    foot: Callable[[float], float]
    lines: Callable[[float, Type], int]
    least: Callable[[Type], float]


def balanced(count: int, columns: int) -> list[int]:
    """So many squares in as few rows as columns allow, as even as can be, the longer rows first."""
    rows = max(1, -(-count // columns))
    least, longer = divmod(count, rows)
    return [least + 1] * longer + [least] * (rows - longer)


def pages_of(count: int, most: int) -> list[int]:
    """So many squares on as few pages of at most so many as there may be, as even as can be."""
    return balanced(count, max(1, most)) if count else []


def shape_of(designs: Sequence[Design]) -> tuple[float, float]:
    """Width and height of a box that holds the picture of each, as shares of the longer side."""
    every = [proportions(excerpt(design, TALL)) for design in designs]
    return max(wide for wide, _ in every), max(high for _, high in every)


def fitting(count: int, paper: str, shape: tuple[float, float], around: Around) -> SheetLayout:
    """The layout of a page with so many squares. shape: as `shape_of` has it. KeyError if the paper is unknown."""
    if paper == "screen":
        every = [_on_screen(count, columns, shape, around) for columns in range(1, min(_SCREEN_COLUMNS, count) + 1)]
    else:
        every = [_on_paper(count, columns, paper, shape, around) for columns in range(1, count + 1)]
    return max(every, key=lambda each: each[0])[1]


def words_below(side: float) -> Type:
    """The type of the captions below pictures of a side."""
    return Type(min(LARGEST, max(SMALLEST, 0.12 * side)), narrow=True)


def room_below(words: Type, lines: int) -> float:
    """The room for a caption of so many lines, and the gap to the next row."""
    return lines * leading(words) + 1.0 + GAP_DOWN


def _worth(count: int, columns: int) -> float:
    rows = balanced(count, columns)
    return 1.0 if rows[0] == rows[-1] else _UNEVEN


def _on_paper(
    count: int, columns: int, paper: str, shape: tuple[float, float], around: Around
) -> tuple[float, SheetLayout]:
    """The squares as large as they can be in so many columns, and what that is worth."""
    width, height = PAPERS[paper]
    wide, high = shape
    rows = balanced(count, columns)
    cell, top = (width - 2 * MARGIN) / rows[0], MARGIN + around.head(width)
    room = (height - MARGIN - around.foot(width) - top) / len(rows)
    side = (cell - GAP_ACROSS) / wide
    for _ in range(4):
        words = words_below(side)
        below = room_below(words, around.lines(cell - GAP_ACROSS, words))
        side = min((cell - GAP_ACROSS) / wide, max(0.0, room - below) / high)
    cramped = cell - GAP_ACROSS < around.least(words)
    cell = min(cell, max(_WIDEST * side * wide, side * wide + GAP_ACROSS, _CAPTION))
    down = min(room, side * high + below + _FARTHEST)
    top += _ABOVE * (room - down) * len(rows)
    layout = SheetLayout(width, height, PAPER_DOTS, rows[0], cell, side, side * high, down, words, top)
    return side * _worth(count, columns) - (_CRAMPED if cramped else 0.0), layout


def _on_screen(count: int, columns: int, shape: tuple[float, float], around: Around) -> tuple[float, SheetLayout]:
    """The squares in so many columns on a page cut to fit them, and how near that comes to the shape of a screen."""
    wide, high = shape
    rows = balanced(count, columns)
    least, most = _SCREEN_SIDES
    side = max(least, min(most, _SCREEN_WIDE / rows[0])) / max(wide, high)
    cell = max(side * wide, least, around.least(words_below(side))) + GAP_ACROSS
    width = max(_NARROWEST, 2 * MARGIN + rows[0] * cell)
    words = words_below(side)
    down = side * high + room_below(words, around.lines(cell - GAP_ACROSS, words))
    top = MARGIN + around.head(width)
    height = top + len(rows) * down + around.foot(width) + MARGIN
    layout = SheetLayout(width, height, SCREEN_DOTS, rows[0], cell, side, side * high, down, words, top)
    return _worth(count, columns) - abs(math.log(width / height / _SCREEN_SHAPE)), layout

"""Sheets of rows: a heading, what is told beside it, and a few squares."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure

from constraints.design import Design
from constraints.stamp import Stamp
from gallery.paper.page import PAPERS, Type, house_rules, new_page, put_text
from gallery.paper.paths import Pencil, lines
from gallery.paper.setting import broken_lines, leading
from gallery.sheets import legend
from gallery.sheets.captions import told_apart
from gallery.sheets.grid import (
    GAP_ACROSS,
    MARGIN,
    PAPER_DOTS,
    SCREEN_DOTS,
    SheetLayout,
    room_below,
    shape_of,
    words_below,
)
from gallery.sheets.heading import NOTE, Heading
from gallery.sheets.legend import Sample, samples
from gallery.sheets.placed import Caption, captions_of, lines_of, names_told, picture, put_caption
from gallery.sheets.sheet import NUMBER_AT

# All in millimetres.
_BESIDE, _SCREEN_WIDTH = 41.0, 260.0
_AIR = 3.0
_RULE = "#dfe1e5"
_HEADING, _WORDS = Type(14.0, bold=True, family="serif"), Type(8.5)


@dataclass(frozen=True)
class SheetRow:
    """heading: a few words, large. told: lines beside the squares, wrapped where they are long.

    instead: what is told where there is no square.
    """

    heading: str
    told: Sequence[str]
    designs: Sequence[Design] = ()
    instead: str = ""


def row_sheet(
    rows: Sequence[SheetRow],
    *,
    title: str,
    look: str = "drawing",
    paper: str = "a4",
    note: str = "",
    stamps: Sequence[Stamp] = (),
) -> list[Figure]:
    """Pages of rows, as many to a page as fit; all on one page of `screen`. Without rows there is no page.

    KeyError if the look or the paper is unknown.
    """
    if not rows:
        return []
    with house_rules():
        return _fitted(rows, paper, Heading(title, note, tuple(stamps)), look).drawn()


def page_count(rows: Sequence[SheetRow], paper: str, stamps: Sequence[Stamp]) -> int:
    """How many pages `row_sheet` makes of the rows."""
    return len(_fitted(rows, paper, Heading("", "", tuple(stamps)), "drawing").pages) if rows else 0


def _wrapped(words: str, style: Type, room: float) -> list[str]:
    """Words in lines no wider than the room, mm; a word that is wider is shortened, and none take no line."""
    return [style.fitted(line, room) for line in broken_lines(words, style, room) if line]


@dataclass(frozen=True, eq=False)
class _RowSheet:
    """All pages. captions: of every square, by row. names: of the facts that they tell."""

    rows: Sequence[SheetRow]
    heading: Heading
    captions: Sequence[Sequence[Caption]]
    names: Sequence[str]
    legend: Sequence[Sample]
    look: str
    grid: SheetLayout
    endless: bool

    def drawn(self) -> list[Figure]:
        # Full pages are filled, and the last one is spaced like them.
        every = self.pages
        spread = min(((self.grid.height - self._height(page)) / len(page) for page in every[:-1]), default=0.0)
        return [
            self._page(page, spread, f"{number} of {len(every)}" if len(every) > 1 else "")
            for number, page in enumerate(every, 1)
        ]

    @property
    def pages(self) -> list[list[int]]:
        """The rows of each page, by their places."""
        pages: list[list[int]] = []
        for row in range(len(self.rows)):
            if pages and (self.endless or self._height([*pages[-1], row]) <= self.grid.height):
                pages[-1].append(row)
            else:
                pages.append([row])
        return pages

    def _page(self, rows: Sequence[int], spread: float, which: str) -> Figure:
        grid = self.grid
        tall = self._height(rows) if self.endless else grid.height
        figure, axes = new_page(grid.width, tall, grid.dots)
        self.heading.draw(axes, grid.width)
        legend.draw(axes, self.legend, self.look, False, grid.width, tall)
        put_text(axes, grid.width - MARGIN, tall - NUMBER_AT, which, NOTE, align="right")
        top = grid.top
        for row in rows:
            self._row(axes, row, top)
            top += self._tall(row) + spread
        return figure

    def _told(self, row: SheetRow) -> list[str]:
        return [line for words in row.told for line in _wrapped(words, _WORDS, _BESIDE - _AIR)]

    def _instead(self, row: SheetRow) -> list[str]:
        room = self.grid.width - 2 * MARGIN - _BESIDE
        return _wrapped(row.instead, _WORDS, room) if not row.designs else []

    def _tall(self, number: int) -> float:
        row, line = self.rows[number], leading(_WORDS)
        beside = leading(_HEADING) + line * (len(self._told(row)) + 0.5)
        below = self.grid.down if row.designs else leading(_HEADING) + line * len(self._instead(row))
        return max(beside, below) + _AIR

    def _height(self, rows: Sequence[int]) -> float:
        foot = legend.height(self.legend, self.grid.width) + MARGIN
        return self.grid.top + sum(map(self._tall, rows)) + foot

    def _row(self, axes: Axes, number: int, top: float) -> None:
        row, grid = self.rows[number], replace(self.grid, top=top)
        Pencil(axes).stroke(lines(np.array([[(MARGIN, top - 1.5), (grid.width - MARGIN, top - 1.5)]])), 0.2, _RULE)
        y = top + 0.75 * leading(_HEADING)
        put_text(axes, MARGIN, y, row.heading, _HEADING)
        for below, words in enumerate(self._told(row), 1):
            put_text(axes, MARGIN, y + 0.6 + below * leading(_WORDS), words, _WORDS)
        for below, words in enumerate(self._instead(row)):
            put_text(axes, MARGIN + _BESIDE, y + below * leading(_WORDS), words, _WORDS)
        for place, (design, caption) in enumerate(zip(row.designs, self.captions[number], strict=True)):
            at = grid.middle(place, grid.columns)
            picture(axes, grid, at, design, self.look, detailed=False)
            put_caption(axes, grid, at, caption, self.names)


def _fitted(rows: Sequence[SheetRow], paper: str, heading: Heading, look: str) -> _RowSheet:
    """Room for as many squares as the fullest row has, four at the least. What each row tells, captions do not."""
    designs = [design for row in rows for design in row.designs]
    told = told_apart(designs, heading.stamps, silent=("pairs", "size", "pitch"))
    every = captions_of(designs, told, (), ())
    columns = max([4, *(len(row.designs) for row in rows)])
    width, height = PAPERS[paper] if paper != "screen" else (_SCREEN_WIDTH, 0.0)
    cell = (width - 2 * MARGIN - _BESIDE) / columns
    wide, high = shape_of(designs) if designs else (1.0, 1.0)
    side = (cell - GAP_ACROSS) / wide
    words = words_below(side)
    names, left_out = names_told(every, cell - GAP_ACROSS, words)
    head = heading.with_more(told.at_head).listing(told, left_out)
    grid = SheetLayout(
        width, height, SCREEN_DOTS if paper == "screen" else PAPER_DOTS, columns, cell, side, side * high,
        side * high + room_below(words, lines_of(every, cell - GAP_ACROSS, words)), words,
        MARGIN + head.height(width), _BESIDE,
    )  # fmt: skip
    held = iter(every)
    captions = [[next(held) for _ in row.designs] for row in rows]
    return _RowSheet(rows, head, captions, names, samples(designs, False), look, grid, paper == "screen")

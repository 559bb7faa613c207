"""Sheets of rows: a heading, what is told beside it, and a few squares."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure

from constraints.design import Design
from constraints.stamp import Stamp
from gallery.looks.excerpt import shown
from gallery.paper.page import PAPERS, Type, house_rules, new_page, put_text
from gallery.paper.paths import Pencil, lines
from gallery.paper.setting import broken_lines, leading
from gallery.sheets.captions import further
from gallery.sheets.sheet import (
    FOOTER,
    GAP_ACROSS,
    HEADER,
    MARGIN,
    PAPER_DOTS,
    SCREEN_DOTS,
    TALL,
    SheetLayout,
    caption,
    caption_lines,
    foot,
    head,
    picture,
    room_below,
    words_below,
)

# All in millimetres.
_BESIDE, _SCREEN_WIDTH = 41.0, 260.0
_AIR = 3.0
_RULE = "#dfe1e5"


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
    stamp: Stamp | None = None,
) -> list[Figure]:
    """Pages of rows, as many to a page as fit; all on one page of `screen`. Without rows there is no page.

    KeyError if the look or the paper is unknown.
    """
    with house_rules():
        grid = _grid(rows, paper)
        pages = _paged(rows, grid, paper)
        # Full pages are filled, and the last one is spaced like them.
        spread = min(((grid.height - _height(page, grid)) / len(page) for page in pages[:-1]), default=0.0)
        figures = []
        for number, page in enumerate(pages, 1):
            tall = grid.height if paper != "screen" else _height(page, grid)
            figure, axes = new_page(grid.width, tall, grid.dots)
            sized = replace(grid, height=tall)
            head(axes, grid.width, title, note, stamp)
            drawn = [design for row in page for design in row.designs]
            count = f"{number} of {len(pages)}" if len(pages) > 1 else ""
            foot(axes, sized, drawn if look == "drawing" else (), count)
            top = MARGIN + HEADER
            for row in page:
                _row(axes, sized, row, top, look)
                top += _tall(row, grid) + spread
            figures.append(figure)
        return figures


def page_count(rows: Sequence[SheetRow], paper: str) -> int:
    """How many pages `row_sheet` makes of the rows."""
    return len(_paged(rows, _grid(rows, paper), paper))


def told_of(design: Design) -> list[str]:
    """The facts of a square that its row does not tell: pairs, size and pitch stand beside it."""
    return further(design, shown(design, TALL))


def _grid(rows: Sequence[SheetRow], paper: str) -> SheetLayout:
    """A grid with a column for every square of the fullest row, four at the least."""
    columns = max([4, *(len(row.designs) for row in rows)])
    width, height = PAPERS[paper] if paper != "screen" else (_SCREEN_WIDTH, 0.0)
    # Captions reach half a gap beyond their squares.
    side = (width - 2 * MARGIN - _BESIDE + GAP_ACROSS / 2) / columns - 1.5 * GAP_ACROSS
    dots = SCREEN_DOTS if paper == "screen" else PAPER_DOTS
    grid = SheetLayout(width, height, dots, columns, side, side, words_below(side), _BESIDE)
    lines_told = [caption_lines(grid, told_of(design)) for row in rows for design in row.designs]
    return replace(grid, down=side + room_below(side, max(lines_told, default=1)))


def _heading(grid: SheetLayout) -> Type:
    return Type(min(14.0, grid.words.size * 2.0), bold=True, family="serif")


def _words(grid: SheetLayout) -> Type:
    return Type(min(8.5, grid.words.size * 1.25))


def _wrapped(words: str, style: Type, room: float) -> list[str]:
    """Words in lines no wider than the room, mm; a word that is wider is shortened, and none take no line."""
    return [style.fitted(line, room) for line in broken_lines(words, style, room) if line]


def _told(row: SheetRow, grid: SheetLayout) -> list[str]:
    room = _BESIDE - _AIR
    return [line for words in row.told for line in _wrapped(words, _words(grid), room)]


def _instead(row: SheetRow, grid: SheetLayout) -> list[str]:
    room = grid.width - 2 * MARGIN - _BESIDE
    return _wrapped(row.instead, _words(grid), room) if not row.designs else []


def _tall(row: SheetRow, grid: SheetLayout) -> float:
    line = leading(_words(grid))
    beside = leading(_heading(grid)) + line * (len(_told(row, grid)) + 0.5)
    below = grid.down if row.designs else leading(_heading(grid)) + line * len(_instead(row, grid))
    return max(beside, below) + _AIR


def _height(page: Sequence[SheetRow], grid: SheetLayout) -> float:
    return 2 * MARGIN + HEADER + FOOTER + sum(_tall(row, grid) for row in page)


def _paged(rows: Sequence[SheetRow], grid: SheetLayout, paper: str) -> list[list[SheetRow]]:
    pages: list[list[SheetRow]] = []
    for row in rows:
        if pages and (paper == "screen" or _height([*pages[-1], row], grid) <= grid.height):
            pages[-1].append(row)
        else:
            pages.append([row])
    return pages


def _row(axes: Axes, grid: SheetLayout, row: SheetRow, top: float, look: str) -> None:
    Pencil(axes).stroke(lines(np.array([[(MARGIN, top - 1.5), (grid.width - MARGIN, top - 1.5)]])), 0.2, _RULE)
    style, line = _words(grid), leading(_words(grid))
    y = top + 0.75 * leading(_heading(grid))
    put_text(axes, MARGIN, y, row.heading, _heading(grid))
    for number, words in enumerate(_told(row, grid), 1):
        put_text(axes, MARGIN, y + 0.6 + number * line, words, style)
    for number, words in enumerate(_instead(row, grid)):
        put_text(axes, MARGIN + _BESIDE, y + number * line, words, style)
    here = replace(grid, top=top)
    for place, design in enumerate(row.designs):
        picture(axes, here, place, design, look, detailed=False)
        caption(axes, here, place, design.number, told_of(design))

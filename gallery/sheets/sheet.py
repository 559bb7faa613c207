"""Contact sheets: many squares side by side, each with its caption."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.transforms import Affine2D

from constraints.design import Design
from constraints.stamp import Stamp
from gallery.looks.drawing import COLOURS
from gallery.looks.excerpt import excerpt, shown
from gallery.looks.named import LOOKS, extent
from gallery.paper.page import MM_PER_POINT, PAPERS, Type, house_rules, new_page, put_text
from gallery.paper.paths import Pencil, lines, rings
from gallery.paper.setting import leading
from gallery.sheets.captions import facts, stitches_used, wrapped

PER_PAGE = 24

# All in millimetres.
MARGIN, HEADER, FOOTER = 10.0, 17.0, 5.0
GAP_ACROSS, GAP_DOWN = 4.0, 3.5
_STAMP = 15.0
_SCREEN_SIDE, _SCREEN_COLUMNS = 56.0, 6
PAPER_DOTS, SCREEN_DOTS = 200, 150  # to an inch, where a page becomes pixels
# Threads are drawn one by one only where few squares share a page.
FEW = 6
# A longer strip is shown in part, so many times as long as it is wide.
TALL = 1.6

TITLE, NOTE = Type(15, family="serif"), Type(7.5, colour="#5d626c")


@dataclass(frozen=True)
class SheetLayout:
    """Where the squares of a page stand. side, down: the square and from one row to the next, mm.

    beside: room kept free at the left of every row; without it the columns stand in the middle of the page. top:
    where the first row begins.
    """

    width: float
    height: float
    dots: int
    columns: int
    side: float
    down: float
    words: Type
    beside: float = 0.0
    top: float = MARGIN + HEADER

    def corner(self, place: int) -> tuple[float, float]:
        """Top left corner of the square at a place, mm."""
        room = (self.width - 2 * MARGIN - self.beside - self.side) / max(1, self.columns - 1)
        across = min(room, self.side + 3 * GAP_ACROSS)
        centred = (self.width - self.side - (self.columns - 1) * across) / 2
        left = MARGIN + self.beside if self.beside else centred
        return left + (place % self.columns) * across, self.top + (place // self.columns) * self.down


def sheet(
    designs: Sequence[Design],
    *,
    title: str,
    look: str = "drawing",
    paper: str = "a4",
    note: str = "",
    stamp: Stamp | None = None,
    per_page: int = PER_PAGE,
    captions: Sequence[list[str]] | None = None,
) -> list[Figure]:
    """Contact sheets of squares, 24 to a page of A4 or A3, all on one page of `screen`.

    title, note: one line each at the head. stamp: its print is shown beside them. captions: what is told of
    each square in place of the usual facts. KeyError if the look or the
    paper is unknown; without squares there is no page.
    """
    with house_rules():
        on_page = _on_page(len(designs), paper, per_page)
        pages = [designs[i : i + on_page] for i in range(0, len(designs), on_page)]
        told = [told_below(design) for design in designs] if captions is None else list(captions)
        grid = _fitting(min(on_page, len(designs)), paper, told)
        figures = []
        for number, page in enumerate(pages, 1):
            figure, axes = new_page(grid.width, grid.height, grid.dots)
            head(axes, grid.width, title, note, stamp)
            count = f"{number} of {len(pages)}" if len(pages) > 1 else ""
            foot(axes, grid, page if look == "drawing" else (), count)
            for place, design in enumerate(page):
                picture(axes, grid, place, design, look, detailed=None if len(pages[0]) <= FEW else False)
                caption(axes, grid, place, design.number, told[(number - 1) * on_page + place])
            figures.append(figure)
        return figures


def told_below(design: Design) -> list[str]:
    """The facts of a square, and what of it its picture shows."""
    return facts(design, shown(design, TALL))


def page_count(designs: int, paper: str, per_page: int = PER_PAGE) -> int:
    """How many pages `sheet` makes of so many squares."""
    return -(-designs // _on_page(designs, paper, per_page))


def _on_page(designs: int, paper: str, per_page: int) -> int:
    return max(1, designs if paper == "screen" else per_page)


def _fitting(count: int, paper: str, told: Sequence[list[str]]) -> SheetLayout:
    """The grid whose captions have room for everything that is told."""
    lines = 2
    while True:
        grid = _grid(max(1, count), paper, lines)
        needed = max((caption_lines(grid, each) for each in told), default=0)
        if needed <= lines:
            return grid
        lines = needed


def _grid(count: int, paper: str, lines: int) -> SheetLayout:
    """The grid that shows `count` squares largest, with captions of so many lines."""
    if paper == "screen":
        columns = min(_SCREEN_COLUMNS, max(3, count))
        width = 2 * MARGIN + columns * (_SCREEN_SIDE + GAP_ACROSS) - GAP_ACROSS
        down = _SCREEN_SIDE + room_below(_SCREEN_SIDE, lines)
        height = 2 * MARGIN + HEADER + -(-count // columns) * down + FOOTER
        return SheetLayout(width, height, SCREEN_DOTS, columns, _SCREEN_SIDE, down, words_below(_SCREEN_SIDE))
    width, height = PAPERS[paper]
    room, tall = width - 2 * MARGIN, height - 2 * MARGIN - HEADER - FOOTER
    best: SheetLayout | None = None
    for columns in range(1, count + 1):
        down = tall / -(-count // columns)
        side = min((room + GAP_ACROSS) / columns - GAP_ACROSS, _side_within(down, lines))
        if best is None or side > best.side:
            best = SheetLayout(width, height, PAPER_DOTS, columns, side, min(down, 1.5 * side), words_below(side))
    assert best is not None, "a page holds at least one square"
    return best


def words_below(side: float) -> Type:
    """The type of the captions below squares of a side."""
    return Type(min(9.0, max(5.0, 0.15 * side)))


def room_below(side: float, lines: int) -> float:
    """The room for a caption of so many lines, and the gap to the next row."""
    return lines * leading(words_below(side)) + 1.0 + GAP_DOWN


def _side_within(down: float, lines: int) -> float:
    """The side of a square that fills a row of height `down` together with its caption."""
    side = down
    for _ in range(4):
        side = down - room_below(side, lines)
    return side


def picture(axes: Axes, grid: SheetLayout, place: int, design: Design, look: str, detailed: bool | None) -> None:
    """A square in a look at its place of the grid."""
    x, y = grid.corner(place)
    half, drawn = grid.side / 2, excerpt(design, TALL)
    to_page = Affine2D().scale(half / extent(drawn)).translate(x + half, y + half)
    LOOKS[look](axes, drawn, to_page, detailed)


def caption(axes: Axes, grid: SheetLayout, place: int, number: int, told: list[str]) -> None:
    """What is told of a square, under it, the number first."""
    x, y = grid.corner(place)
    line = y + grid.side + leading(grid.words) + 0.3
    put_text(axes, x, line, str(number), _bold(grid))
    for i, words in enumerate(_set(grid, told, str(number))):
        indent = 0 if i else _indent(grid, str(number))
        put_text(axes, x + indent, line + i * leading(grid.words), words, grid.words)


def caption_lines(grid: SheetLayout, told: list[str]) -> int:
    """How many lines the caption of a square takes."""
    return len(_set(grid, told, "000"))


def _set(grid: SheetLayout, told: list[str], number: str) -> list[str]:
    return wrapped(told, grid.side - _indent(grid, number), grid.side, grid.words.width)


def _bold(grid: SheetLayout) -> Type:
    return Type(grid.words.size + 1.0, bold=True)


def _indent(grid: SheetLayout, number: str) -> float:
    """Where the first line begins, beside the number."""
    return _bold(grid).width(number) + 0.6 * grid.words.size * MM_PER_POINT


def head(axes: Axes, width: float, title: str, note: str, stamp: Stamp | None) -> None:
    """Title and note of a page so wide, the print of the stamp beside them."""
    room = width - 2 * MARGIN - (0 if stamp is None else _STAMP + GAP_ACROSS)
    for style, words, y in ((TITLE, title, 5.5), (NOTE, note, 10.5)):
        put_text(axes, MARGIN, MARGIN + y, style.fitted(words, room), style)
    if stamp is not None:
        _print(axes, stamp, width - MARGIN - _STAMP, MARGIN - 2.0)


def _print(axes: Axes, stamp: Stamp, x: float, y: float) -> None:
    """The print of the stamp, in a square of _STAMP mm."""
    shape = stamp.placed(_STAMP / 2, 0.0, (x + _STAMP / 2, y + _STAMP / 2))
    ring = [shapely.get_coordinates(r)[:-1] for part in shape.geoms for r in (part.exterior, *part.interiors)]
    Pencil(axes).fill(rings(ring), "#2a2d33")


def foot(axes: Axes, grid: SheetLayout, designs: Sequence[Design], page: str) -> None:
    """The stitches that the squares hold, with their colours, and the number of the page."""
    y = grid.height - MARGIN + 2.0
    put_text(axes, grid.width - MARGIN, y, page, NOTE, align="right")
    used = {name for design in designs for name in stitches_used(design)}
    x = MARGIN
    for stitch, (line, _) in COLOURS.items():
        if stitch in used:
            Pencil(axes).stroke(lines(np.array([[(x + 0.5, y - 0.9), (x + 4.0, y - 0.9)]])), 0.9, line)
            put_text(axes, x + 6.0, y, f"{stitch} stitch", NOTE)
            x += 6.0 + NOTE.width(f"{stitch} stitch") + 6.0

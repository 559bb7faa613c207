"""Contact sheets: many squares side by side, each with its caption."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from functools import partial

from matplotlib.figure import Figure

from constraints.design import Design
from constraints.stamp import Stamp
from gallery.looks.named import FINE
from gallery.paper.page import house_rules, new_page, put_text
from gallery.sheets import legend
from gallery.sheets.captions import Told, told_apart
from gallery.sheets.grid import MARGIN, Around, SheetLayout, fitting, pages_of, shape_of
from gallery.sheets.heading import NOTE, Heading
from gallery.sheets.legend import Sample, samples
from gallery.sheets.placed import (
    Caption,
    captions_of,
    least_room,
    lines_of,
    names_told,
    picture,
    points_per_unit,
    put_caption,
)

PER_PAGE = 24
# Threads are drawn one by one only where few squares share a page.
FEW = 6
# Between the lace and the legend, and the number of the page above the end of the paper, mm.
_ABOVE_LEGEND, NUMBER_AT = 3.0, 5.5


def sheet(
    designs: Sequence[Design],
    *,
    title: str,
    look: str = "drawing",
    paper: str = "a4",
    note: str = "",
    stamps: Sequence[Stamp] = (),
    per_page: int = PER_PAGE,
    first: Sequence[str] = (),
    below: Sequence[Sequence[str]] = (),
    silent: Collection[str] = (),
) -> list[Figure]:
    """Contact sheets of squares, at most 24 to a page of A4 or A3 and about as many on each, all on one page of
    `screen`.

    What squares differ in stands under each on one line, what they share once at the head. title, note: one line each
    above that. stamps: their prints are shown beside them. first: words of each square before all others.
    below: further ones of each, a few words each, on lines of their own. silent: the facts of which nothing is told.
    KeyError if the look or the paper is unknown; without squares there is no page.
    """
    if not designs:
        return []
    with house_rules():
        told = told_apart(designs, stamps, silent)
        heading = Heading(title, note, tuple(stamps)).with_more(told.at_head)
        counts = _pages(len(designs), paper, per_page)
        made = _fitted(designs, heading, told, captions_of(designs, told, first, below), max(counts), look, paper)
        figures, start = [], 0
        for number, count in enumerate(counts, 1):
            which = f"{number} of {len(counts)}" if len(counts) > 1 else ""
            figures.append(made.page(start, count, which))
            start += count
        return figures


def page_count(designs: int, paper: str, per_page: int = PER_PAGE) -> int:
    """How many pages `sheet` makes of so many squares."""
    return len(_pages(designs, paper, per_page))


def _pages(count: int, paper: str, per_page: int) -> list[int]:
    return pages_of(count, count if paper == "screen" else per_page)


@dataclass(frozen=True, eq=False)
class _ContactSheet:
    """All pages of a sheet. names: of the facts that captions tell. few: whether squares are drawn in full detail,
    where they are large enough for it."""

    designs: Sequence[Design]
    heading: Heading
    captions: Sequence[Caption]
    names: Sequence[str]
    legend: Sequence[Sample]
    look: str
    few: bool
    grid: SheetLayout

    def page(self, start: int, count: int, which: str) -> Figure:
        """The page with so many squares from a place on. which: its number, in words."""
        grid = self.grid
        figure, axes = new_page(grid.width, grid.height, grid.dots)
        self.heading.draw(axes, grid.width)
        for place in range(count):
            at, design = grid.middle(place, count), self.designs[start + place]
            picture(axes, grid, at, design, self.look, self.detailed(design))
            put_caption(axes, grid, at, self.captions[start + place], self.names)
        legend.draw(axes, self.legend, self.look, any(map(self.detailed, self.designs)), grid.width, grid.height)
        put_text(axes, grid.width - MARGIN, grid.height - NUMBER_AT, which, NOTE, align="right")
        return figure

    def detailed(self, design: Design) -> bool:
        return self.few and points_per_unit(self.grid, design) >= FINE[self.look]


def _foot(held: Sequence[Sample], width: float) -> float:
    return _ABOVE_LEGEND + legend.height(held, width)


def _fitted(
    designs: Sequence[Design],
    heading: Heading,
    told: Told,
    captions: Sequence[Caption],
    count: int,
    look: str,
    paper: str,
) -> _ContactSheet:
    """The sheet with its squares as large as they can be. count: of squares on the fullest page."""
    left_out: list[str] = []
    with_pins = False
    # What captions have no room for is told at the head, and pins in the legend if squares are large; both take room.
    while True:
        held = samples(designs, with_pins)
        head = heading.listing(told, left_out)
        around = Around(head.height, partial(_foot, held), partial(lines_of, captions), partial(least_room, captions))
        grid = fitting(count, paper, shape_of(designs), around)
        names, missed = names_told(captions, grid.room, grid.words)
        names = [name for name in names if name not in left_out]
        made = _ContactSheet(designs, head, captions, names, held, look, count <= FEW, grid)
        pins_seen = look == "drawing" and any(map(made.detailed, designs))
        if set(missed) <= set(left_out) and pins_seen <= with_pins:
            return made
        left_out, with_pins = [*left_out, *(name for name in missed if name not in left_out)], with_pins or pins_seen

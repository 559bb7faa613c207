"""A square at its place on a sheet, and its caption: the number and one line, what else is told below."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from matplotlib.axes import Axes
from matplotlib.transforms import Affine2D

from constraints.design import Design
from gallery.looks.excerpt import TALL, excerpt
from gallery.looks.named import LOOKS, extent
from gallery.paper.page import MM_PER_POINT, Type, put_text
from gallery.paper.setting import leading
from gallery.sheets.captions import BETWEEN, FACTS, Told, wrapped
from gallery.sheets.grid import SheetLayout


@dataclass(frozen=True)
class Caption:
    """first: words before the facts. facts: by name, on one line with the number. below: on lines of their own."""

    number: int
    first: str
    facts: Mapping[str, tuple[str, ...]]
    below: tuple[str, ...]

    def line(self, names: Sequence[str]) -> str:
        """What stands beside the number where these facts are told."""
        told = [", ".join(self.facts[name]) for name in names if name in self.facts]
        return BETWEEN.join([*([self.first] if self.first else []), *told])

    def fits(self, names: Sequence[str], room: float, words: Type) -> bool:
        return _indent(self.number, words) + words.width(self.line(names)) <= room

    def lines_below(self, room: float, words: Type) -> list[str]:
        return wrapped(list(self.below), room, room, words.width) if self.below else []


def captions_of(
    designs: Sequence[Design], told: Told, first: Sequence[str], below: Sequence[Sequence[str]]
) -> list[Caption]:
    """The captions of squares. first: words of each before its facts; below: what else is told of each."""
    count = len(designs)
    return [
        Caption(design.number, words, own, tuple(more))
        for design, words, own, more in zip(
            designs, first or [""] * count, told.own, below or [()] * count, strict=True
        )
    ]


def names_told(captions: Sequence[Caption], room: float, words: Type) -> tuple[list[str], list[str]]:
    """The facts that all captions have room for on their line, mm, and those that are left out of all, in the order of
    the table; one is always told."""
    names = [name for name in FACTS if any(name in each.facts for each in captions)]
    every = list(names)
    while len(names) > 1 and not all(each.fits(names, room, words) for each in captions):
        names.remove(next((name for name in reversed(names) if FACTS[name].pictured), names[-1]))
    # What goes with much may have been in nobody's way.
    for name in every:
        more = [each for each in every if each in names or each == name]
        if all(each.fits(more, room, words) for each in captions):
            names = more
    return names, [name for name in every if name not in names]


def least_room(captions: Sequence[Caption], words: Type) -> float:
    """How wide a line must be that no caption is cut, mm: the number, what stands first and one fact."""
    told = [name for name in FACTS if any(name in each.facts for each in captions)]
    names = ([name for name in told if not FACTS[name].pictured] or told)[:1]
    return max((_indent(each.number, words) + words.width(each.line(names)) for each in captions), default=0.0)


def lines_of(captions: Sequence[Caption], room: float, words: Type) -> int:
    """How many lines the longest caption takes."""
    return 1 + max((len(each.lines_below(room, words)) for each in captions), default=0)


def points_per_unit(grid: SheetLayout, design: Design) -> float:
    """How large a design is drawn: points of a lattice unit."""
    return grid.side / (2 * extent(excerpt(design, TALL))) / MM_PER_POINT


def picture(axes: Axes, grid: SheetLayout, at: tuple[float, float], design: Design, look: str, detailed: bool) -> None:
    """A square in a look, its middle at a place, mm."""
    drawn = excerpt(design, TALL)
    LOOKS[look](axes, drawn, Affine2D().scale(grid.side / 2 / extent(drawn)).translate(*at), detailed)


def put_caption(axes: Axes, grid: SheetLayout, at: tuple[float, float], caption: Caption, names: Sequence[str]) -> None:
    """The caption of a square whose middle is at a place, mm, below it and in the middle too."""
    words, number = grid.words, str(caption.number)
    indent = _indent(caption.number, words)
    line = words.fitted(caption.line(names), grid.room - indent)
    wide = indent + words.width(line) if line else _bold(words).width(number)
    x, y = at[0] - wide / 2, at[1] + grid.high / 2 + leading(words) + 0.3
    put_text(axes, x, y, number, _bold(words))
    if line:
        put_text(axes, x + indent, y, line, words)
    for below in caption.lines_below(grid.room, words):
        y += leading(words)
        put_text(axes, at[0], y, below, words, "center")


def _bold(words: Type) -> Type:
    return replace(words, size=words.size + 1.0, bold=True, narrow=False)


def _indent(number: int, words: Type) -> float:
    """Where the words begin, beside the number."""
    return _bold(words).width(str(number)) + 0.6 * words.size * MM_PER_POINT

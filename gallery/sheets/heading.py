"""The head of a sheet: its title, what was asked, what all squares share, and the prints of the stamps beside them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import shapely
from matplotlib.axes import Axes

from constraints.stamp import Stamp
from gallery.paper.page import Type, put_text
from gallery.paper.paths import Pencil, rings
from gallery.sheets.captions import FACTS, Told, wrapped
from gallery.sheets.grid import GAP_ACROSS, MARGIN

# All in millimetres, baselines from the upper margin. A head with a title and a note alone is HEADER high.
HEADER = 17.0
_TITLE_AT, _NOTE_AT, _LINE = 5.5, 10.7, 4.3
_STAMP, _BETWEEN = 15.0, 4.0

TITLE, NOTE = Type(15, family="serif"), Type(8.5, colour="#5d626c")


@dataclass(frozen=True)
class Heading:
    """title, note: one line each. told: paragraphs of facts below them, in as many lines as they take. stamps: their
    prints are shown at the right."""

    title: str
    note: str
    stamps: tuple[Stamp, ...] = ()
    told: tuple[tuple[str, ...], ...] = ()

    def with_more(self, *told: Sequence[str]) -> Heading:
        """The same with more paragraphs of facts."""
        return replace(self, told=(*self.told, *(tuple(each) for each in told if each)))

    def listing(self, told: Told, names: Sequence[str]) -> Heading:
        """The same with facts that captions have no room for, but for those that the pictures tell too."""
        return self.with_more(*(told.listed(name) for name in names if not FACTS[name].pictured))

    def height(self, width: float) -> float:
        """What it takes on a page so wide, mm."""
        return HEADER + _LINE * len(self._lines(width))

    def draw(self, axes: Axes, width: float) -> None:
        """At the head of a page so wide, mm."""
        for style, words, y in ((TITLE, self.title, _TITLE_AT), (NOTE, self.note, _NOTE_AT)):
            put_text(axes, MARGIN, MARGIN + y, style.fitted(words, self._room(width)), style)
        for number, line in enumerate(self._lines(width), 1):
            put_text(axes, MARGIN, MARGIN + _NOTE_AT + number * _LINE, line, NOTE)
        for number, stamp in enumerate(reversed(self.stamps)):
            _print(axes, stamp, width - MARGIN - _STAMP - number * (_STAMP + _BETWEEN), MARGIN - 2.0)

    def _room(self, width: float) -> float:
        return (
            width - 2 * MARGIN - (len(self.stamps) * (_STAMP + _BETWEEN) - _BETWEEN + GAP_ACROSS if self.stamps else 0)
        )

    def _lines(self, width: float) -> list[str]:
        room = self._room(width)
        return [line for each in self.told for line in wrapped(list(each), room, room, NOTE.width)]


def _print(axes: Axes, stamp: Stamp, x: float, y: float) -> None:
    """The print of the stamp, in a square of _STAMP mm."""
    shape = stamp.placed(_STAMP / 2, 0.0, (x + _STAMP / 2, y + _STAMP / 2))
    ring = [shapely.get_coordinates(r)[:-1] for part in shape.geoms for r in (part.exterior, *part.interiors)]
    Pencil(axes).fill(rings(ring), "#2a2d33")

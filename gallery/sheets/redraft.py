"""An old pricking beside its redraft.

Nothing here knows how a pricking is read: places come in as points in lattice units, column and row.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.transforms import Affine2D

from constraints.lattice import FloatArray, Point
from gallery.paper import paths
from gallery.paper.page import Type, house_rules, new_page, put_text
from gallery.paper.paths import Pencil

# All in millimetres; A4 upright.
WIDTH, HEIGHT, MARGIN, _GAP = 210.0, 297.0, 12.0, 6.0
HEAD = 18.0
DOTS = 200
# Doubtful dots told below a page.
_TOLD = 14
# A lattice unit on paper: no larger than this, and if it would be smaller than the other, rows go on the next page.
_LARGEST, _SMALLEST = 3.6, 1.25

_TITLE, NOTE, _WORDS = Type(15, family="serif"), Type(7.5, colour="#5d626c"), Type(8)
_NUMBER = Type(7, bold=True, colour="#a84300")

INK, _GRID, _RING, OUTSIDE = "#22252b", "#dcdee2", "#d55e00", "#0072b2"

# Dots, half a ring, and lines, in lattice units.
_DOT, _RING_REACH = 0.5, 0.85


@dataclass(frozen=True)
class Doubtful:
    """A dot in doubt. at: where it stands. place: the pinhole it would be. taken: whether it counts. words: why."""

    number: int
    at: tuple[float, float]
    place: Point
    taken: bool
    words: str


@dataclass(frozen=True, eq=False)
class Redrafted:
    """What is drawn beside the original. rows: first and last. outside, centres: pins off the grid."""

    pinholes: FloatArray
    centres: FloatArray
    outside: FloatArray
    doubts: Sequence[Doubtful]
    columns: int
    rows: tuple[int, int]

    @property
    def right(self) -> float:
        """The last column that something stands in."""
        return float(max([self.columns - 1, *self.outside[:, 0].tolist(), *(each.at[0] for each in self.doubts)]))


@dataclass(frozen=True, eq=False)
class Original:
    """The picture, turned to lie like the redraft. extent: columns and rows of its left, right, bottom and top."""

    picture: Any
    extent: tuple[float, float, float, float]


def beside(made: Redrafted, original: Original | None, *, title: str, facts: Sequence[str]) -> list[Figure]:
    """The pages: the original on the left, the redraft on the right, row by row, what is doubtful told below."""
    with house_rules():
        panels = 1 if original is None else 2
        room = (WIDTH - 2 * MARGIN - (panels - 1) * _GAP) / panels
        across = made.right + 3.0
        head = HEAD + 4.0 * len(facts)
        told = 4.2 * min(len(made.doubts), _TOLD) + 8.0
        tall = HEIGHT - 2 * MARGIN - head - told
        down = made.rows[1] - made.rows[0] + 3.0
        unit = min(_LARGEST, room / across, max(tall / down, _SMALLEST))
        rows = made.rows[1] - made.rows[0] + 1
        # As many rows on every page.
        a_page = -(-rows // max(1, -(-rows // max(4, int(tall / unit) - 2))))
        starts = range(made.rows[0], made.rows[1] + 1, a_page)
        pages = []
        for start in starts:
            last = min(start + a_page - 1, made.rows[1])
            name = title if len(starts) == 1 else f"{title}, rows {start} to {last}"
            own = [each for each in made.doubts if start - 1 < each.at[1] <= last + 1 or len(starts) == 1]
            below = MARGIN + head + (last - start + 3.0) * unit + 6.0
            figure, axes = new_page(WIDTH, min(HEIGHT, below + 4.2 * min(len(own), _TOLD + 1) + MARGIN - 6.0), DOTS)
            heading(axes, name, facts)
            for panel in range(panels):
                left = MARGIN + panel * (room + _GAP) + max(0.0, (room - across * unit) / 2)
                place = _PanelScale(left + 1.5 * unit, MARGIN + head + 1.5 * unit, unit, start, last, made.right)
                if original is not None and panel == 0:
                    _original(axes, original, place)
                    _doubts(axes, made, place, bare=True)
                else:
                    _pins(axes, made, place)
                    _doubts(axes, made, place, bare=False)
            _told(axes, own, below)
            pages.append(figure)
        return pages


@dataclass(frozen=True)
class _PanelScale:
    """Where column 0 and row `first` of a panel lie on a page, mm, and how large a lattice unit is."""

    x: float
    y: float
    unit: float
    first: int
    last: int
    right: float

    @property
    def transform(self) -> Affine2D:
        return Affine2D().translate(0, -self.first).scale(self.unit).translate(self.x, self.y)

    def shows(self, points: FloatArray) -> FloatArray:
        rows = points[:, 1]
        return points[(rows > self.first - 1.2) & (rows < self.last + 1.2)]


def heading(axes: Axes, title: str, facts: Sequence[str]) -> None:
    room = WIDTH - 2 * MARGIN
    put_text(axes, MARGIN, MARGIN + 5.5, _TITLE.fitted(title, room), _TITLE)
    for line, words in enumerate(facts):
        put_text(axes, MARGIN, MARGIN + 11.5 + 4.0 * line, NOTE.fitted(words, room), NOTE)


def _original(axes: Axes, original: Original, place: _PanelScale) -> None:
    left, right, bottom, top = original.extent
    x = place.x + np.array([left, right]) * place.unit
    y = place.y + (np.array([bottom, top]) - place.first) * place.unit
    limits = axes.get_xlim(), axes.get_ylim()
    image = axes.imshow(original.picture, extent=(x[0], x[1], y[0], y[1]), aspect="auto", cmap="gray", vmin=0, vmax=255)
    low = place.y - 1.4 * place.unit
    high = place.y + (place.last - place.first + 1.4) * place.unit
    corners = [(x[0], low), (x[1], low), (x[1], high), (x[0], high)]
    image.set_clip_path(paths.rings([np.array(corners)]), axes.transData)
    axes.set_xlim(limits[0])
    axes.set_ylim(limits[1])


def _pins(axes: Axes, made: Redrafted, place: _PanelScale) -> None:
    pencil = Pencil(axes, place.transform)
    ends = []
    for column in range(made.columns):
        ends.append([(column, place.first - 0.8), (column, place.last + 0.8)])
    pencil.stroke(paths.lines(np.array(ends, dtype=np.float64)), 0.05, _GRID)
    pencil.stroke(paths.dots(place.shows(made.pinholes)), _DOT, INK)
    pencil.stroke(paths.dots(place.shows(made.centres)), _DOT, INK)
    hollow(pencil, place.shows(made.outside), _DOT / 2, 0.14, OUTSIDE)


def _doubts(axes: Axes, made: Redrafted, place: _PanelScale, *, bare: bool) -> None:
    """Rings with numbers; beside the original nothing but these, in the redraft dots that count or not."""
    pencil = Pencil(axes, place.transform)
    for each in made.doubts:
        if not place.first - 1.2 < each.at[1] < place.last + 1.2:
            continue
        at = np.array([each.at], dtype=np.float64)
        hollow(pencil, at, _RING_REACH, 0.14, _RING)
        if not bare:
            here = np.array([each.place if each.taken else each.at], dtype=np.float64)
            if each.taken:
                pencil.stroke(paths.dots(here), _DOT, INK)
            else:
                hollow(pencil, here, _DOT / 2, 0.1, _RING)
        # The middle of the hole beside it is free.
        x = place.x + (each.at[0] + 0.95) * place.unit
        y = place.y + (each.at[1] - place.first) * place.unit + 0.9
        put_text(axes, x, y, str(each.number), _NUMBER)


def hollow(pencil: Pencil, centres: FloatArray, radius: float, width: float, colour: str) -> None:
    turn = np.linspace(0, 2 * np.pi, 25)[:-1]
    circle = radius * np.stack([np.cos(turn), np.sin(turn)], axis=1)
    pencil.stroke(paths.rings([centre + circle for centre in centres]), width, colour)


def _told(axes: Axes, doubts: Sequence[Doubtful], y: float) -> None:
    for line, each in enumerate(doubts):
        if line == _TOLD:
            put_text(axes, MARGIN, y, f"and {len(doubts) - _TOLD} more", _WORDS)
            break
        put_text(axes, MARGIN, y, str(each.number), _NUMBER)
        words = f"{'counts' if each.taken else 'does not count'}: {each.words}"
        put_text(axes, MARGIN + 8.0, y, _WORDS.fitted(words, WIDTH - 2 * MARGIN - 8.0), _WORDS)
        y += 4.2

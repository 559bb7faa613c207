"""What the thread drawing shows of each part of a block, measured against the tidy look, part by part.

A part is what of a block lies in one quarter. The tidy look closes it wherever all four pinholes of a hole lie in the
block: a small diamond at each of its pinholes. The threads are taken as they are drawn, from their courses alone.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from itertools import groupby, pairwise

import numpy as np
import shapely

from constraints.lattice import FloatArray, IntArray
from constraints.layout import components
from constraints.working.ledger import BLOCK, NOWHERE
from constraints.working.work import Work
from gallery.looks.blocks import whole_holes
from gallery.looks.passings import Passings

PITCH = 2.0  # lattice units
# Cloth: passives so far apart, of the trade's own spacing about half a pitch (common practice, no source).
LEAST, MOST = 0.3 * PITCH, 0.8 * PITCH
# Passives that hang straight on from way to way come no further aside.
ASIDE = 0.15 * PITCH
# Points that stand for the area of a quarter of a hole.
_POINTS = np.array([(x, y) for x in np.arange(-3, 4) / 8 for y in np.arange(-3, 4) / 8 if abs(x) + abs(y) < 0.5])


@dataclass(frozen=True, eq=False)
class Part:
    """A part as it is seen.

    tidy: its cloth in the tidy look, lattice units. along: the working direction. ways: (k, 2) the middles of the
    crossings of each of the worker's ways, as drawn. threads: the courses of all threads of its block that are seen
    there, whichever quarter they are worked in. block, zone: what it is part of.
    """

    tidy: shapely.Geometry
    quarters: FloatArray
    along: FloatArray
    ways: list[FloatArray]
    threads: shapely.Geometry
    block: int
    zone: int

    @cached_property
    def even(self) -> float:
        """Share of the tidy cloth's area where passives lie `LEAST` to `MOST` apart, and the worker's ways as near."""
        points = (self.quarters[:, None] + _POINTS).reshape(-1, 2)
        if not self.ways:
            return 0.0
        lines = [shapely.linestrings(way) if len(way) > 1 else shapely.points(way[0]) for way in self.ways]
        away = shapely.distance(np.array(lines)[:, None], shapely.points(points))
        nearest = away.argmin(axis=0)
        across = np.array([self.along[1], -self.along[0]])
        held = 0
        for number, way in enumerate(self.ways):
            own = points[(nearest == number) & (away.min(axis=0) <= MOST / 2)]
            place, passives = own @ across, np.sort(way @ across)
            after = np.searchsorted(passives, place)
            inner = (after > 0) & (after < len(passives))
            gap = np.diff(passives)[after[inner] - 1]
            held += int(((gap >= LEAST - 1e-6) & (gap <= MOST + 1e-6)).sum())
            outermost = passives[np.clip(after[~inner], 0, len(passives) - 1)]
            held += int((np.abs(outermost - place[~inner]) <= MOST / 2).sum())
        return held / len(points)

    @cached_property
    def in_line(self) -> float:
        """Share of the passives of a way that have one in line with them, within `ASIDE`, in the next way."""
        across = np.array([self.along[1], -self.along[0]])
        level = sorted((way for way in self.ways if len(way) > 2), key=lambda way: float((way @ self.along).mean()))
        held = [1.0]
        for one, other in pairwise(np.sort(way @ across) for way in level):
            away = np.abs(one[:, None] - other)
            both = (one >= other[0] - ASIDE) & (one <= other[-1] + ASIDE)
            held += (away.min(axis=1)[both] <= ASIDE).tolist()
        return float(np.mean(held))

    @cached_property
    def covered(self) -> float:
        """Area closed by the drawn threads, where no gap is wider than `MOST`, over that of the tidy cloth."""
        near = shapely.buffer(shapely.get_parts(self.threads), MOST / 2, quad_segs=2)
        closed = shapely.union_all(near).buffer(-MOST / 2, quad_segs=2)
        return float(closed.intersection(self.tidy).area / self.tidy.area)


def parts(work: Work, headsides: bool = False) -> Iterator[Part]:
    """All parts that are cloth in the tidy look, but for those of fans and scallops; or only these."""
    layout, piece = work.layout, work.layout.piece
    key = np.where(layout.inside & (piece.fan == headsides), layout.block * len(piece.directions) + piece.zone, -1)
    label = components(piece.neighbours, key)
    around = whole_holes(layout)
    inward = np.array([(0, 1), (-1, 0), (0, -1), (1, 0)])
    middles = piece.pinholes[around].astype(np.float64) + inward / 2
    crossings = work.crossings
    passings = Passings(work)
    part = np.where(crossings.kind == BLOCK, label[work.pinhole[crossings.step]], NOWHERE)
    middle = _middles(passings)
    ways: dict[int, list[FloatArray]] = {}
    for (own, *_), members in groupby(
        np.flatnonzero(part != NOWHERE).tolist(),
        key=lambda k: (int(part[k]), int(crossings.step[k]), int(crossings.worker[k])),
    ):
        ways.setdefault(own, []).append(middle[list(members)])
    block = np.where(crossings.kind == BLOCK, layout.block[work.pinhole[crossings.step]], NOWHERE)
    of, lines = _segments(passings, block)
    for number in np.unique(label[label >= 0]).tolist():
        quarters = middles[label[around] == number]
        if len(quarters):
            corners = quarters[:, None] + np.array([(0, -0.5), (0.5, 0), (0, 0.5), (-0.5, 0)])
            own = int(np.flatnonzero(label == number)[0])
            tidy = shapely.union_all(shapely.polygons(corners), grid_size=1e-6)
            drawn = shapely.linestrings(lines[of == layout.block[own]])
            yield Part(
                tidy,
                quarters,
                piece.directions[piece.zone[own]].astype(np.float64),
                ways.get(number, []),
                shapely.multilinestrings(drawn[shapely.dwithin(drawn, tidy, MOST)].tolist()),
                int(layout.block[own]),
                int(piece.zone[own]),
            )


def ways_in_turn(work: Work) -> Iterator[tuple[shapely.Geometry, shapely.Geometry]]:
    """Lines along the ways of workers through fans and scallops, each with the one that the worker goes next."""
    crossings = work.crossings
    middle = _middles(Passings(work))
    own = np.flatnonzero((crossings.kind == BLOCK) & work.layout.piece.fan[work.pinhole[crossings.step]])
    ways = [
        list(members)
        for _, members in groupby(own.tolist(), key=lambda k: (int(crossings.step[k]), int(crossings.worker[k])))
    ]
    line = {way[0]: shapely.linestrings(middle[way]) for way in ways if len(way) > 1}
    for way in ways:
        worker = int(crossings.given[way[-1], 1 - crossings.worker[way[-1]]])
        following = int(work.segments.head[worker])
        if way[0] in line and following in line:
            yield line[way[0]], line[following]


def _middles(passings: Passings) -> FloatArray:
    """(k, 2) the middle of each crossing as drawn."""
    own = passings.threads.crossing != NOWHERE
    number = passings.threads.crossing[own]
    count = np.bincount(number)
    return np.stack([np.bincount(number, passings.at[own, axis]) / count for axis in (0, 1)], axis=1)


def _segments(passings: Passings, block: IntArray) -> tuple[IntArray, FloatArray]:
    """The threads from passing to passing, from where they are hung and to where they end: the block that each piece
    belongs to and its two ends, once for each block."""
    threads = passings.threads
    event = np.tile(np.arange(len(threads.over)), 2)
    thread = np.concatenate([threads.over, threads.under])
    order = np.lexsort((event, thread))
    event, thread = event[order], thread[order]
    held = np.where(threads.crossing == NOWHERE, NOWHERE, block[threads.crossing])[event]
    on = thread[:-1] == thread[1:]
    ends = np.stack([passings.at[event[:-1]], passings.at[event[1:]]], axis=1)
    first, second = held[:-1], held[1:]
    also = on & (second != first)
    last, courses = np.append(~on, True), passings.courses()
    hung = np.append(True, ~on)
    begun = np.stack([[courses[each].points[0] for each in thread[hung].tolist()], passings.at[event[hung]]], axis=1)
    ended = np.stack([passings.at[event[last]], [courses[each].points[-1] for each in thread[last].tolist()]], axis=1)
    return (
        np.concatenate([first[on], second[also], held[hung], held[last]]),
        np.concatenate([ends[on], ends[also], begun, ended]),
    )

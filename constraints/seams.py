"""Seams: where a block crosses a corner line it is worked in two halves, and the rows of both end at pins on the line.

Each side of a square worked round is a strip with a diagonal end: she works down to the corner line, turns the pillow
and goes on (Jo Edkins, teaching pages on Torchon lace, corners and edges of square mats). So every row keeps at right
angles to the working direction of its quarter; at the line it leaves a pair at a pin that stands on the line, and the
quarter after the line takes that pair in round the same pin. Narrow trails swing over the line about an inner pin
instead (common practice, no source).

A seam is closed, with one row of pins on the line, or open: either half has its own pins beside the line, and the pairs
run twisted from one to the other.

A link is the way of a pair over a corner line within a block, a run a largest set of links side by side.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from constraints.corners import SWINGING
from constraints.flow import nodes_of, pair_ways
from constraints.lattice import STEPS, BoolArray, FloatArray, IntArray
from constraints.layout import Layout, components

# Pins nearer to each other than this are one pin, mm (by eye: two pins of 0.6 mm and the threads between).
NEAREST_MM = 2.0


@dataclass(frozen=True, eq=False)
class Seams:
    """All links of a layout.

    way: (k,) their numbers in `flow.pair_ways`. ends: (k, 2) their pinholes before and after the line. run: (k,) number
    of the run of each. halved: (k,) whether the block is worked in halves there. place: (k, 2) where the rows of both
    halves end, lattice units. shared: (k,) whether a pin of its own stands there, used from both sides; else it is that
    of a pinhole which is a row by itself. alone: (k, 2) whether either pinhole is a row by itself. block: (k,) the
    block of each. outward: (k,) the step along its corner line away from the middle, as its number in lattice.STEPS.
    open: whether the
    seams are open, so that all pins are those of pinholes.
    """

    way: IntArray
    ends: IntArray
    run: IntArray
    halved: BoolArray
    place: FloatArray
    shared: BoolArray
    alone: BoolArray
    block: IntArray
    outward: IntArray
    open: bool

    @property
    def number(self) -> int:
        """How many seams there are: runs where a block is worked in halves."""
        return len(np.unique(self.run[self.halved]))

    @cached_property
    def over(self) -> frozenset[int]:
        """The ways of all halved links."""
        return frozenset(self.way[self.halved].tolist())

    @cached_property
    def end_of(self) -> dict[int, tuple[float, float]]:
        """The way of each halved link of closed seams to the place where the rows of both halves end; where both are of
        a single place, each keeps its own."""
        which = np.flatnonzero(self.halved & (not self.open) & ~self.alone.all(axis=1))
        return {
            way: (x, y) for way, (x, y) in zip(self.way[which].tolist(), self.place[which].tolist(), strict=True)
        }

    @cached_property
    def pin_instead(self) -> dict[int, tuple[float, float]]:
        """Each pinhole beside a closed seam that has no pin of its own to the place whose pin serves its row."""
        which = np.flatnonzero(self.halved & (not self.open))
        return {
            int(self.ends[link, side]): (float(self.place[link, 0]), float(self.place[link, 1]))
            for link in which.tolist()
            for side in (0, 1)
            if not self.alone[link, side]
        }

    @property
    def pins(self) -> FloatArray:
        """(p, 2) the pins that stand on corner lines, each once."""
        return self.place[self._standing]

    @property
    def along(self) -> FloatArray:
        """(p, 2) the unit way along the corner line at each of `pins`."""
        along: FloatArray = STEPS[self.outward[self._standing]] / np.sqrt(2.0)
        return along

    @cached_property
    def block_at(self) -> dict[tuple[float, float], int]:
        """The block that each of `pins` belongs to, by its place."""
        held = zip(self.pins.tolist(), self.block[self._standing].tolist(), strict=True)
        return {(x, y): block for (x, y), block in held}

    @property
    def _standing(self) -> IntArray:
        """The links at which a pin stands on the line, one for each pin."""
        which = np.flatnonzero(self.halved & self.shared & (not self.open))
        _, first = np.unique(self.place[which], axis=0, return_index=True)
        return which[np.sort(first)]

    def beside(self, kept: bool) -> IntArray:
        """The pinholes beside halved links that have pins of their own, as at open seams and where they are rows by
        themselves; or those whose pins the ones on the line replace."""
        return np.unique(self.ends[self.halved][(self.alone | self.open)[self.halved] == kept])


def seams_of(layout: Layout, open_: bool = False) -> Seams:
    """Where blocks cross corner lines, and how they are worked there. open_: whether seams are open.

    Where the work begins makes no difference, so that pins keep the symmetry of the lace.
    """
    piece, block = layout.piece, layout.block
    ways = pair_ways(piece)
    tail, head = ways.T
    joined = (block[tail] >= 0) & (block[tail] == block[head]) & (piece.zone[tail] != piece.zone[head])
    way = np.flatnonzero(joined & ~piece.fan[tail] & ~piece.fan[head])
    ends = ways[way]
    run = _runs(layout, ends)
    halved = ~_swung(layout, ends, run)
    _, node, count = np.unique(nodes_of(layout), return_inverse=True, return_counts=True)
    alone: BoolArray = (count[node] == 1)[ends]
    place = piece.pinholes[ends].mean(axis=1)
    shared = np.logical_not(alone.any(axis=1))
    for side in (0, 1):
        only = alone[:, side] & ~alone[:, 1 - side]
        place[only] = piece.pinholes[ends[only, side]]
    if layout.square.pitch_mm / 2 < NEAREST_MM:
        middle = halved & shared & _innermost(layout, ends)
        place[middle] = place[middle].mean(axis=0) if middle.any() else place[middle]
    return Seams(way, ends, run, halved, place, shared, alone, block[ends[:, 0]], _outward(layout, ends), open_)


def _outward(layout: Layout, ends: IntArray) -> IntArray:
    """(k,) the step along the corner line of each link, away from the middle, as its number in lattice.STEPS."""
    direction = layout.piece.directions[layout.piece.zone[ends[:, 0]]]
    # Worked round, the outer edge lies on her left.
    outward = direction - np.stack([direction[:, 1], -direction[:, 0]], axis=1)
    found: IntArray = (outward[:, None, :] == STEPS).all(axis=2).argmax(axis=1)
    return found


def _runs(layout: Layout, ends: IntArray) -> IntArray:
    """(k,) the run of each link: links one step apart along one line."""
    piece = layout.piece
    link = np.full(len(piece) + 1, -1)
    link[ends[:, 0]] = np.arange(len(ends))
    outward = _outward(layout, ends)
    beside = []
    for step in (outward, (outward + 2) % 4):
        before, after = (piece.neighbours[ends[:, side], step] for side in (0, 1))
        next_one = link[before]
        same = (next_one >= 0) & (ends[next_one, 1] == after) if len(ends) else next_one >= 0
        beside.append(np.where(same, next_one, -1))
    return components(np.stack(beside, axis=1), layout.block[ends[:, 0]])


def _swung(layout: Layout, ends: IntArray, run: IntArray) -> BoolArray:
    """(k,) whether the block swings over the line there: a narrow trail with nothing of the block further out, and not
    round the middle."""
    block, neighbours = np.append(layout.block, -1), layout.piece.neighbours
    own = block[ends[:, 0]]
    outward = _outward(layout, ends)
    further = [block[neighbours[ends[:, side], outward]] == own for side in (0, 1)]
    # Of the links within a run both go on; at its outer end one may.
    ragged = further[0] != further[1]
    innermost = _innermost(layout, ends)
    held = np.array([(innermost & (own == number)).sum() for number in own.tolist()], dtype=np.int64)
    central = innermost & (held > 1)
    wide = np.bincount(run, minlength=len(run) + 1)[run] > SWINGING
    halved = np.unique(run[wide | ragged | central])
    swung: BoolArray = ~np.isin(run, halved)
    return swung


def _innermost(layout: Layout, ends: IntArray) -> BoolArray:
    """(k,) whether a link is one of the four round the middle of a piece, where all quarters meet."""
    piece = layout.piece
    inward = (_outward(layout, ends) + 2) % 4
    zone = np.append(piece.zone, -1)
    beyond = piece.neighbours[ends[:, 0], inward]
    found: BoolArray = (beyond >= 0) & (zone[beyond] != piece.zone[ends[:, 0]])
    return found

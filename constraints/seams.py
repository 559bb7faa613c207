"""Seams: where a block crosses a corner line it is worked in two halves, and the rows of both end at pins on the line.

Each side of a square worked round is a strip with a diagonal end: she works down to the corner line, turns the pillow
and goes on (Jo Edkins, teaching pages on Torchon lace, corners and edges of square mats). So every row keeps at right
angles to the working direction of its quarter; at the line it leaves a pair at a pin that stands on the line, and the
quarter after the line takes that pair in round the same pin. Narrow trails swing over the line about an inner pin
instead (common practice, no source).

A seam is closed, with one row of pins on the line, or open: either half has its own pins beside the line, and the pairs
run twisted from one to the other.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from constraints.corners import SWINGING
from constraints.lattice import STEPS, BoolArray, FloatArray, IntArray
from constraints.layout import Layout
from constraints.links import Links, innermost, links_of
from constraints.nodes import nodes_of
from constraints.swings import swings_of

# Pins nearer to each other than this are one pin, mm (by eye: two pins of 0.6 mm and the threads between).
NEAREST_MM = 2.0


@dataclass(frozen=True, eq=False)
class Seams:
    """How blocks are worked at all links of a layout.

    halved: (k,) whether the block is worked in halves there. place: (k, 2) where the rows of both halves end, lattice
    units. shared: (k,) whether a pin of its own stands there, used from both sides; else it is that of a pinhole which
    is a row by itself. alone: (k, 2) whether either pinhole is a row by itself. open: whether the seams are open, so
    that all pins are those of pinholes.
    """

    links: Links
    halved: BoolArray
    place: FloatArray
    shared: BoolArray
    alone: BoolArray
    open: bool

    @property
    def number(self) -> int:
        """How many seams there are: runs where a block is worked in halves."""
        return len(np.unique(self.links.run[self.halved]))

    @cached_property
    def over(self) -> frozenset[int]:
        """The arcs of all halved links."""
        return frozenset(self.links.arc[self.halved].tolist())

    @cached_property
    def end_of(self) -> dict[int, tuple[float, float]]:
        """The arc of each halved link of closed seams to the place where the rows of both halves end; where both are of
        a single place, each keeps its own."""
        which = np.flatnonzero(self.halved & (not self.open) & ~self.alone.all(axis=1))
        return {
            arc: (x, y) for arc, (x, y) in zip(self.links.arc[which].tolist(), self.place[which].tolist(), strict=True)
        }

    @cached_property
    def pin_instead(self) -> dict[tuple[int, bool], tuple[float, float]]:
        """Each pinhole beside a closed seam that has no pin of its own to the place whose pin serves its row: for what
        comes to it (True) that of the line it lies behind, for what goes from it that of the line before it."""
        which = np.flatnonzero(self.halved & (not self.open))
        places = [(x, y) for x, y in self.place.tolist()]
        served = [
            (int(self.links.ends[link, side]), side == 1, places[link])
            for link in which.tolist()
            for side in (0, 1)
            if not self.alone[link, side]
        ]
        found = {(pinhole, not coming): place for pinhole, coming, place in served}
        return found | {(pinhole, coming): place for pinhole, coming, place in served}

    @property
    def pins(self) -> FloatArray:
        """(p, 2) the pins that stand on corner lines, each once."""
        return self.place[self._standing]

    @property
    def along(self) -> FloatArray:
        """(p, 2) the unit direction along the corner line at each of `pins`."""
        along: FloatArray = STEPS[self.links.outward[self._standing]] / np.sqrt(2.0)
        return along

    @cached_property
    def block_at(self) -> dict[tuple[float, float], int]:
        """The block that each of `pins` belongs to, by its place."""
        held = zip(self.pins.tolist(), self.links.block[self._standing].tolist(), strict=True)
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
        return np.unique(self.links.ends[self.halved][(self.alone | self.open)[self.halved] == kept])


def seams_of(layout: Layout, open_: bool = False) -> Seams:
    """Where blocks cross corner lines, and how they are worked there. open_: whether seams are open.

    Where the work begins makes no difference, so that pins keep the symmetry of the lace.
    """
    piece, links = layout.piece, links_of(layout)
    ends = links.ends
    halved = ~_swung(layout, links)
    _, node, count = np.unique(nodes_of(layout), return_inverse=True, return_counts=True)
    alone: BoolArray = (count[node] == 1)[ends]
    place = piece.pinholes[ends].mean(axis=1)
    shared = np.logical_not(alone.any(axis=1))
    for side in (0, 1):
        only = alone[:, side] & ~alone[:, 1 - side]
        place[only] = piece.pinholes[ends[only, side]]
    if layout.design.pitch_mm / 2 < NEAREST_MM:
        middle = halved & shared & innermost(piece, links)
        place[middle] = place[middle].mean(axis=0) if middle.any() else place[middle]
    return Seams(links, halved, place, shared, alone, open_)


def _swung(layout: Layout, links: Links) -> BoolArray:
    """(k,) whether the block swings over the line there: a narrow trail with nothing of the block further out and not
    round the middle, or a wider one in slanting rows."""
    block, neighbours = np.append(layout.block, -1), layout.piece.neighbours
    ends, own = links.ends, links.block
    further = [block[neighbours[ends[:, side], links.outward]] == own for side in (0, 1)]
    # Of the links within a run both go on; at its outer end one may.
    ragged = further[0] != further[1]
    inner = innermost(layout.piece, links)
    held = np.array([(inner & (own == number)).sum() for number in own.tolist()], dtype=np.int64)
    central = inner & (held > 1)
    slanting = np.isin(links.run, [swing.run for swing in swings_of(layout, links)])
    wide = (links.width > SWINGING) & ~slanting
    halved = np.unique(links.run[wide | ragged | central])
    swung: BoolArray = ~np.isin(links.run, halved)
    return swung

"""A piece: its pinholes, how pairs run through them, and which of them are alike.

Everything that asks whether lace can be worked, and everything that draws it, takes a Piece; only the forms know
outlines.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from constraints import symmetry as symmetries
from constraints.edgings import Headside
from constraints.lattice import STEPS, BoolArray, FloatArray, Grid, IntArray, Point, lattice_squares, neighbour_table
from constraints.symmetry import CENTRED, Setting

ROUND, ACROSS = "round", "across"
WORKED = (ROUND, ACROSS)

# Working direction in each zone of a square worked round: left, bottom, right and top quarter.
LEFT_QUARTER, BOTTOM_QUARTER, RIGHT_QUARTER, TOP_QUARTER = range(4)
ROUND_DIRECTIONS = np.array([(0, 1), (1, 0), (0, -1), (-1, 0)])
ACROSS_DIRECTIONS = np.array([(0, 1)])

# The edges along which an edge pair runs: on the lacemaker's left and on her right. Worked round, the outer
# edge lies on her left and that of an opening on her right.
NO_EDGE, LEFT_EDGE, RIGHT_EDGE = -1, 0, 1


@dataclass(frozen=True, eq=False)
class Piece:
    """The pinholes of a piece of lace and what the grid alone says of them.

    pinholes: (n, 2) lattice units, sorted by y, then x; x + y is odd (parity 1) or even (parity 0).
    neighbours: (n, 4) index of the neighbour along each of lattice.STEPS, or -1.
    depth: (n,) units from the nearest edge; 0 is a pin of the edge itself.
    zone: (n,) part of the piece worked without turning the pillow (a quarter of a square worked round).
    directions: (zones, 2) the working direction of each zone.
    edge: (n,) the edge on which a pin stands along which an edge pair runs, NO_EDGE elsewhere.
    edge_next: (n,) the pin to which the edge pair goes on from an edge pin, -1 elsewhere and at the end.
    free: (n,) whether pairs may be hung on or finished at a pinhole, beside the start line of a round.
    fan: (n,) whether a headside works the pinhole in a block.
    held: (n,) whether a headside takes it at all, in a block or with a figure and the ground about it.
    setting: how the transformations of a symmetry lie on the piece, and how it meets itself.
    headside, headside_edges: the fans or scallops, and the edges along which they stand.
    last_valley: how far from its middle row they begin and end, where whole ones lie along sides that end; None where
    they go on, are cut or go round corners.
    """

    worked: str
    symmetry: str
    parity: int
    pinholes: IntArray
    neighbours: IntArray
    depth: IntArray
    zone: IntArray
    directions: IntArray
    edge: IntArray
    edge_next: IntArray
    free: BoolArray
    fan: BoolArray
    held: BoolArray
    setting: Setting = CENTRED
    headside: Headside | None = None
    headside_edges: tuple[int, ...] = ()
    last_valley: int | None = None

    def __len__(self) -> int:
        return len(self.pinholes)

    @property
    def fan_edges(self) -> tuple[int, ...]:
        """The edges along which blocks of a headside stand; every other edge is worked as a footside."""
        return self.headside_edges if self.headside is not None and self.headside.solid else ()

    @cached_property
    def index(self) -> dict[Point, int]:
        """Pinhole (x, y) to its index."""
        return {(int(x), int(y)): i for i, (x, y) in enumerate(self.pinholes)}

    def images_under(self, symmetry: str) -> IntArray:
        """(order, n) where each transformation of another symmetry takes each pinhole."""
        if symmetry not in self._images:
            self._images[symmetry] = self.images_of(self.pinholes, symmetry)
        return self._images[symmetry]

    def closed_under(self, symmetry: str) -> bool:
        """Whether every transformation of a symmetry moves its grid, and its headside, onto themselves."""
        if symmetry not in self._closed:
            self._closed[symmetry] = self._moved_onto_itself(symmetry)
        return self._closed[symmetry]

    def _moved_onto_itself(self, symmetry: str) -> bool:
        if self.setting.wrap.rows and symmetries.matrices(symmetry)[:, 0, 1].any():
            return False  # what repeats itself downwards would do so sideways
        moved = Grid.of(self.pinholes).at(self.setting.moved(self.pinholes, symmetry))
        return bool((moved >= 0).all() and (self.held[moved] == self.held).all())

    @property
    def images(self) -> IntArray:
        """(order, n) where each transformation of the symmetry takes each pinhole."""
        return self.images_under(self.symmetry)

    def images_of(self, points: IntArray, symmetry: str | None = None) -> IntArray:
        """(order, k) where each transformation takes each of k points, pinholes or centres of holes.

        ValueError if the points are not closed under the symmetry.
        """
        return symmetries.images(points, self.symmetry if symmetry is None else symmetry, self.setting)

    @cached_property
    def _images(self) -> dict[str, IntArray]:
        return {}

    @cached_property
    def _closed(self) -> dict[str, bool]:
        return {}

    @cached_property
    def _orbits(self) -> tuple[IntArray, IntArray]:
        return symmetries.orbits(self.images)

    @property
    def orbit(self) -> IntArray:
        """(n,) the orbit of each pinhole under the symmetry."""
        return self._orbits[0]

    @property
    def representatives(self) -> IntArray:
        """(orbits,) one pinhole of each orbit."""
        return self._orbits[1]

    @cached_property
    def runs_out(self) -> BoolArray:
        """(n, 4) whether a pair runs from the pinhole along each of lattice.STEPS.

        A pinhole passes its two pairs on along the two steps that lie with the working direction of its
        zone. (Irvine and Ruskey 2014 model bobbin lace as such 2-in 2-out digraphs.)
        """
        forward: BoolArray = self.directions[self.zone] @ STEPS.T > 0
        return forward

    @cached_property
    def holes(self) -> IntArray:
        """(m, 4) the four pinholes round each hole: top, right, bottom, left."""
        corners: IntArray = lattice_squares(self.neighbours, 2)[:, [0, 1, 3, 2]]
        return corners

    @cached_property
    def hole_centres(self) -> IntArray:
        """(m, 2) centre of each hole: one unit below its top pinhole."""
        return self.setting.wrap.fold(self.pinholes[self.holes[:, 0]] + np.array([0, 1]))

    @cached_property
    def hole_index(self) -> dict[Point, int]:
        """Hole centre (x, y) to its index."""
        return {(int(x), int(y)): i for i, (x, y) in enumerate(self.hole_centres)}

    @cached_property
    def hole_images(self) -> IntArray:
        """(order, m) where each transformation takes each hole."""
        return self.images_of(self.hole_centres)

    @cached_property
    def hole_neighbours(self) -> IntArray:
        """(m, 4) the hole beyond each side of a hole (they share two pinholes), -1 where there is none."""
        return neighbour_table(self.hole_centres, self.setting.wrap)

    def lattice_squares(self, size: int) -> IntArray:
        """(squares, size * size) the diamonds of pinholes of that size; see lattice.lattice_squares."""
        return lattice_squares(self.neighbours, size)

    def unfolded(self, places: IntArray) -> IntArray:
        """(k, 2) pinholes by their indices, (k,), as they lie in one part: those of a repeat that go on beyond its last
        row come after it. As they are, if they go on all along."""
        points, rows = self.pinholes[places], self.setting.wrap.rows
        there = np.unique(points[:, 1])
        if not rows or not len(there):
            return points
        gaps = np.diff(there, append=there[0] + rows)
        first = int(there[(int(gaps.argmax()) + 1) % len(there)])
        row = (points[:, 1] - first) % rows + first if gaps.max() > 1 else points[:, 1]
        return np.stack([points[:, 0], row], axis=1)

    def widened(self, places: BoolArray, steps: int = 1) -> BoolArray:
        """(n,) the places and all pinholes within so many neighbour steps of them."""
        for _ in range(steps):
            places = places | (places[self.neighbours] & (self.neighbours >= 0)).any(axis=1)
        return places

    def one_zone(self, places: IntArray) -> BoolArray:
        """For rows of pinholes, shape (k, w): whether all of a row lie in one zone, shape (k,)."""
        zones = self.zone[places]
        same: BoolArray = (zones == zones[:, :1]).all(axis=1)
        return same


def quarters(pinholes: IntArray | FloatArray, half_width: int, half_height: int) -> IntArray:
    """The zone of each pinhole of a piece worked round: which outer side lies nearest."""
    x, y = pinholes.T
    sideways = np.abs(x) - half_width > np.abs(y) - half_height
    beside, above = np.where(x < 0, LEFT_QUARTER, RIGHT_QUARTER), np.where(y > 0, BOTTOM_QUARTER, TOP_QUARTER)
    return np.where(sideways, beside, above)

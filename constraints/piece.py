"""A piece: its pinholes, how pairs run through them, and which of them are alike.

Everything that asks whether lace can be worked, and everything that draws it, takes a Piece; only the
constructors in this file know half-sizes.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property, lru_cache

import numpy as np

from constraints import symmetry as symmetries
from constraints.lattice import STEPS, BoolArray, IntArray, Point, lattice_squares, neighbour_table

ROUND, ACROSS = "round", "across"
WORKED = (ROUND, ACROSS)

# Working direction in each zone of a square worked round: left, bottom, right and top quarter.
LEFT, BOTTOM, RIGHT, TOP = range(4)
_ROUND_DIRECTIONS = np.array([(0, 1), (1, 0), (0, -1), (-1, 0)])
_ACROSS_DIRECTIONS = np.array([(0, 1)])


@dataclass(frozen=True, eq=False)
class Piece:
    """The pinholes of a piece of lace and what the grid alone says of them.

    pinholes: (n, 2) lattice units, sorted by y, then x; x + y is odd (parity 1) or even (parity 0).
    neighbours: (n, 4) index of the neighbour along each of lattice.STEPS, or -1.
    depth: (n,) units from the nearest edge; 0 is a pin of the edge itself.
    zone: (n,) part of the piece worked without turning the pillow (a quarter of a square worked round).
    directions: (zones, 2) the working direction of each zone.
    edge_next: (n,) the pin to which the edge pair goes on from an edge pin, -1 elsewhere and at the end.
    images: (order, n) where each transformation of the symmetry takes each pinhole.
    """

    worked: str
    symmetry: str
    parity: int
    pinholes: IntArray
    neighbours: IntArray
    depth: IntArray
    zone: IntArray
    directions: IntArray
    edge_next: IntArray
    images: IntArray

    def __len__(self) -> int:
        return len(self.pinholes)

    @cached_property
    def index(self) -> dict[Point, int]:
        """Pinhole (x, y) to its index."""
        return {(int(x), int(y)): i for i, (x, y) in enumerate(self.pinholes)}

    def images_under(self, symmetry: str) -> IntArray:
        """(order, n) where each transformation of another symmetry takes each pinhole."""
        if symmetry not in self._other_images:
            self._other_images[symmetry] = symmetries.images(self.pinholes, symmetry)
        return self._other_images[symmetry]

    @cached_property
    def _other_images(self) -> dict[str, IntArray]:
        return {self.symmetry: self.images}

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
    def orbit_sizes(self) -> IntArray:
        """(orbits,) how many pinholes each orbit has."""
        return np.bincount(self.orbit)

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
        centres: IntArray = self.pinholes[self.holes[:, 0]] + np.array([0, 1])
        return centres

    @cached_property
    def hole_index(self) -> dict[Point, int]:
        """Hole centre (x, y) to its index."""
        return {(int(x), int(y)): i for i, (x, y) in enumerate(self.hole_centres)}

    @cached_property
    def hole_images(self) -> IntArray:
        """(order, m) where each transformation takes each hole."""
        return symmetries.images(self.hole_centres, self.symmetry)

    @cached_property
    def hole_neighbours(self) -> IntArray:
        """(m, 4) the hole beyond each side of a hole (they share two pinholes), -1 where there is none."""
        return neighbour_table(self.hole_centres)

    def lattice_squares(self, size: int) -> IntArray:
        """(squares, size * size) the diamonds of pinholes of that size; see lattice.lattice_squares."""
        return lattice_squares(self.neighbours, size)

    def one_zone(self, places: IntArray) -> BoolArray:
        """For rows of pinholes, shape (k, w): whether all of a row lie in one zone, shape (k,)."""
        zones = self.zone[places]
        same: BoolArray = (zones == zones[:, :1]).all(axis=1)
        return same


@lru_cache(maxsize=16)
def square(half_size: int, worked: str = ROUND, symmetry: str = "none") -> Piece:
    """A square of half-size N: |x|, |y| <= N and x + y odd, 2N(N + 1) pinholes, N pitches wide.

    With x + y odd no pinhole lies on a corner line; only then do the corners balance.
    """
    span = np.arange(-half_size, half_size + 1)
    y, x = np.meshgrid(span, span, indexing="ij")
    keep = (x + y) % 2 != 0
    pinholes = np.stack([x[keep], y[keep]], axis=1)
    if worked == ROUND:
        zone = _quarters(pinholes)
        directions = _ROUND_DIRECTIONS
    else:
        zone = np.zeros(len(pinholes), dtype=np.int64)
        directions = _ACROSS_DIRECTIONS
    depth = half_size - np.abs(pinholes).max(axis=1)
    return Piece(
        worked=worked,
        symmetry=symmetry,
        parity=1,
        pinholes=pinholes,
        neighbours=neighbour_table(pinholes),
        depth=depth,
        zone=zone,
        directions=directions,
        edge_next=_edge_order(pinholes, half_size, zone, directions),
        images=symmetries.images(pinholes, symmetry),
    )


def _quarters(pinholes: IntArray) -> IntArray:
    x, y = pinholes.T
    sideways = np.abs(x) > np.abs(y)
    return np.where(sideways, np.where(x < 0, LEFT, RIGHT), np.where(y > 0, BOTTOM, TOP))


def _edge_order(pinholes: IntArray, half_size: int, zone: IntArray, directions: IntArray) -> IntArray:
    """The next edge pin: two units on along the edge, or the first of the next quarter past a corner."""
    index = {(int(x), int(y)): i for i, (x, y) in enumerate(pinholes)}
    follow = np.full(len(pinholes), -1)
    for i, (x, y) in enumerate(pinholes.tolist()):
        dx, dy = directions[zone[i]].tolist()
        along = abs(x * dy) + abs(y * dx) == half_size  # the edge this pin stands on runs with the work
        if not along:
            continue
        ahead = index.get((x + 2 * dx, y + 2 * dy))
        if ahead is None and len(directions) > 1:
            # Past the corner the edge pair turns inwards with the pillow: one unit on, one unit in.
            inward = (-np.sign(x) * abs(dy), -np.sign(y) * abs(dx))
            ahead = index.get((int(x + dx + inward[0]), int(y + dy + inward[1])))
        if ahead is not None:
            follow[i] = ahead
    return follow

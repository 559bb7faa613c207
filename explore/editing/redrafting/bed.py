"""The bed of places on which blocks are read: which are pinned, which are not, and which no block may take."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from constraints.lattice import Point
from explore.editing.redrafting.grid import beyond, grouped, hole, steps


@dataclass(frozen=True)
class Bed:
    """places: every pinhole place within the outline, (column, row), those of a headside left out. pinned: those with
    a dot. centres: dots in the middle of holes. barred: places that no block takes, at an edge or beside a headside.
    rows: of a repeat that meets itself, 0 for none.
    """

    places: frozenset[Point]
    pinned: frozenset[Point]
    centres: frozenset[Point]
    barred: frozenset[Point]
    rows: int

    def fold(self, x: int, y: int) -> Point:
        return (x, y % self.rows) if self.rows else (x, y)

    def steps(self, place: Point) -> list[Point]:
        """The four neighbours, on the bed or not."""
        return [self.fold(x, y) for x, y in steps(place)]

    def around(self, place: Point) -> list[Point]:
        """The eight places that share a hole with one, on the bed or not."""
        return [self.fold(x, y) for x, y in (*steps(place), *beyond(place))]

    def hole(self, centre: Point) -> tuple[Point, Point, Point, Point]:
        """The pinholes round a hole: top, right, bottom, left."""
        top, right, bottom, left = (self.fold(x, y) for x, y in hole(centre))
        return top, right, bottom, left

    def holes(self, places: Iterable[Point]) -> set[Point]:
        """The centres of all holes that have one of the places beside them."""
        sides = ((0, 1), (0, -1), (1, 0), (-1, 0))
        return {self.fold(x + dx, y + dy) for x, y in places for dx, dy in sides}

    def lattice_square(self, centre: Point, size: int) -> frozenset[Point]:
        """The size x size pinholes round a centre: a hole for even sizes, a pinhole for odd ones."""
        x, y = centre[0], centre[1] - size + 1
        return frozenset(self.fold(x + i - j, y + i + j) for i in range(size) for j in range(size))

    def near(self, place: Point, reach: int) -> Iterator[Point]:
        """The places at most so many steps away along both diagonals."""
        for i in range(-reach, reach + 1):
            for j in range(-reach, reach + 1):
                yield self.fold(place[0] + i - j, place[1] + i + j)


def joined(places: Iterable[Point], bed: Bed) -> list[frozenset[Point]]:
    """The parts of a set of places that hang together by neighbour steps, in the order of their first places."""
    return grouped(places, bed.steps)

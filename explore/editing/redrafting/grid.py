"""Places of the grid, pinholes and the middles of holes: what lies beside one, and which hang together."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import TypeVar

from constraints.lattice import STEPS, Point

_Place = TypeVar("_Place", bound=tuple[float, float])
_STEPS = tuple((int(x), int(y)) for x, y in STEPS)
_BEYOND = ((2, 0), (-2, 0), (0, 2), (0, -2))


def steps(place: Point) -> list[Point]:
    """The four neighbours."""
    return [(place[0] + x, place[1] + y) for x, y in _STEPS]


def beyond(place: Point) -> list[Point]:
    """The four places one pitch away, beyond a hole."""
    return [(place[0] + x, place[1] + y) for x, y in _BEYOND]


def hole(centre: Point) -> tuple[Point, Point, Point, Point]:
    """The pinholes round a hole: top, right, bottom, left."""
    x, y = centre
    return (x, y - 1), (x + 1, y), (x, y + 1), (x - 1, y)


def by_row(places: Iterable[_Place]) -> tuple[_Place, ...]:
    """Places sorted by row, then column."""
    return tuple(sorted(places, key=lambda place: (place[1], place[0])))


def row_ends(places: Iterable[Point]) -> dict[int, tuple[int, int]]:
    """The first and the last column of every row."""
    ends: dict[int, tuple[int, int]] = {}
    for column, row in places:
        first, last = ends.get(row, (column, column))
        ends[row] = min(first, column), max(last, column)
    return ends


def grouped(places: Iterable[Point], near: Callable[[Point], Iterable[Point]]) -> list[frozenset[Point]]:
    """Groups of places that are near each other, directly or through others, in the order of their first places."""
    left = set(places)
    groups = []
    for first in by_row(left):
        if first in left:
            left.remove(first)
            group = [first]
            for each in group:
                more = {other for other in near(each) if other in left}
                left -= more
                group += sorted(more)
            groups.append(frozenset(group))
    return groups

"""The body of a pricking: which sure dots hang together as its pinholes do, and which of its sides is straight."""

from __future__ import annotations

import numpy as np

from constraints.lattice import BoolArray, FloatArray, IntArray, Point
from explore.editing.redrafting.grid import beyond, grouped, steps
from explore.editing.redrafting.steps import FEWEST

# A side is straight, and so a footside, if so much of it is pinned, over so much of its length.
PINNED, LONG = 0.85, 0.6
# Opposite a headside a footside may have lost more of its dots.
WORN = 0.7
# Dots beyond a straight side, as a share of those on it.
BEFORE = 0.25
# How much longer a straight side must be than one that is asked first.
LONGER = 1.3
# Marks around are those in cells of so many units, its own and those beside it.
AROUND = 2.0

# How the side that is the footside comes to lie on the left: rows of the matrix give column and row.
SIDES: dict[str, tuple[tuple[int, int], tuple[int, int]]] = {
    "left": ((1, 0), (0, 1)),
    "right": ((-1, 0), (0, 1)),
    "top": ((0, 1), (-1, 0)),
    "bottom": ((0, -1), (1, 0)),
}


def among_pinholes(places: FloatArray, on: BoolArray, marks: BoolArray) -> BoolArray:
    """(n,) whether around a place a third of the marks or more are on the grid; among letters fewer are, by chance."""
    cell = np.floor(places / AROUND).astype(np.int64)
    cell -= cell.min(axis=0) - 1
    counts = np.zeros((2, *(cell.max(axis=0) + 2)), dtype=np.int64)
    for count, which in zip(counts, (on, marks & ~on), strict=True):
        np.add.at(count, tuple(cell[which].T), 1)
    x, y = cell.T
    near, off = (sum(count[x + i, y + j] for i in (-1, 0, 1) for j in (-1, 0, 1)) for count in counts)
    found: BoolArray = np.asarray(2 * near >= off)
    return found


def together(places: IntArray, sure: BoolArray) -> BoolArray:
    """The sure dots that have another one within two units, but for groups far smaller than the largest."""
    groups = grouped(((x, y) for x, y in places[sure].tolist()), lambda place: (*steps(place), *beyond(place)))
    largest = max(len(group) for group in groups)
    kept: set[Point] = set().union(*(group for group in groups if len(group) > largest / 10))
    while loose := _loose_ends(kept):
        kept -= loose
    held: BoolArray = sure & np.array([(x, y) in kept for x, y in places.tolist()], dtype=np.bool_)
    return held


def _loose_ends(kept: set[Point]) -> set[Point]:
    """Places of the first and last row or column without a neighbour along the grid: blots or numbers, most likely."""
    if len(kept) <= FEWEST:
        return set()
    ends = {limit for axis in (0, 1) for each in (min, max) for limit in [(axis, each(p[axis] for p in kept))]}
    outer = {place for place in kept if any(place[axis] == limit for axis, limit in ends)}
    return {place for place in outer if kept.isdisjoint(steps(place))}


def footside_of(places: set[Point], sides: tuple[str, ...]) -> tuple[str, int]:
    """The side along which pins stand in one straight line, and that line; the first side if there is none.

    Of several the first one, but for one that is much longer: a strip lies along its footside. A few dots
    may lie beyond the line: blots, or numbers.
    """
    best: tuple[int, str, int] | None = None
    for side in sides:
        across, down = SIDES[side]
        straight = straight_edge({(x * across[0] + y * across[1], x * down[0] + y * down[1]) for x, y in places})
        if straight is not None and (best is None or straight[0] > LONGER * best[0]):
            best = straight[0], side, straight[1]
    if best is None:
        across = SIDES[sides[0]][0]
        return sides[0], min(x * across[0] + y * across[1] for x, y in places)
    return best[1], best[2]


def straight_edge(places: set[Point], pinned: float = PINNED) -> tuple[int, int] | None:
    """How many pins the straight left edge has, and its column; None if none is straight. pinned: of its pins, the
    share that must be there."""
    whole = [row for _, row in places]
    outermost = min(column for column, _ in places)
    best: tuple[int, int] | None = None
    for edge in range(outermost, outermost + 3):
        rows = [row for column, row in places if column == edge]
        beyond = sum(column < edge for column, _ in places)
        length = (max(rows) - min(rows)) // 2 + 1 if rows else 1
        straight = len(rows) >= pinned * length and length >= LONG * (max(whole) - min(whole)) / 2
        if straight and beyond <= BEFORE * len(rows) and (best is None or len(rows) > LONGER * best[0]):
            best = len(rows), edge
    return best

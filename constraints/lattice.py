"""The Torchon grid: pinholes, the steps between them, lattice squares.

Coordinates are lattice units: x to the right, y down, the origin at the centre of the piece. One unit is
half a pitch. Rows of pinholes stand one unit apart and are shifted by one unit, so a piece uses only the
points whose x + y has one parity, and a pinhole's neighbours are the four diagonal ones.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

IntArray = npt.NDArray[np.int64]
BoolArray = npt.NDArray[np.bool_]
FloatArray = npt.NDArray[np.float64]
Point = tuple[int, int]
Place = tuple[float, float]
Matrix = tuple[tuple[int, int], tuple[int, int]]

# The four neighbour steps, clockwise on the page. Opposite steps are two apart.
STEPS: IntArray = np.array([(1, 1), (-1, 1), (-1, -1), (1, -1)])
DOWN_RIGHT, DOWN_LEFT, UP_LEFT, UP_RIGHT = range(4)


@dataclass(frozen=True, eq=False)
class Grid:
    """Looks points up among given ones. table: index at every point of the box round them, -1 elsewhere and in a
    frame one unit wide. corner: (2,) the point of table[0, 0]."""

    table: IntArray
    corner: IntArray

    @classmethod
    def of(cls, points: IntArray) -> Grid:
        """The grid of points of shape (n, 2), numbered as they stand."""
        if not len(points):
            return cls(np.full((1, 1), -1), np.zeros(2, dtype=np.int64))
        corner = points.min(axis=0) - 1
        table = np.full(tuple((points.max(axis=0) + 2 - corner).tolist()), -1)
        table[tuple((points - corner).T)] = np.arange(len(points))
        return cls(table, corner)

    def at(self, points: IntArray) -> IntArray:
        """Index of the given point at each of these, of shape (..., 2); -1 where there is none."""
        held = np.clip(points - self.corner, 0, np.array(self.table.shape) - 1)
        found: IntArray = self.table[held[..., 0], held[..., 1]]
        return found


@dataclass(frozen=True)
class Wrap:
    """How a repeat of a strip meets itself: after so many rows the grid begins anew; 0 where nothing repeats."""

    rows: int = 0

    def fold(self, points: IntArray) -> IntArray:
        """The points of the repeat that stand for points anywhere along the strip, shape (..., 2)."""
        if not self.rows:
            return points
        return np.stack([points[..., 0], points[..., 1] % self.rows], axis=-1)


PLAIN = Wrap()


def neighbour_table(points: IntArray, wrap: Wrap = PLAIN) -> IntArray:
    """Index of each point's neighbour along each of STEPS, -1 where there is none.

    `points` has shape (n, 2); the result has shape (n, 4).
    """
    return Grid.of(points).at(wrap.fold(points[:, None, :] + STEPS[None, :, :]))


def walk(neighbours: IntArray, start: IntArray, step: int) -> IntArray:
    """The pinholes one `step` on from `start` (any shape); -1 stays -1."""
    return np.where(start < 0, -1, neighbours[start, step])


def lattice_squares(neighbours: IntArray, size: int) -> IntArray:
    """All size x size diamonds of pinholes, as indices: shape (squares, size * size).

    Column i * size + j is reached from the top pinhole by i steps down-right and j steps down-left.
    The squares come in the order of their top pinholes. Built from the neighbour table alone, so that
    a piece that joins itself needs nothing special.
    """
    # Tops whose squares leave the piece are dropped as soon as that shows: a size may be far beyond it.
    table = np.arange(len(neighbours))[:, None]
    for step in (DOWN_RIGHT, DOWN_LEFT):
        line = [table]
        for _ in range(size - 1):
            further = walk(neighbours, line[-1], step)
            whole = (further >= 0).all(axis=1)
            line = [each[whole] for each in (*line, further)]
            if not whole.any():
                return np.empty((0, size * size), dtype=np.int64)
        table = np.stack(line, axis=2).reshape(len(line[0]), -1)
    return table


def places_in_groups(count: IntArray) -> IntArray:
    """Groups of so many one after the other: the place of each member within its own, from 0."""
    found: IntArray = np.arange(count.sum()) - np.repeat(np.cumsum(count) - count, count)
    return found


def in_order(points: IntArray | Iterable[Point]) -> tuple[Point, ...]:
    """Points sorted by y, then x, as those of a piece are."""
    return tuple(sorted(((int(x), int(y)) for x, y in points), key=lambda point: point[::-1]))


def diagonals(points: IntArray) -> IntArray:
    """(k, 2) the numbers of points (k, 2) along the falling diagonal and along the rising one, u and v."""
    x, y = points.T
    return np.stack([(x + y) // 2, (y - x) // 2], axis=1)

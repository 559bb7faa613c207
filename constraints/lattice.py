"""The Torchon grid: pinholes, the steps between them, lattice squares.

Coordinates are lattice units: x to the right, y down, the origin at the centre of the piece. One unit is
half a pitch. Rows of pinholes stand one unit apart and are shifted by one unit, so a piece uses only the
points whose x + y has one parity, and a pinhole's neighbours are the four diagonal ones.
"""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

IntArray = npt.NDArray[np.int64]
BoolArray = npt.NDArray[np.bool_]
FloatArray = npt.NDArray[np.float64]
Point = tuple[int, int]

# The four neighbour steps, clockwise on the page. Opposite steps are two apart.
STEPS: IntArray = np.array([(1, 1), (-1, 1), (-1, -1), (1, -1)])
DOWN_RIGHT, DOWN_LEFT, UP_LEFT, UP_RIGHT = range(4)


def neighbour_table(pinholes: IntArray) -> IntArray:
    """Index of each pinhole's neighbour along each of STEPS, -1 where there is none.

    `pinholes` has shape (n, 2); the result has shape (n, 4).
    """
    reach = int(np.abs(pinholes).max(initial=0)) + 1
    width = 2 * reach + 1
    grid = np.full((width, width), -1)
    grid[pinholes[:, 0] + reach, pinholes[:, 1] + reach] = np.arange(len(pinholes))
    beside = pinholes[:, None, :] + STEPS[None, :, :] + reach
    table: IntArray = grid[beside[..., 0], beside[..., 1]]
    return table


def walk(neighbours: IntArray, start: IntArray, step: int) -> IntArray:
    """The pinholes one `step` on from `start` (any shape); -1 stays -1."""
    return np.where(start < 0, -1, neighbours[start, step])


def lattice_squares(neighbours: IntArray, size: int) -> IntArray:
    """All size x size diamonds of pinholes, as indices: shape (squares, size * size).

    Column i * size + j is reached from the top pinhole by i steps down-right and j steps down-left.
    The squares come in the order of their top pinholes. Built from the neighbour table alone, so that
    a piece that joins itself needs nothing special.
    """
    row = [np.arange(len(neighbours))]
    for _ in range(size - 1):
        row.append(walk(neighbours, row[-1], DOWN_RIGHT))
    columns: list[IntArray] = []
    for start in row:
        place = start
        columns.append(place)
        for _ in range(size - 1):
            place = walk(neighbours, place, DOWN_LEFT)
            columns.append(place)
    table = np.stack(columns, axis=1)
    return table[(table >= 0).all(axis=1)]

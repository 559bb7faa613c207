"""The symmetries a piece may have, as matrices on lattice units (y down)."""

from __future__ import annotations

import numpy as np

from constraints.lattice import IntArray

_SAME = ((1, 0), (0, 1))
_QUARTER = ((0, -1), (1, 0))
_HALF = ((-1, 0), (0, -1))
_THREE_QUARTERS = ((0, 1), (-1, 0))
_LEFT_RIGHT = ((-1, 0), (0, 1))
_TOP_BOTTOM = ((1, 0), (0, -1))
_FALLING = ((0, 1), (1, 0))  # across the diagonal x = y
_RISING = ((0, -1), (-1, 0))  # across the diagonal x = -y

SYMMETRIES: dict[str, tuple[tuple[tuple[int, int], tuple[int, int]], ...]] = {
    "full": (_SAME, _QUARTER, _HALF, _THREE_QUARTERS, _LEFT_RIGHT, _TOP_BOTTOM, _FALLING, _RISING),
    "quarter-turn": (_SAME, _QUARTER, _HALF, _THREE_QUARTERS),
    "half-turn": (_SAME, _HALF),
    "upright-mirrors": (_SAME, _HALF, _LEFT_RIGHT, _TOP_BOTTOM),
    "diagonal-mirrors": (_SAME, _HALF, _FALLING, _RISING),
    "upright-mirror": (_SAME, _LEFT_RIGHT),
    "diagonal-mirror": (_SAME, _FALLING),
    "none": (_SAME,),
}


def matrices(symmetry: str) -> IntArray:
    """The transformations of a symmetry, the identity first: shape (order, 2, 2). KeyError if unknown."""
    return np.array(SYMMETRIES[symmetry])


def images(points: IntArray, symmetry: str) -> IntArray:
    """Where each transformation takes each point: indices into `points`, shape (order, n).

    ValueError if the points are not closed under the symmetry.
    """
    reach = int(np.abs(points).max(initial=0))
    width = 2 * reach + 1
    grid = np.full((width, width), -1)
    grid[points[:, 0] + reach, points[:, 1] + reach] = np.arange(len(points))
    x, y = points.T
    (a, b), (c, d) = np.moveaxis(matrices(symmetry)[:, :, :, None], 0, 2)
    table: IntArray = grid[a * x + b * y + reach, c * x + d * y + reach]
    if (table < 0).any():
        raise ValueError(f"the points are not closed under the symmetry {symmetry!r}")
    return table


def orbits(image_table: IntArray) -> tuple[IntArray, IntArray]:
    """Number the orbits of an image table of shape (order, n).

    Returns the orbit of each point, shape (n,), and one representative point per orbit (the first),
    shape (orbits,).
    """
    first = image_table.min(axis=0)
    representatives, orbit = np.unique(first, return_inverse=True)
    return orbit, representatives

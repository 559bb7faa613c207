"""How different the squares of a series are, also where their sizes differ.

Two squares of one half-size differ as `explore.apart.difference` says: the least share of pinholes over all
turns and reflections. Of two half-sizes the larger is laid on the smaller, centre on centre, and the share is
of the pinholes of the smaller. Two that differ in nothing are doubles: to the eye one square.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from constraints.lattice import FloatArray, IntArray
from constraints.square import Square
from explore.apart import kinds


def stated(share: float) -> float:
    """A difference as it is stated: rounded down to hundredths of a per cent, so that it holds."""
    return math.floor(share * 10_000) / 10_000


def differences(squares: Sequence[Square]) -> FloatArray:
    """(k, k) the difference of every two squares, 0 on the diagonal."""
    laid = [_grid(square) for square in squares]
    table = np.zeros((len(squares), len(squares)))
    for number, grid in enumerate(laid):
        for other in range(number):
            table[number, other] = table[other, number] = _difference(grid, laid[other])
    return table


class Distinct:
    """Squares among which there are no doubles."""

    def __init__(self, squares: Sequence[Square] = ()) -> None:
        self._held: list[IntArray] = []
        self.squares: list[Square] = []
        for square in squares:
            self.takes(square)

    def double(self, square: Square) -> Square | None:
        """The one among them whose double it is, the first if there are several."""
        grid = _grid(square)
        alike = (each for each, held in zip(self.squares, self._held, strict=True) if not _stated(grid, held))
        return next(alike, None)

    def takes(self, square: Square) -> bool:
        """Whether it is the double of none of them; if so it is one of them from now on."""
        if self.double(square) is not None:
            return False
        self._held.append(_grid(square))
        self.squares.append(square)
        return True


def ranked(squares: Sequence[Square], table: FloatArray, count: int) -> FloatArray:
    """The differences as a choice of so many squares ranks them.

    Where there are as many sizes, squares of two sizes come before any two of one size: 1 is added, so that each
    square has its own size.
    """
    sizes = np.array([square.half_size for square in squares])
    return np.where(sizes[:, None] != sizes, 1.0 + table, table) if len(np.unique(sizes)) >= count else table


def _grid(square: Square) -> IntArray:
    """(2N + 1, 2N + 1) what each pinhole is, by y, then x; -1 where there is none."""
    n = square.half_size
    grid = np.full((2 * n + 1, 2 * n + 1), -1)
    x, y = square.piece().pinholes.T + n
    grid[y, x] = kinds(square)
    return grid


def _stated(one: IntArray, other: IntArray) -> float:
    return stated(_difference(one, other))


def _difference(one: IntArray, other: IntArray) -> float:
    small, large = sorted((one, other), key=len)
    rim = (len(large) - len(small)) // 2
    middle = large[rim : len(large) - rim, rim : len(large) - rim]
    turned = (np.rot90(way, quarters) for way in (small, small.T) for quarters in range(4))
    return float(min((each != middle).sum() for each in turned) / (small >= 0).sum())

"""The differences of the squares of a series. Two that differ in nothing are doubles: to the eye one square."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from constraints.difference import Shown
from constraints.lattice import FloatArray
from constraints.square import Square


def stated(share: float) -> float:
    """A difference as it is stated: rounded down to hundredths of a per cent, so that it holds."""
    return math.floor(share * 10_000) / 10_000


def differences(squares: Sequence[Square]) -> FloatArray:
    """(k, k) the difference of every two squares, 0 on the diagonal."""
    laid = [Shown.of(square) for square in squares]
    table = np.zeros((len(squares), len(squares)))
    for number, shown in enumerate(laid):
        for other in range(number):
            table[number, other] = table[other, number] = shown.difference(laid[other])
    return table


class Distinct:
    """Squares among which there are no doubles."""

    def __init__(self, squares: Sequence[Square] = ()) -> None:
        self._held: list[Shown] = []
        self.squares: list[Square] = []
        for square in squares:
            self.takes(square)

    def double(self, square: Square) -> Square | None:
        """The one among them whose double it is, the first if there are several."""
        shown = Shown.of(square)
        pairs = zip(self.squares, self._held, strict=True)
        return next((each for each, held in pairs if not stated(shown.difference(held))), None)

    def takes(self, square: Square) -> bool:
        """Whether it is the double of none of them; if so it is one of them from now on."""
        if self.double(square) is not None:
            return False
        self._held.append(Shown.of(square))
        self.squares.append(square)
        return True


def ranked(squares: Sequence[Square], table: FloatArray, count: int) -> FloatArray:
    """The differences as a choice of so many squares ranks them.

    Where there are as many sizes, squares of two sizes come before any two of one size: 1 is added, so that each
    square has its own size.
    """
    sizes = np.array([square.half_size for square in squares])
    return np.where(sizes[:, None] != sizes, 1.0 + table, table) if len(np.unique(sizes)) >= count else table

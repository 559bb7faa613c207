"""The differences of the squares of a series. Two that differ in nothing are doubles: to the eye one square."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from constraints.difference import Compared
from constraints.lattice import FloatArray
from constraints.square import Design

# Differences are stated in hundredths of a per cent; squares that differ by less are doubles.
_STATED = 10_000
LEAST = 1 / _STATED


def stated(share: float) -> float:
    """A difference as it is stated: rounded down, so that it holds."""
    return math.floor(share * _STATED) / _STATED


def differences(squares: Sequence[Design]) -> FloatArray:
    """(k, k) the difference of every two squares, 0 on the diagonal."""
    laid = [Compared.of(square) for square in squares]
    table = np.zeros((len(squares), len(squares)))
    for number, shown in enumerate(laid):
        for other in range(number):
            table[number, other] = table[other, number] = shown.difference(laid[other])
    return table


def ranked(squares: Sequence[Design], table: FloatArray, count: int) -> FloatArray:
    """The differences as a choice of so many squares ranks them.

    Where there are as many sizes, squares of two sizes come before any two of one size: 1 is added, so that each
    square has its own size.
    """
    sizes = np.array([square.half_size for square in squares])
    return np.where(sizes[:, None] != sizes, 1.0 + table, table) if len(np.unique(sizes)) >= count else table

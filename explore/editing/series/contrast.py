"""The differences of the squares of a series. Two that differ in nothing are doubles: to the eye one square."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from constraints.design import Design
from constraints.difference import Compared
from constraints.lattice import FloatArray

# Differences are stated in hundredths of a per cent; squares that differ by less are doubles.
_STATED = 10_000
LEAST = 1 / _STATED


def stated(share: float) -> float:
    """A difference as it is stated: rounded down, so that it holds."""
    return math.floor(share * _STATED) / _STATED


def differences(designs: Sequence[Design]) -> FloatArray:
    """(k, k) the difference of every two squares, 0 on the diagonal."""
    laid = [Compared.of(design) for design in designs]
    table = np.zeros((len(designs), len(designs)))
    for number, shown in enumerate(laid):
        for other in range(number):
            table[number, other] = table[other, number] = shown.difference(laid[other])
    return table


def ranked(designs: Sequence[Design], table: FloatArray, count: int) -> FloatArray:
    """The differences as a choice of so many squares ranks them.

    Where there are as many sizes, squares of two sizes come before any two of one size: 1 is added, so that each
    square has its own size.
    """
    sizes = np.array([design.pairs for design in designs])  # a measure more takes a pair more
    return np.where(sizes[:, None] != sizes, 1.0 + table, table) if len(np.unique(sizes)) >= count else table

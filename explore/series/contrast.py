"""How different the squares of a series are, also where their sizes differ.

Two squares of one half-size differ as `explore.apart.difference` says: the least share of pinholes over all
turns and reflections. Of two half-sizes the larger is laid on the smaller, centre on centre, and the share is
of the pinholes of the smaller.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from constraints import piece as pieces
from constraints.lattice import FloatArray, IntArray
from constraints.layout import locate
from constraints.square import Square
from explore.apart import kinds


def differences(squares: Sequence[Square]) -> FloatArray:
    """(k, k) the difference of every two squares, 0 on the diagonal."""
    own = [kinds(square) for square in squares]
    table = np.zeros((len(squares), len(squares)))
    by_size: dict[int, list[int]] = {}
    for number, square in enumerate(squares):
        by_size.setdefault(square.half_size, []).append(number)
    for size, members in by_size.items():
        piece = pieces.square(size, pieces.ROUND, "full")
        for number in members:
            turned = own[number][piece.images]
            for other, square in enumerate(squares):
                if square.half_size > size or (square.half_size == size and other > number):
                    seen = _middle(own[other], square.half_size, piece)
                    table[number, other] = table[other, number] = (turned != seen).mean(axis=1).min()
    return table


def ranked(squares: Sequence[Square], table: FloatArray, count: int) -> FloatArray:
    """The differences as a choice of so many squares ranks them.

    Where there are as many sizes, squares of two sizes come before any two of one size: 1 is added, so that each
    square has its own size.
    """
    sizes = np.array([square.half_size for square in squares])
    return np.where(sizes[:, None] != sizes, 1.0 + table, table) if len(np.unique(sizes)) >= count else table


def _middle(found: IntArray, half_size: int, piece: pieces.Piece) -> IntArray:
    """What the pinholes of a smaller piece are in a larger square, centre on centre."""
    larger = pieces.square(half_size, pieces.ROUND, "full")
    return found[locate(larger, piece.pinholes)]

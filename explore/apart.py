"""Keeping squares apart: two squares of a study differ in a least share of their pinholes, however turned.

Two pinholes agree if both lie in blocks of whatever stitch, or both in the same kind of unit, or both in
neither.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from constraints.brief import Brief
from constraints.lattice import IntArray
from constraints.piece import Piece, square
from constraints.square import Square
from constraints.stitches import FILLINGS, ROSE, SPIDERS

_GROUND, _BLOCK, _ROSE, _SPIDER = range(4)


def kinds(lace: Square, piece: Piece) -> IntArray:
    """(n,) what each pinhole of a square is for telling squares apart."""
    found = np.full(len(piece), _GROUND)
    for block in lace.blocks:
        found[[piece.index[p] for p in block.pinholes]] = _BLOCK
    for filling in lace.fillings:
        if filling.filling == FILLINGS[ROSE].words:
            size, kind = 2, _ROSE
        elif filling.legs:
            size, kind = next(s.size for s in SPIDERS if s.legs == filling.legs), _SPIDER
        else:
            continue
        for x, y in filling.places:
            for i in range(size):
                for j in range(size):
                    found[piece.index[x + i - j, y + i + j - size + 1]] = kind
    return found


class Collection:
    """The squares of a study so far."""

    def __init__(self, brief: Brief, kept: Sequence[Square]) -> None:
        self._least = brief.apart
        self._by_size: dict[int, list[IntArray]] = {}
        for each in kept:
            self._keep(each.half_size, self._of(each))

    def takes(self, candidate: Square) -> bool:
        """Whether the square differs enough from all before it; if so it is one of them from now on."""
        own = self._of(candidate)
        images = square(candidate.half_size, candidate.worked, "full").images
        for other in self._by_size.get(candidate.half_size, []):
            if (own[images] != other).mean(axis=1).min() < self._least:
                return False
        self._keep(candidate.half_size, own)
        return True

    def _of(self, lace: Square) -> IntArray:
        return kinds(lace, square(lace.half_size, lace.worked, "full"))

    def _keep(self, half_size: int, found: IntArray) -> None:
        self._by_size.setdefault(half_size, []).append(found)

"""Keeping squares apart: two squares of a study differ in a least share of their pinholes, however turned.

Two pinholes agree if both lie in blocks of whatever stitch, or both in the same kind of unit, or both in
neither.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from constraints import piece as pieces
from constraints.brief import Brief
from constraints.lattice import IntArray
from constraints.layout import lay
from constraints.square import Square
from constraints.stitches import ROSE, SPIDER

_GROUND, _BLOCK = range(2)
_OF_KIND = {ROSE: 2, SPIDER: 3}


def kinds(square: Square) -> IntArray:
    """(n,) what each pinhole of a square is for telling squares apart."""
    layout = lay(square)
    found = np.where(layout.inside, _BLOCK, _GROUND)
    for placed in layout.units:
        found[placed.places] = _OF_KIND[placed.unit.kind]
    return found


def difference(first: Square, second: Square) -> float:
    """The least share of pinholes in which two squares differ under all eight turns and reflections.

    1.0 for squares of different half-sizes.
    """
    if first.half_size != second.half_size:
        return 1.0
    return _closest(kinds(first)[_images(first.half_size)], kinds(second))


def _images(half_size: int) -> IntArray:
    """(8, n) where the turns and reflections take each pinhole; both ways of working have the same pinholes."""
    return pieces.square(half_size, pieces.ROUND, "full").images


def _closest(turned: IntArray, other: IntArray) -> float:
    return float((turned != other).mean(axis=1).min())


class Collection:
    """The squares of a study so far."""

    def __init__(self, brief: Brief, kept: Sequence[Square]) -> None:
        self._least = brief.apart
        self._by_size: dict[int, list[IntArray]] = {}
        for each in kept:
            self._keep(each.half_size, kinds(each))

    def takes(self, candidate: Square) -> bool:
        """Whether the square differs enough from all before it; if so it is one of them from now on."""
        own = kinds(candidate)
        turned = own[_images(candidate.half_size)]
        for other in self._by_size.get(candidate.half_size, []):
            if _closest(turned, other) < self._least:
                return False
        self._keep(candidate.half_size, own)
        return True

    def _keep(self, half_size: int, found: IntArray) -> None:
        self._by_size.setdefault(half_size, []).append(found)

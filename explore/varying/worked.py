"""How pinholes are worked, and the share in which two squares differ.

Two pinholes are worked alike if both lie in blocks of whatever stitch, or both in the same kind of unit (rose,
spider of any size), or both in double ground, or both in plain ground.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from constraints import piece as pieces
from constraints.formula import truth
from constraints.lattice import BoolArray, IntArray
from constraints.layout import Layout, lay
from constraints.square import Square
from constraints.stitches import ALLOWED, DOUBLE, UNITS
from constraints.variables import Lace

PLAIN, BLOCK, _DOUBLE = 0, 1, 2
OF_KIND = {kind: number for number, kind in enumerate(dict.fromkeys(u.kind for u in UNITS.values()), start=3)}
_UNIT_NUMBERS = {name: number for number, name in enumerate(UNITS, start=1)}


def ways(square: Square) -> IntArray:
    """(n,) how each pinhole of a square is worked, as a number."""
    layout = lay(square)
    found = np.where(layout.inside, BLOCK, PLAIN)
    found[layout.double] = _DOUBLE
    for placed in layout.units:
        found[placed.places] = OF_KIND[placed.unit.kind]
    return found


def ways_of(lace: Lace, values: BoolArray) -> IntArray:
    """(n,) the same for the square that the values of a formula describe."""
    found = np.where(truth(values, lace.block), BLOCK, PLAIN)
    if DOUBLE in lace.labels.codes:
        holes = np.flatnonzero(lace.field_hole)
        double = truth(values, lace.labels.literals(DOUBLE, holes)).all(axis=1)
        found[lace.piece.holes[holes[double]]] = _DOUBLE
    for sites in lace.sites.values():
        if len(sites.chosen):
            found[sites.pinholes[values[sites.chosen]]] = OF_KIND[sites.unit.kind]
    return found


def share(first: IntArray, second: IntArray) -> float:
    """The share of pinholes that are not worked alike, each compared with the one at its own place."""
    return float((first != second).mean())


@dataclass(frozen=True, eq=False)
class Exact:
    """Everything about each pinhole. block: (n,) number of its stitch, -1 where open. filling: (n,) a number for
    the unit that holds it and where that lies, -1 in double ground, 0 elsewhere."""

    block: IntArray
    filling: IntArray


def exact(square: Square) -> Exact:
    """What must stay where a pinhole is kept."""
    layout = lay(square)
    stitches = np.array([ALLOWED.index(block.stitch) for block in square.blocks] + [-1])
    return Exact(stitches[layout.block], _fillings(layout))


def _fillings(layout: Layout) -> IntArray:
    found = np.where(layout.double, -1, 0)
    reach = int(np.abs(layout.piece.pinholes).max()) + 1
    for placed in layout.units:
        x, y = (placed.centres + reach).T
        number = ((x * 2 * reach + y) * (len(UNITS) + 1) + _UNIT_NUMBERS[placed.unit.name])[:, None]
        found[placed.places] = number
    return found


def least_share(first: IntArray, second: IntArray, images: IntArray) -> float:
    """The least share over all turns and reflections. images: (8, n) where these take each pinhole."""
    return float((first[images] != second).mean(axis=1).min())


class Gathering:
    """Squares of one half-size, any two of which differ by a least share however turned."""

    def __init__(self, half_size: int, least: float, kept: Sequence[Square]) -> None:
        """kept: squares that are in it from the first; those of another half-size play no part."""
        self._images = pieces.square(half_size, pieces.ROUND, "full").images
        self._least = least
        self._kept = [ways(each) for each in kept if each.half_size == half_size]

    def takes(self, square: Square) -> bool:
        """Whether the square differs enough from all before it; if so it is one of them from now on."""
        own = ways(square)
        if any(least_share(own, other, self._images) < self._least for other in self._kept):
            return False
        self._kept.append(own)
        return True

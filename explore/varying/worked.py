"""How pinholes are worked, and the share that has changed from one square to another.

Pinholes are worked alike as for the `constraints.difference` of two squares, but each is held against the one at its
own place.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from constraints.difference import BLOCK, DOUBLED, OF_KIND, PLAIN, kinds
from constraints.formula import truth
from constraints.lattice import BoolArray, IntArray
from constraints.layout import Layout, lay
from constraints.square import Square
from constraints.stitches import ALLOWED, DOUBLE, UNITS
from constraints.variables import Lace

_UNIT_NUMBERS = {name: number for number, name in enumerate(UNITS, start=1)}


def ways(square: Square) -> IntArray:
    """(n,) how each pinhole of a square is worked, as a number."""
    return kinds(lay(square))


def ways_of(lace: Lace, values: BoolArray) -> IntArray:
    """(n,) the same for the square that the values of a formula describe."""
    found = np.where(truth(values, lace.block), BLOCK, PLAIN)
    if DOUBLE in lace.labels.codes:
        holes = np.flatnonzero(lace.field_hole)
        double = truth(values, lace.labels.literals(DOUBLE, holes)).all(axis=1)
        found[lace.piece.holes[holes[double]]] = DOUBLED
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

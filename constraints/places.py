"""How every place of a piece is worked: in which stitch, in which figure and where in it, in which ground.

This is the one map by which pieces are compared. Numbers go by the order of the stitches and of the fillings; a place
in plain ground has PLAIN.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from constraints.edgings.own_figures import without_own
from constraints.fillings import FILLINGS, GROUNDS, NUMBERS, OF_KIND, UNITS
from constraints.lattice import BoolArray, IntArray
from constraints.layout import Layout, lay_on
from constraints.stitches import STITCHES

PLAIN = -1
KINDS = (*STITCHES, *UNITS, *GROUNDS)
KIND_NUMBERS = {kind: number for number, kind in enumerate(KINDS)}

# Sorts of places: those of one sort count as worked alike, blocks of whatever stitch, whatever figures of one filling.
OPEN, BLOCK = range(2)


def sort_of(kind: str) -> int:
    """The sort of places in a figure or a ground."""
    return BLOCK + 1 + NUMBERS[OF_KIND[kind].name]


_SORT_OF = np.array([*(BLOCK if kind in STITCHES else sort_of(kind) for kind in KINDS), OPEN])


def map_without_headside(layout: Layout) -> IntArray:
    """(n, 3) as `map_places`, without the figures that a headside brings with it, no filling of a field."""
    fillings = without_own(layout.design.fillings, layout.piece)
    if fillings == layout.design.fillings:
        return map_places(layout)
    return map_places(lay_on(replace(layout.design, fillings=fillings), layout.piece))


def map_places(layout: Layout) -> IntArray:
    """(n, 3) the number of what the place is worked in; of a figure also the way from the place to its centre."""
    found = np.zeros((len(layout.piece), 3), dtype=np.int64)
    ground = np.array([*(KIND_NUMBERS.get(name, PLAIN) for name in FILLINGS), PLAIN])[layout.ground]
    found[:, 0] = np.where(layout.inside, layout.stitch, ground)
    for placed in layout.units:
        found[placed.places, 0] = KIND_NUMBERS[placed.unit.name]
        found[placed.places, 1:] = _to_centre(placed.unit.size)
    return found


def sort_places(found: IntArray) -> IntArray:
    """(n,) of places (n, 3) the sort of each: OPEN in plain ground, BLOCK in blocks, one more for every filling."""
    told: IntArray = _SORT_OF[found[:, 0]]
    return told


def lie_in_blocks(found: IntArray) -> BoolArray:
    """(n,) whether places (n, 3) lie in a block."""
    lies: BoolArray = (found[:, 0] >= 0) & (found[:, 0] < len(STITCHES))
    return lies


def lie_in_fillings(found: IntArray) -> BoolArray:
    """(n,) whether places (n, 3) lie in a figure or in a ground."""
    lies: BoolArray = found[:, 0] >= len(STITCHES)
    return lies


def differ(found: IntArray, wanted: IntArray) -> BoolArray:
    """(n,) whether a place is worked otherwise than wanted: in another stitch, another figure, or elsewhere in it."""
    other: BoolArray = (found != wanted).any(axis=1)
    return other


def _to_centre(size: int) -> IntArray:
    """(size * size, 2) from each place of a figure to its centre, its top place first, as a layout lists them."""
    left, right = np.divmod(np.arange(size * size), size)
    return np.stack([left - right, size - 1 - left - right], axis=1)

"""How every place of a piece is worked: in which stitch, in which figure and where in it, or in open ground."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from constraints.lattice import BoolArray, IntArray
from constraints.layout import Layout, lay_on
from constraints.scallops import without_own
from constraints.stitches import STITCHES, UNITS

PLAIN = -1
# Blocks have the numbers of their stitches.
FIGURES = {name: number for number, name in enumerate(UNITS, start=len(STITCHES))}
DOUBLE_GROUND = len(STITCHES) + len(UNITS)


def places(layout: Layout) -> IntArray:
    """(n, 3) as `worked`, without the spiders that ground scallops bring with them: they are no filling of a field."""
    fillings = without_own(layout.design.fillings, layout.piece)
    return worked(lay_on(replace(layout.design, fillings=fillings), layout.piece))


def worked(layout: Layout) -> IntArray:
    """(n, 3) the number of what the place is worked in; of a figure also the way from the place to the figure's centre.
    """
    found = np.zeros((len(layout.piece), 3), dtype=np.int64)
    found[:, 0] = np.where(layout.double & ~layout.inside, DOUBLE_GROUND, layout.stitch)
    for placed in layout.units:
        found[placed.places, 0] = FIGURES[placed.unit.name]
        found[placed.places, 1:] = _to_centre(placed.unit.size)
    return found


def otherwise(found: IntArray, wanted: IntArray) -> BoolArray:
    """(n,) whether a place is worked otherwise than wanted: in another stitch, another figure, or elsewhere in it."""
    other: BoolArray = (found != wanted).any(axis=1)
    return other


def _to_centre(size: int) -> IntArray:
    """(size * size, 2) from each place of a figure to its centre, its top place first, as a layout lists them."""
    left, right = np.divmod(np.arange(size * size), size)
    return np.stack([left - right, size - 1 - left - right], axis=1)

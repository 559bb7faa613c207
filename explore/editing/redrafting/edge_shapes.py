"""The headsides that can be pricked, each with where its pins stand: curved off the grid."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cached_property, lru_cache

import numpy as np

from constraints.edgings import EDGINGS, Headside
from constraints.edgings.dressing import beside, to_edge
from constraints.edgings.outer_side import curved
from constraints.forms import Strip
from constraints.lattice import BoolArray, FloatArray
from constraints.piece import RIGHT_EDGE
from constraints.pins import pin_places
from constraints.repeats import repeat_of
from explore.editing.redrafting.blank import blank
from explore.editing.redrafting.net import nearest_even

# A mark within this of where a pin would stand (lattice units) is that pin.
TOUCH = 0.4
# Ground inside an edge, so that what lies along it does not reach the other one (units).
_GROUND = 8


@dataclass(frozen=True, eq=False)
class Shape:
    """One scallop or fan along a right edge, rows counted from its valley, columns from the edge, outwards.

    pins: (k, 2) where they are pricked. places: (k, 2) where they stand before the curve.
    """

    headside: Headside
    pins: FloatArray
    places: FloatArray

    @cached_property
    def off_grid(self) -> BoolArray:
        """(k,) the pins that stand near no pinhole."""
        found: BoolArray = np.linalg.norm(self.pins - nearest_even(self.pins), axis=1) > TOUCH
        return found

    def inner(self, rows: FloatArray) -> FloatArray:
        """How far inside the edge the headside begins in these rows, units."""
        depth = self.headside.depth
        found: FloatArray = depth - np.abs(rows % self.headside.period - depth)
        return found


@lru_cache(maxsize=1)
def shapes() -> tuple[Shape, ...]:
    """Every headside that pins can tell apart; pairs and stitch, which they often cannot, are the usual ones."""
    return tuple(_shape(each) for each in _headsides())


def shape_of(headside: Headside) -> Shape:
    """The shape of a headside."""
    wanted = replace(headside, stitch=headside.usual_stitch, first=0)
    return next(each for each in shapes() if each.headside == wanted)


def left_valley(headside: Headside, columns: int) -> int:
    """The row of a valley of the left edge: opposite, or by half a period or a row further on."""
    if columns % 2:
        return headside.first
    return headside.first + (headside.depth if headside.depth % 2 else 1)


def at_ends(headside: Headside) -> int:
    """The rows at each end of a strip that say little of its headside: a block that ends there is pinned, and ground
    stands in place of a figure that would be cut off."""
    return 1 if headside.figure is None else 2 * (headside.figure.size - 1)


def _headsides() -> Iterator[Headside]:
    for kind in EDGINGS.values():
        for depth in kind.depths:
            for pairs in kind.at_valley if kind.unbroken else kind.at_valley[:1]:
                yield kind(kind.usual_stitch, depth, pairs)


def _shape(headside: Headside) -> Shape:
    """Its pins on a strip of ground."""
    columns = headside.depth + _GROUND
    columns += columns % 2
    layout = repeat_of(blank(Strip(columns, headside.period, 2, headside)))
    piece, places = layout.piece, pin_places(layout)
    at = to_edge(piece, headside, RIGHT_EDGE, places, np.zeros(len(places), dtype=np.int64))
    own = at.across <= headside.depth - beside(piece, headside, RIGHT_EDGE, at)
    edge = np.array([columns - 1, 0])
    return Shape(headside, curved(piece, places)[own] - edge, places[own] - edge)

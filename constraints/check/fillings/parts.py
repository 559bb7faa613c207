"""What the rules on fillings read of a piece that is laid out: the fields of figures, and holes within them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import lru_cache

import numpy as np

from constraints.check.listing import Fault
from constraints.check.shape import of_headside
from constraints.lattice import BoolArray, IntArray
from constraints.layout import Layout, Placed, components, holes_below


def of_filling(layout: Layout, filling: str) -> list[Placed]:
    """The figures of one filling."""
    return [placed for placed in layout.units if placed.unit.filling == filling]


@lru_cache(maxsize=4)
def fields_below(layout: Layout) -> IntArray:
    """(n,) number of the field of the open hole below each pinhole, -1 where there is no open hole.

    An open hole has its four pinholes outside the blocks and inside the edge; holes that share two pinholes belong to
    one field.
    """
    free = np.append(~layout.inside & (layout.piece.depth >= 1), False)
    is_open = free[holes_below(layout.piece)].all(axis=1)
    return components(layout.piece.neighbours, np.where(is_open, 0, -1))


def field_of_each(layout: Layout, units: Sequence[Placed]) -> IntArray:
    """The field of each figure, -1 where its top hole is not open."""
    found: IntArray = np.concatenate(
        [np.zeros(0, dtype=np.int64), *(fields_below(layout)[placed.places[:, 0]] for placed in units)]
    )
    return found


def closed(layout: Layout, units: Sequence[Placed], words: str) -> Iterator[Fault]:
    """Figures some hole of which is not open, but for those that a headside brings with it: they lie in no field."""
    fields, corners, own_edge = fields_below(layout), holes_below(layout.piece), of_headside(layout)
    for placed in units:
        # The holes within a figure: those of which all four pinholes are the figure's.
        own = np.sort(placed.places, axis=1)
        within = _holes_within(corners[placed.places], own)
        shut = (within & (fields[placed.places] < 0) & ~own_edge[placed.places]).any(axis=1)
        if shut.any():
            yield words, layout.points(placed.places[shut].ravel())


def _holes_within(corners: IntArray, own: IntArray) -> BoolArray:
    """For holes below each place of each figure, (k, w, 4), whether all four corners are of `own`, (k, w)."""
    found: BoolArray = (corners[..., None] == own[:, None, None, :]).any(axis=3).all(axis=2)
    return found


def mixed(fields: IntArray, kinds: IntArray) -> IntArray:
    """The fields that hold more than one kind."""
    known = fields >= 0
    pairs = np.unique(np.stack([fields[known], kinds[known]], axis=1), axis=0)
    found, count = np.unique(pairs[:, 0], return_counts=True)
    return found[count > 1]

"""What the rules on fillings read of a piece that is laid out: the fields of figures, and holes within them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from constraints.check.listing import Fault
from constraints.check.shape import of_headside
from constraints.lattice import BoolArray, IntArray
from constraints.layout import Layout, Placed, holes


def of_filling(layout: Layout, filling: str) -> list[Placed]:
    """The figures of one filling."""
    return [placed for placed in layout.units if placed.unit.filling == filling]


def fields_of(layout: Layout, units: Sequence[Placed]) -> IntArray:
    """The field of each figure, -1 where its top hole is not open."""
    found: IntArray = np.concatenate(
        [np.zeros(0, dtype=np.int64), *(layout.fields[placed.places[:, 0]] for placed in units)]
    )
    return found


def closed(layout: Layout, units: Sequence[Placed], words: str) -> Iterator[Fault]:
    """Figures some hole of which is not open, but for those that a headside brings with it: they lie in no field."""
    fields, corners, own_edge = layout.fields, holes(layout.piece), of_headside(layout)
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

"""The rule on roses."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from constraints.check.fillings.parts import closed, field_of_each, mixed, of_filling
from constraints.check.limits import Limits
from constraints.check.listing import Fault
from constraints.layout import Layout


def rose(layout: Layout, limits: Limits) -> Iterator[Fault]:
    """Rose units take open holes of a field, in one alignment along both diagonals of the field."""
    yield from in_line(layout, "rose", "rose")


def in_line(layout: Layout, filling: str, noun: str) -> Iterator[Fault]:
    """Units of four pinholes that share their cross-overs with those beside them."""
    units = of_filling(layout, filling)
    yield from closed(layout, units, f"a {noun} unit lies on a block or beside the edge")
    if not units:
        return
    fields = field_of_each(layout, units)
    x, y = np.concatenate([placed.centres for placed in units]).T
    alignment = 2 * ((x + y) // 2 % 2) + (y - x) // 2 % 2
    uneven = mixed(fields, alignment)
    if len(uneven):
        places = np.concatenate([placed.places for placed in units])
        yield f"{noun} units of one field do not line up", layout.points(places[np.isin(fields, uneven)].ravel())

"""The rule on double ground."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from constraints.check.fillings.parts import field_of_each, fields_below
from constraints.check.limits import Limits
from constraints.check.listing import Fault
from constraints.layout import Layout, holes_below


def double_ground(layout: Layout, limits: Limits) -> Iterator[Fault]:
    """Double ground fills whole fields: each of their pinholes, except those in another field's units."""
    yield from whole_fields(layout, "double-ground", "double ground")


def whole_fields(layout: Layout, name: str, noun: str) -> Iterator[Fault]:
    """A ground takes every pinhole of its fields that no unit takes, nor another ground in a field beside it."""
    if name not in layout.grounds:
        return
    own, in_unit = layout.grounds[name], layout.unit_of >= 0
    clash = own & (layout.inside | in_unit)
    if clash.any():
        yield f"pinholes of {noun} that lie in a block or a unit", layout.points(clash)
    others = np.zeros(len(layout.piece), dtype=np.bool_)
    for other, places in layout.grounds.items():
        if other != name:
            others |= places
    if (own & others).any():
        yield f"pinholes of {noun} that lie in another ground", layout.points(own & others)
    fields, corners = fields_below(layout), holes_below(layout.piece)
    tops = np.flatnonzero(fields >= 0)
    taken = own | in_unit | others
    broken = np.unique(fields[tops[~taken[corners[tops]].all(axis=1)]])
    filled = field_of_each(layout, layout.units)
    whole = tops[~np.isin(fields[tops], np.concatenate([broken, filled]))]
    covered = np.zeros(len(layout.piece), dtype=np.bool_)
    covered[corners[whole].ravel()] = True
    loose = own & ~covered
    if loose.any():
        yield f"{noun} that does not fill its whole field", layout.points(loose)

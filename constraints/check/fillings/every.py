"""Rules on all fillings alike."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from constraints.check.fillings.parts import field_of_each, fields_below, mixed
from constraints.check.limits import Limits
from constraints.check.listing import Fault
from constraints.layout import Layout, holes_below


def one_filling(layout: Layout, limits: Limits) -> Iterator[Fault]:
    """A field is filled with one kind of figure only, of one size."""
    fields = field_of_each(layout, layout.units)
    kinds = [placed.unit.name for placed in layout.units]
    numbers = {kind: number for number, kind in enumerate(kinds)}
    own = np.array([numbers[placed.unit.name] for placed in layout.units for _ in placed.places], dtype=np.int64)
    for field in mixed(fields, own):
        words = " and ".join(sorted({kinds[number] for number in own[fields == field]}))
        corners = holes_below(layout.piece)[np.isin(fields_below(layout), np.array([field]))]
        yield f"one field holds {words}", layout.points(corners.ravel())


def one_unit(layout: Layout, limits: Limits) -> Iterator[Fault]:
    """A pinhole belongs to one unit at most."""
    taken = np.concatenate([np.zeros(0, dtype=np.int64), *(placed.places.ravel() for placed in layout.units)])
    twice = np.bincount(taken, minlength=len(layout.piece)) > 1
    if twice.any():
        yield "pinholes taken by two units", layout.points(twice)


def quarter(layout: Layout, limits: Limits) -> Iterator[Fault]:
    """All pinholes of a unit are worked without turning the pillow."""
    for placed in layout.units:
        zones = layout.piece.zone[placed.places]
        turned = (zones != zones[:, :1]).any(axis=1)
        if turned.any():
            what = f"{placed.unit.name} units lie over a corner line"
            yield what, layout.points(placed.places[turned].ravel())

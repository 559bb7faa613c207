"""What the rules on fillings share: fields of a design that is laid out, figures in line, grounds of whole fields."""

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

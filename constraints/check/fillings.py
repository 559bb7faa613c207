"""Rules on the fillings of the open fields."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from constraints.check.limits import Limits
from constraints.check.listing import Fault
from constraints.check.shape import in_scallops
from constraints.lattice import BoolArray, IntArray
from constraints.layout import Layout, Placed, holes
from constraints.stitches import ROSE, SPIDER


def one_filling(layout: Layout, limits: Limits) -> Iterator[Fault]:
    """A field is filled with one kind of unit only: roses, or spiders of one size."""
    fields = np.concatenate([_field(layout, placed) for placed in layout.units] or [_nothing()])
    kinds = [placed.unit.name for placed in layout.units]
    names = np.repeat(np.arange(len(kinds)), [len(placed.places) for placed in layout.units])
    first = {name: kinds.index(name) for name in kinds}
    names = np.array([first[name] for name in kinds], dtype=np.int64)[names]
    for field in _mixed(fields, names):
        words = " and ".join(sorted({kinds[name] for name in names[fields == field]}))
        yield f"one field holds {words}", _pinholes_of_fields(layout, np.array([field]))


def rose(layout: Layout, limits: Limits) -> Iterator[Fault]:
    """Rose units take open holes of a field, in one alignment along both diagonals of the field."""
    roses = [placed for placed in layout.units if placed.unit.kind == ROSE]
    yield from _closed(layout, roses, "a rose unit lies on a block or beside the edge")
    if not roses:
        return
    fields = np.concatenate([_field(layout, placed) for placed in roses])
    x, y = np.concatenate([placed.centres for placed in roses]).T
    alignment = 2 * ((x + y) // 2 % 2) + (y - x) // 2 % 2
    mixed = _mixed(fields, alignment)
    if len(mixed):
        places = np.concatenate([placed.places for placed in roses])
        yield "rose units of one field do not line up", layout.points(places[np.isin(fields, mixed)].ravel())


def spider(layout: Layout, limits: Limits) -> Iterator[Fault]:
    """Spiders lie on open holes of a field, and no spider's pinhole stands in the ring of another."""
    spiders = [placed for placed in layout.units if placed.unit.kind == SPIDER]
    yield from _closed(layout, _of_fields(layout, spiders), "a spider lies on a block or beside the edge")
    number = np.full(len(layout.piece) + 1, -1)
    first = 0
    for placed in spiders:
        number[placed.places] = first + np.arange(len(placed.places))[:, None]
        first += len(placed.places)
    beside = number[layout.piece.neighbours]
    here = number[:-1, None]
    touching = ((here >= 0) & (beside >= 0) & (beside != here)).any(axis=1)
    if touching.any():
        yield "spiders touch: a leg's pin cannot be part of another spider", layout.points(touching)


def _of_fields(layout: Layout, placed: list[Placed]) -> list[Placed]:
    """The spiders but for those of ground scallops, which lie in no field."""
    own = in_scallops(layout)
    kept = [(each, ~own[each.places].any(axis=1)) for each in placed]
    return [Placed(each.unit, each.centres[here], each.places[here]) for each, here in kept]


def one_unit(layout: Layout, limits: Limits) -> Iterator[Fault]:
    """A pinhole belongs to one unit at most."""
    taken = np.concatenate([placed.places.ravel() for placed in layout.units] or [_nothing()])
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


def double_ground(layout: Layout, limits: Limits) -> Iterator[Fault]:
    """Double ground fills whole fields: each of their pinholes, except those in another field's units."""
    clash = layout.double & (layout.inside | (layout.unit_of >= 0))
    if clash.any():
        yield "pinholes of double ground that lie in a block or a unit", layout.points(clash)
    fields, corners = layout.fields, holes(layout.piece)
    tops = np.flatnonzero(fields >= 0)
    listed_or_unit = layout.double | (layout.unit_of >= 0)
    broken = np.unique(fields[tops[~listed_or_unit[corners[tops]].all(axis=1)]])
    filled = np.concatenate([_field(layout, placed) for placed in layout.units] or [_nothing()])
    whole = tops[~np.isin(fields[tops], np.concatenate([broken, filled]))]
    covered = np.zeros(len(layout.piece), dtype=np.bool_)
    covered[corners[whole].ravel()] = True
    loose = layout.double & ~covered
    if loose.any():
        yield "double ground that does not fill its whole field", layout.points(loose)


def _nothing() -> IntArray:
    return np.zeros(0, dtype=np.int64)


def _field(layout: Layout, placed: Placed) -> IntArray:
    """The field of each unit, -1 where its top hole is not open."""
    return layout.fields[placed.places[:, 0]]


def _closed(layout: Layout, units: list[Placed], words: str) -> Iterator[Fault]:
    fields, corners = layout.fields, holes(layout.piece)
    for placed in units:
        # The holes within a unit: those of which all four pinholes are the unit's.
        own = np.sort(placed.places, axis=1)
        within = _holes_within(corners[placed.places], own)
        shut = (within & (fields[placed.places] < 0)).any(axis=1)
        if shut.any():
            yield words, layout.points(placed.places[shut].ravel())


def _holes_within(corners: IntArray, own: IntArray) -> BoolArray:
    """For holes below each place of each unit, (k, w, 4), whether all four corners are of `own`, (k, w)."""
    found: BoolArray = (corners[..., None] == own[:, None, None, :]).any(axis=3).all(axis=2)
    return found


def _mixed(fields: IntArray, kinds: IntArray) -> IntArray:
    """The fields that hold more than one kind."""
    known = fields >= 0
    pairs = np.unique(np.stack([fields[known], kinds[known]], axis=1), axis=0)
    found, count = np.unique(pairs[:, 0], return_counts=True)
    return found[count > 1]


def _pinholes_of_fields(layout: Layout, fields: IntArray) -> tuple[tuple[int, int], ...]:
    return layout.points(holes(layout.piece)[np.isin(layout.fields, fields)].ravel())

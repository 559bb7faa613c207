"""Fillings that come together in one field made to agree: those of one kind stay."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, replace

import numpy as np

from constraints.alignment import stands
from constraints.design import FieldFilling
from constraints.edgings.own_figures import Fillings
from constraints.fillings import OF_KIND, UNITS
from constraints.lattice import BoolArray, Point
from constraints.layout import as_points, fields_of
from constraints.piece import Piece

# A filling's words, its legs, and of figures in line where they stand in their field.
Kind = tuple[str, int, int]
# One figure that goes before others counts for more than all of these.
_BEFORE = 10**6


@dataclass(frozen=True)
class _Figure:
    """A listed figure without its place. least: the least place that the symmetry takes it to."""

    listed: FieldFilling
    place: Point
    field: int
    kind: Kind
    least: Point


def agreed(piece: Piece, inside: BoolArray, first: Fillings, then: Fillings = ()) -> Fillings:
    """The fillings with one kind in every field of a piece: the most frequent, of `first` before `then`.

    inside: (n,) the places of blocks. Figures of a headside are none of them.
    """
    before, after = _figures(piece, inside, first), _figures(piece, inside, then)
    weights: dict[int, Counter[Kind]] = {}
    least: dict[tuple[int, Kind], Point] = {}
    for figures, weight in ((before, _BEFORE), (after, 1)):
        for each in figures:
            weights.setdefault(each.field, Counter())[each.kind] += weight
            own = (each.field, each.kind)
            least[own] = min(each.least, least.get(own, each.least))
    # Of kinds as frequent as each other the first by name stays, then that with the least place, in every image of the
    # field alike.
    stays = {
        field: min(kinds, key=lambda kind: (-kinds[kind], kind[:2], least[field, kind]))
        for field, kinds in weights.items()
    }
    kept: dict[FieldFilling, set[Point]] = {}
    for each in (*before, *after):
        if stays[each.field] == each.kind:
            kept.setdefault(each.listed, set()).add(each.place)
    even = ((each, _symmetric(piece, places)) for each, places in kept.items())
    return tuple(replace(each, places=places) for each, places in even if places)


def _symmetric(piece: Piece, places: set[Point]) -> tuple[Point, ...]:
    """The places that the symmetry takes to others of them, sorted by y, then x."""
    points = np.array(sorted(places, key=lambda place: place[::-1]), dtype=np.int64)
    moved = piece.setting.moved(points, piece.symmetry)
    whole = [all((x, y) in places for x, y in orbit) for orbit in moved.transpose(1, 0, 2).tolist()]
    return tuple((x, y) for (x, y), stays in zip(points.tolist(), whole, strict=True) if stays)


def _figures(piece: Piece, inside: BoolArray, fillings: Fillings) -> list[_Figure]:
    """All figures, but those in line in fields that come back to themselves out of line."""
    field = fields_of(piece, inside)
    stand = stands(piece, field)
    found = []
    for each in fillings:
        unit = UNITS.get(each.kind)
        aligned, legs = (False, 0) if unit is None else (unit.aligned, unit.legs)
        moved = piece.setting.moved(as_points(each.places), piece.symmetry)
        for place, orbit in zip(each.places, moved.transpose(1, 0, 2).tolist(), strict=True):
            hole = _hole_of(piece, place)
            own, line = (-1, -1) if hole is None else (int(field[hole]), int(stand[hole]))
            if not aligned or line >= 0 or own < 0:
                kind = (OF_KIND[each.kind].words, legs, line if aligned else 0)
                found.append(_Figure(replace(each, places=()), place, own, kind, min((x, y) for x, y in orbit)))
    return found


def _hole_of(piece: Piece, place: Point) -> int | None:
    """The hole of a figure, or one beside it; None for none."""
    x, y = place
    beside = ((x, y), (x + 1, y), (x, y + 1), (x - 1, y), (x, y - 1))
    return next((piece.hole_index[each] for each in beside if each in piece.hole_index), None)

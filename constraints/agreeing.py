"""Fillings that come together in one field made to agree: those of one kind stay."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from constraints.lattice import BoolArray, IntArray, Point
from constraints.layout import fields_of
from constraints.piece import Piece
from constraints.scallops import Fillings
from constraints.square import FieldFilling
from constraints.stitches import FILLINGS, ROSE

# A filling's words, its legs, and of roses where they stand on the grid of holes.
Kind = tuple[str, int, tuple[int, int]]
_ROSE = FILLINGS[ROSE].words
# One figure that goes before others counts for more than all of these.
_BEFORE = 10**6


def agreed(piece: Piece, inside: BoolArray, first: Fillings, then: Fillings = ()) -> Fillings:
    """The fillings with one kind in every field of a piece: the most frequent, of `first` before `then`.

    inside: (n,) the places of blocks. Spiders of a headside are none of them.
    """
    field = fields_of(piece, inside)
    found: dict[int, Counter[Kind]] = {}
    for fillings, weight in ((first, _BEFORE), (then, 1)):
        for kind, place, _ in _figures(fillings):
            found.setdefault(_field_of(piece, field, place), Counter())[kind] += weight
    # Of kinds as frequent as each other the first by name stays, in every image of the field alike.
    stays = {number: min(kinds, key=lambda kind: (-kinds[kind], kind)) for number, kinds in found.items()}
    kept: dict[FieldFilling, set[Point]] = {}
    for kind, place, each in _figures((*first, *then)):
        if stays[_field_of(piece, field, place)] == kind:
            kept.setdefault(replace(each, places=()), set()).add(place)
    even = ((each, _symmetric(piece, places)) for each, places in kept.items())
    return tuple(replace(each, places=places) for each, places in even if places)


def _symmetric(piece: Piece, places: set[Point]) -> tuple[Point, ...]:
    """The places that the symmetry takes to others of them, sorted by y, then x."""
    points = np.array(sorted(places, key=lambda place: place[::-1]), dtype=np.int64)
    moved = piece.setting.moved(points, piece.symmetry)
    whole = [all((x, y) in places for x, y in orbit) for orbit in moved.transpose(1, 0, 2).tolist()]
    return tuple((x, y) for (x, y), stays in zip(points.tolist(), whole, strict=True) if stays)


def _figures(fillings: Fillings) -> Iterator[tuple[Kind, Point, FieldFilling]]:
    for each in fillings:
        for x, y in each.places:
            stand = ((x + y) // 2 % 2, (y - x) // 2 % 2) if each.filling == _ROSE else (0, 0)
            yield (each.filling, each.legs, stand), (x, y), each


def _field_of(piece: Piece, field: IntArray, place: Point) -> int:
    """The field of a figure, by a hole inside it or beside it; -1 for none."""
    x, y = place
    beside = ((x, y), (x + 1, y), (x, y + 1), (x - 1, y), (x, y - 1))
    return next((int(field[piece.hole_index[each]]) for each in beside if each in piece.hole_index), -1)

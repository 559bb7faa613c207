"""The spiders that ground scallops bring with them, among the fillings that a piece lists."""

from __future__ import annotations

from dataclasses import replace

from constraints.design import FieldFilling
from constraints.headside import spiders
from constraints.lattice import Point
from constraints.piece import Piece
from constraints.stitches import FILLINGS, SPIDER

_WORDS = FILLINGS[SPIDER].words

Fillings = tuple[FieldFilling, ...]


def without_own(fillings: Fillings, piece: Piece) -> Fillings:
    """The fillings without the spiders of the headside."""
    own = _own(piece)
    legs = 0 if piece.headside is None else piece.headside.legs
    kept = [
        replace(each, places=tuple(place for place in each.places if place not in own))
        if own and (each.filling, each.legs) == (_WORDS, legs)
        else each
        for each in fillings
    ]
    return tuple(each for each in kept if each.places)


def with_own(fillings: Fillings, piece: Piece) -> Fillings:
    """The fillings with a spider in every ground scallop of the headside."""
    own = _own(piece)
    if piece.headside is None or not own:
        return fillings
    legs = piece.headside.legs
    alike = [each for each in fillings if (each.filling, each.legs) == (_WORDS, legs)]
    places = own.union(*(each.places for each in alike))
    together = FieldFilling(_WORDS, tuple(sorted(places, key=lambda place: place[::-1])), legs)
    return (*(each for each in fillings if each not in alike), together)


def _own(piece: Piece) -> frozenset[Point]:
    return frozenset((x, y) for x, y in spiders(piece).tolist())

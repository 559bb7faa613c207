"""The figures that a headside brings with it, among the fillings that a piece lists."""

from __future__ import annotations

from dataclasses import replace

from constraints.design import FieldFilling
from constraints.edgings.dressing import figures
from constraints.fillings import FILLINGS
from constraints.lattice import Point, in_order
from constraints.piece import Piece

Fillings = tuple[FieldFilling, ...]


def without_own(fillings: Fillings, piece: Piece) -> Fillings:
    """The fillings without the figures of the headside."""
    own, listed = _own(piece), _listed(piece)
    kept = [
        replace(each, places=tuple(place for place in each.places if place not in own))
        if own and (each.filling, each.legs) == listed
        else each
        for each in fillings
    ]
    return tuple(each for each in kept if each.places)


def with_own(fillings: Fillings, piece: Piece) -> Fillings:
    """The fillings with all figures of the headside."""
    own, listed = _own(piece), _listed(piece)
    if listed is None or not own:
        return fillings
    alike = [each for each in fillings if (each.filling, each.legs) == listed]
    places = own.union(*(each.places for each in alike))
    words, legs = listed
    together = FieldFilling(words, in_order(places), legs)
    return (*(each for each in fillings if each not in alike), together)


def _own(piece: Piece) -> frozenset[Point]:
    return frozenset((x, y) for x, y in figures(piece).tolist())


def _listed(piece: Piece) -> tuple[str, int] | None:
    """The words and the legs under which the figures of the headside are listed."""
    figure = None if piece.headside is None else piece.headside.figure
    return None if figure is None else (FILLINGS[figure.filling].words, figure.legs)

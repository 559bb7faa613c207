"""The figures that a headside brings with it, among the fillings that a piece lists."""

from __future__ import annotations

from dataclasses import replace

from constraints.design import FieldFilling
from constraints.edgings.dressing import figures
from constraints.lattice import Point, in_order
from constraints.piece import Piece

Fillings = tuple[FieldFilling, ...]


def without_own(fillings: Fillings, piece: Piece) -> Fillings:
    """The fillings without the figures of the headside."""
    own, listed = _own(piece), _listed(piece)
    kept = [
        replace(each, places=tuple(place for place in each.places if place not in own))
        if own and each.kind == listed
        else each
        for each in fillings
    ]
    return tuple(each for each in kept if each.places)


def with_own(fillings: Fillings, piece: Piece) -> Fillings:
    """The fillings with all figures of the headside."""
    own, listed = _own(piece), _listed(piece)
    if listed is None or not own:
        return fillings
    alike = [each for each in fillings if each.kind == listed]
    places = own.union(*(each.places for each in alike))
    return (*(each for each in fillings if each not in alike), FieldFilling(listed, in_order(places)))


def _own(piece: Piece) -> frozenset[Point]:
    return frozenset((x, y) for x, y in figures(piece).tolist())


def _listed(piece: Piece) -> str | None:
    """The kind of filling of the figures of the headside."""
    figure = None if piece.headside is None else piece.headside.figure
    return None if figure is None else figure.name

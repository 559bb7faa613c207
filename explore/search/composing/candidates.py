"""Figures that a square with its print has room for, each valid by itself."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache

import numpy as np

from constraints.corners import HALVES
from constraints.lattice import BoolArray, IntArray
from constraints.piece import Piece
from constraints.rules.one_worker import notches
from constraints.ruleset import Rules
from explore.search.compose.canvas import Canvas
from explore.search.compose.parts import Random
from explore.search.composing.desk import Desk
from explore.search.composing.families import FAMILIES, WIDEST
from explore.search.composing.manners import Manner

# So many figures of a family are offered, by how much the manner likes it, and so many are drawn for each.
_OFFERED, _DRAWN = (9, 26, 45), 3
# Units from the centre within which no figure finds room.
_LEAST_REACH = 5


@dataclass(frozen=True, eq=False)
class Candidate:
    """A figure with all its images. family: one of FAMILIES. symmetry: which those are of. places: indices of its
    pinholes, rising."""

    family: str
    symmetry: str
    places: IntArray

    @property
    def running(self) -> bool:
        """Whether it goes all round."""
        return FAMILIES[self.family].running


@dataclass(frozen=True, eq=False)
class _Shapes:
    """What of the rules a figure must keep by itself."""

    piece: Piece
    rules: Rules

    @cached_property
    def _notches(self) -> tuple[IntArray, IntArray]:
        return notches(self.piece, self.rules.corners)

    @cached_property
    def _squares(self) -> IntArray:
        squares = self.piece.lattice_squares(self.rules.narrowest)
        return squares[self.piece.one_zone(squares)] if self.rules.corners else squares

    @cached_property
    def _grounds(self) -> IntArray:
        return self.piece.lattice_squares(self.rules.narrowest_ground)

    @cached_property
    def _too_wide(self) -> IntArray:
        """Squares that no block may fill; none where the rules allow whatever is drawn."""
        none = np.zeros((0, 1), dtype=np.int64)
        return none if self.rules.widest >= WIDEST else self.piece.lattice_squares(self.rules.widest + 1)

    def sound(self, block: BoolArray) -> bool:
        """Whether a figure, (n,), neither splits nor is anywhere too narrow or too wide, and leaves no ground too
        narrow."""
        inside, missing = self._notches
        if (block[inside].all(axis=1) & ~block[missing]).any():
            return False
        if block[self._too_wide].all(axis=1).any():
            return False
        wide = np.zeros(len(block), dtype=np.bool_)
        wide[self._squares[block[self._squares].all(axis=1)]] = True
        if (wide != block).any():
            return False
        wide[self._grounds[~block[self._grounds].any(axis=1)]] = True
        return bool((wide | (self.piece.depth < 1)).all())


@lru_cache(maxsize=64)
def _shapes(piece: Piece, rules: Rules) -> _Shapes:
    return _Shapes(piece, rules)


def desk_of(canvas: Canvas) -> Desk:
    """What figures are drawn on beside what a canvas holds."""
    rules, own = canvas.model.rules, (canvas.part == 0) & ~canvas.piece.fan
    return Desk(canvas.piece, canvas.outer, rules.narrowest, own, rules.corners == HALVES)


def _spread(
    canvas: Canvas, places: IntArray, orders: Sequence[str], shut: Mapping[str, BoolArray]
) -> tuple[str, IntArray] | None:
    """Places with all their images under the first of some symmetries that leaves other blocks alone, and its name;
    None if none does. shut: see `Canvas`."""
    for symmetry in orders:
        if symmetry in shut and not shut[symmetry][places].any():
            found = canvas.fitting(places, symmetry, 1)
            if found is not None:
                return symmetry, found
    return None


def figures(canvas: Canvas, manner: Manner, rng: Random) -> list[Candidate]:
    """Figures for a canvas that holds a print, or nothing, most of those that the manner is after."""
    piece, rules = canvas.piece, canvas.model.rules
    desk = desk_of(canvas)
    if desk.reach < _LEAST_REACH:
        return []
    shapes = _shapes(piece, rules)
    shut = canvas.shut()
    found: dict[bytes, Candidate] = {}
    for name, family in FAMILIES.items():
        offered, wanted = 0, _OFFERED[manner.liking(name)]
        for _ in range(_DRAWN * wanted):
            drawn = family.draw(desk, rng)
            if drawn is None or offered == wanted:
                break
            spread = _spread(canvas, np.flatnonzero(drawn), family.orders, shut) if drawn.any() else None
            if spread is None:
                continue
            block = np.zeros(len(piece), dtype=np.bool_)
            block[spread[1]] = True
            key = block.tobytes()
            if key not in found and shapes.sound(block):
                found[key] = Candidate(name, *spread)
                offered += 1
    return list(found.values())

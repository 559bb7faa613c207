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
from constraints.variables import Model
from explore.search.compose.canvas import Canvas
from explore.search.compose.parts import Random
from explore.search.composing.desk import Desk
from explore.search.composing.families import FAMILIES, WIDEST
from explore.search.composing.manners import Manner

# So many figures of a family are offered, by how much the manner likes it; so many are drawn for all manners, at random
# but always the same, until there are enough.
_OFFERED, _DRAWN, _ENOUGH = (6, 18, 40), 500, 100
# Beside a print figures in pieces of fewer places on the mean are crumbs, unless they stand in a row.
_CRUMB = 16
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
        inside, missing = notches(self.piece, self.rules.corners)
        return _by_place(inside), missing

    @cached_property
    def _squares(self) -> IntArray:
        squares = self.piece.lattice_squares(self.rules.narrowest)
        return _by_place(squares[self.piece.one_zone(squares)] if self.rules.corners else squares)

    @cached_property
    def _grounds(self) -> IntArray:
        return _by_place(self.piece.lattice_squares(self.rules.narrowest_ground))

    @cached_property
    def _too_wide(self) -> IntArray:
        """Squares that no block may fill; none where the rules allow whatever is drawn."""
        none = np.zeros((1, 0), dtype=np.int64)
        return none if self.rules.widest >= WIDEST else _by_place(self.piece.lattice_squares(self.rules.widest + 1))

    def sound(self, block: BoolArray) -> bool:
        """Whether a figure, (n,), neither splits nor is anywhere too narrow or too wide, and leaves no ground too
        narrow."""
        inside, missing = self._notches
        if (block[inside].all(axis=0) & ~block[missing]).any():
            return False
        if block[self._too_wide].all(axis=0).any():
            return False
        wide = np.zeros(len(block), dtype=np.bool_)
        wide[self._squares[:, block[self._squares].all(axis=0)]] = True
        if (wide != block).any():
            return False
        wide[self._grounds[:, ~block[self._grounds].any(axis=0)]] = True
        return bool((wide | (self.piece.depth < 1)).all())


def _by_place(rows: IntArray) -> IntArray:
    """(places, k) of (k, places): numpy asks far sooner whether all of a few rows hold than all of a few columns."""
    return np.ascontiguousarray(rows.T)


@lru_cache(maxsize=64)
def _shapes(piece: Piece, rules: Rules) -> _Shapes:
    return _Shapes(piece, rules)


def pieces(piece: Piece, blocks: BoolArray) -> IntArray:
    """(...,) of how many pieces that do not touch along a step blocks, (..., n), are, less the openings that they go
    round: by Euler's count, places less steps plus holes."""
    beside = piece.neighbours[:, :2]
    tail, step = np.nonzero(beside >= 0)
    steps = blocks[..., tail] & blocks[..., beside[tail, step]]
    holes = blocks[..., piece.holes].all(axis=-1)
    found: IntArray = blocks.sum(axis=-1) - steps.sum(axis=-1) + holes.sum(axis=-1)
    return found


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


def repertory(canvas: Canvas) -> tuple[Candidate, ...]:
    """Figures of all families for a canvas that holds a print, or nothing."""
    return _repertory(canvas.model, canvas.block.tobytes(), canvas.keep_off.tobytes())


# Jobs take turns with the places of a print, a dozen or two.
@lru_cache(maxsize=48)
def _repertory(model: Model, block: bytes, keep_off: bytes) -> tuple[Candidate, ...]:
    own, off = (np.frombuffer(each, dtype=np.bool_).copy() for each in (block, keep_off))
    canvas = Canvas(model, own, off)
    desk, rng = desk_of(canvas), np.random.default_rng(len(own))
    if desk.reach < _LEAST_REACH:
        return ()
    shapes, shut = _shapes(canvas.piece, model.rules), canvas.shut()
    beside_print = not canvas.small and bool(desk.print.any())
    found: dict[bytes, Candidate] = {}
    drawn_before: set[bytes] = set()
    for name, family in FAMILIES.items():
        enough = len(found) + _ENOUGH
        for _ in range(_DRAWN):
            drawn = family.draw(desk, rng)
            if drawn is None or len(found) == enough:
                break
            if (key := drawn.tobytes()) in drawn_before or not drawn.any():
                continue
            drawn_before.add(key)
            spread = _spread(canvas, np.flatnonzero(drawn), family.orders, shut)
            if spread is None:
                continue
            figure = np.zeros(len(own), dtype=np.bool_)
            figure[spread[1]] = True
            crumbs = (
                beside_print
                and not (family.running or family.row)
                and figure.sum() < _CRUMB * pieces(canvas.piece, figure)
            )
            if not crumbs and (key := figure.tobytes()) not in found and shapes.sound(figure):
                found[key] = Candidate(name, *spread)
    return tuple(found.values())


def offered(every: Sequence[Candidate], manner: Manner, rng: Random) -> list[Candidate]:
    """Some figures of each family, most of those that a manner is after."""
    wanted = {name: _OFFERED[manner.liking(name)] for name in FAMILIES}
    chosen = []
    for number in rng.permutation(len(every)).tolist():
        if wanted[every[number].family]:
            wanted[every[number].family] -= 1
            chosen.append(number)
    return [every[number] for number in sorted(chosen)]

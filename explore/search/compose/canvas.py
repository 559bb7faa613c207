"""A canvas: the blocks laid so far, and what may still be laid."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import cached_property

import numpy as np

from constraints.lattice import BoolArray, IntArray
from constraints.piece import Piece
from constraints.rulebook import BLOCK_NAMES
from constraints.variables import Model
from explore.search.laying.blocking import as_values

# Round a print lie so many rows of plain ground, so that it is known, before anything else begins.
ROWS_OF_GROUND = 2
# A square of so many pinholes (half-size 19) is a small one.
SMALL = 800
# Symmetries that an ornament may take, the fullest first.
ORDERLY = ("full", "upright-mirrors", "diagonal-mirrors", "quarter-turn", "half-turn", "upright-mirror")


@dataclass(eq=False)
class Canvas:
    """The blocks of a square while it is composed. `model` holds the block rules only.

    block: (n,) places laid. part: (n,) number of the part that laid each place, 0 for the stamp, -1 for
    none. keep_off: (n,) places that must stay open for the stamp's sake.
    """

    model: Model
    block: BoolArray
    keep_off: BoolArray
    part: IntArray = field(init=False)
    names: list[str] = field(default_factory=lambda: ["stamp"])

    def __post_init__(self) -> None:
        self.part = np.where(self.block, 0, -1)
        self._settle(self.block)

    def copied(self) -> Canvas:
        """Another canvas that holds the same before anything else is laid."""
        return Canvas(self.model, self.block.copy(), self.keep_off)

    @cached_property
    def round_stamp(self) -> BoolArray:
        """(n,) the stamp's blocks, and the rows of plain ground round them."""
        return self.piece.widened((self.part == 0) & ~self.piece.fan, ROWS_OF_GROUND)

    @property
    def piece(self) -> Piece:
        return self.model.piece

    @property
    def small(self) -> bool:
        """Whether there is little room beside a print."""
        return len(self.piece) <= SMALL

    @property
    def outer(self) -> int:
        """How far from the centre a block may reach all round, units: within the margin, and off a headside's fans."""
        fan = 0 if self.piece.headside is None else self.piece.headside.depth
        return int(np.abs(self.piece.pinholes).max()) - fan - self.model.rules.margin

    @property
    def solid(self) -> float:
        """Share of all pinholes that lie in blocks, a headside aside."""
        return float(self.block[~self.piece.fan].mean())

    def add(self, name: str, places: BoolArray, air: int = 2, most_solid: float = 1.0) -> bool:
        """Lay a part and its images if they keep `air` steps off all other blocks and every rule holds.

        air 1 lets it touch other blocks point to point.
        """
        spread = self.fitting(np.flatnonzero(places), "none", air)
        return spread is not None and self._lay(name, [spread], most_solid)

    def shut(self) -> dict[str, BoolArray]:
        """(n,) by each symmetry that the piece can have: where nothing can lie that it takes to all its images, as what
        is laid stands now."""
        closed = self._taken | self._near[1] | self.round_stamp
        names = [name for name in ORDERLY if self.piece.closed_under(name)]
        return {name: np.any(closed[self.piece.images_under(name)], axis=0) for name in names}

    def lay(self, parts: Sequence[tuple[str, IntArray]]) -> None:
        """Lay parts, each by its name, that are known to keep the rules."""
        together = self.block.copy()
        for _, places in parts:
            together[places] = True
        self._settle(together)
        for name, places in parts:
            self.names.append(name)
            self.part[places] = len(self.names) - 1

    def add_alike(self, name: str, places: BoolArray, air: int = 2, most_solid: float = 1.0) -> bool:
        """Lay a part in all the places that a square gives it, or else in as many as make an orderly whole.

        So the ornament keeps its order where the stamp has little symmetry.
        """
        return any(self._lay(name, [spread], most_solid) for spread in self._orderly(np.flatnonzero(places), air))

    def add_all(self, name: str, parts: Sequence[IntArray], alike: bool, most_solid: float) -> None:
        """Lay as many of the parts (indices of their places) as fit, in their order, until the square is full.

        The parts must not come near each other. alike: each in the fullest order that is free.
        """
        chosen: list[IntArray] = []
        count = int(self.block.sum())
        claimed = np.zeros(len(self.block), dtype=bool)
        for places in parts:
            spreads = self._orderly(places, 2) if alike else [self.fitting(places, "none", 2)]
            spread = next((each for each in spreads if each is not None and not claimed[each].any()), None)
            if spread is None:
                continue
            count += len(spread)
            if count > most_solid * len(claimed):
                break
            claimed[spread] = True
            chosen.append(spread)
        self._lay_most(name, chosen)

    def holds(self, block: BoolArray) -> bool:
        """Whether these block places keep the block rules; the share of solid only has to hold at the end."""
        return not self.model.formula.broken(as_values(self.model, block), BLOCK_NAMES)

    def clearance(self) -> IntArray:
        """(n,) neighbour steps from each open pinhole to the nearest block, kept-off place or margin."""
        steps = np.where(self._taken, 0, -1)
        front, distance = self._taken, 0
        while True:
            distance += 1
            wider = self.piece.widened(front, 1)
            fresh = wider & (steps < 0)
            if not fresh.any():
                return steps
            steps[fresh] = distance
            front = wider

    def _settle(self, block: BoolArray) -> None:
        """Take these places as laid, and remember what they close to others."""
        self.block = block
        self._taken = block | self.keep_off | (self.piece.depth < self.model.rules.margin)
        near = self.piece.widened(block, 1)
        self._near = {1: near, 2: self.piece.widened(near, 1)}

    def fitting(self, places: IntArray, symmetry: str, air: int) -> IntArray | None:
        """The places with all their images under both symmetries, None if one of them is not free."""
        closed = self._taken | self._near[max(air, 1)] | self.round_stamp
        for images in (self.piece.images_under(symmetry), self.piece.images):
            if closed[places].any():
                return None
            spread = np.zeros(len(closed), dtype=np.bool_)
            spread[images[:, places]] = True
            places = np.flatnonzero(spread)
        places = self._trimmed(places)
        return None if len(places) < 4 or closed[places].any() else places

    @cached_property
    def _squares(self) -> tuple[IntArray, BoolArray]:
        """(places, squares) all lattice squares of the least width, and whether each lies in one quarter."""
        squares = self.piece.lattice_squares(self.model.rules.narrowest)
        # By place: numpy asks far sooner whether all of a few rows hold than all of a few columns.
        return np.ascontiguousarray(squares.T), self.piece.one_zone(squares)

    def _trimmed(self, places: IntArray) -> IntArray:
        """The places but for tips that are wide enough only across a corner line, such as those of a sharp corner."""
        squares, within = self._squares
        if not self.model.rules.corners or within.all():
            return places
        held = np.zeros(len(self.piece), dtype=np.bool_)
        held[places] = True
        while True:
            whole = held[squares].all(axis=0)
            thin = np.zeros(len(held), dtype=np.bool_)
            thin[squares[:, whole & ~within]] = True
            thin[squares[:, whole & within]] = False
            if not thin.any():
                return np.flatnonzero(held)
            held &= ~thin

    def _orderly(self, places: IntArray, air: int) -> list[IntArray]:
        """The distinct ways to spread the places in order, the fullest first; alone only as a last resort."""
        spreads = [self.fitting(places, symmetry, air) for symmetry in self._orders]
        return [each for each in spreads if each is not None]

    @cached_property
    def _orders(self) -> tuple[str, ...]:
        own = () if self.piece.symmetry == "none" else ("none",)
        return (*(name for name in ORDERLY if self.piece.closed_under(name)), *own)

    def _lay(self, name: str, spreads: Sequence[IntArray], most_solid: float = 1.0) -> bool:
        """Lay spread places together if the rules hold."""
        together = self.block.copy()
        for places in spreads:
            together[places] = True
        if int(together.sum()) > most_solid * len(together) or not self.holds(together):
            return False
        self._settle(together)
        self.names.append(name)
        for places in spreads:
            self.part[places] = len(self.names) - 1
        return True

    def _lay_most(self, name: str, spreads: Sequence[IntArray]) -> None:
        """Lay all of them, or find out by halving which of them the rules refuse."""
        if not spreads or self._lay(name, spreads) or len(spreads) == 1:
            return
        middle = len(spreads) // 2
        self._lay_most(name, spreads[:middle])
        self._lay_most(name, spreads[middle:])

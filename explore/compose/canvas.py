"""A canvas: the blocks laid so far, and what may still be laid."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

from constraints.lattice import BoolArray, IntArray
from constraints.model import BLOCK_RULES
from constraints.piece import Piece, square
from constraints.variables import Lace
from explore.blocking import as_values

# The rules a part must keep at once; the share of solid only has to hold at the end.
_ALWAYS = ("one-worker shape", "narrowest", "widest", "narrowest ground")
assert len(BLOCK_RULES) == len(_ALWAYS)


# Symmetries that an ornament may take, the fullest first.
_ORDERLY = ("full", "upright-mirrors", "diagonal-mirrors", "quarter-turn", "half-turn", "upright-mirror")


def _images(piece: Piece, symmetry: str) -> IntArray:
    return square(int(piece.pinholes.max()), piece.worked, symmetry).images


@dataclass(eq=False)
class Canvas:
    """The blocks of a square while it is composed. `lace` holds the block rules only.

    block: (n,) places laid. part: (n,) number of the part that laid each place, 0 for the stamp, -1 for
    none. keep_off: (n,) places that must stay open for the stamp's sake.
    """

    lace: Lace
    block: BoolArray
    keep_off: BoolArray
    part: IntArray = field(init=False)
    names: list[str] = field(default_factory=lambda: ["stamp"])

    def __post_init__(self) -> None:
        self.part = np.where(self.block, 0, -1)

    @property
    def piece(self) -> Piece:
        return self.lace.piece

    @property
    def solid(self) -> float:
        """Share of all pinholes that lie in blocks."""
        return float(self.block.mean())

    def spread(self, places: BoolArray, symmetry: str = "none") -> BoolArray:
        """The places together with all their images under the square's symmetry, and before under another."""
        for images in (_images(self.piece, symmetry), self.piece.images):
            wide = np.zeros(len(places), dtype=bool)
            wide[images[:, places].reshape(-1)] = True
            places = wide
        return places

    def widen(self, places: BoolArray, steps: int) -> BoolArray:
        """The places and all pinholes within so many neighbour steps."""
        beside = self.piece.neighbours
        for _ in range(steps):
            places = places | (places[beside] & (beside >= 0)).any(axis=1)
        return places

    def add(
        self, name: str, places: BoolArray, air: int = 2, most_solid: float = 1.0, symmetry: str = "none"
    ) -> bool:
        """Lay a part and its images if they keep `air` steps off all other blocks and every rule holds.

        air 1 lets it touch other blocks point to point. symmetry: that of the part, if it has more than the
        square.
        """
        places = self.spread(places, symmetry)
        count = int(places.sum())
        if count < 4 or (places & self.keep_off).any() or (self.piece.depth[places] < self.lace.brief.margin).any():
            return False
        if (self.widen(places, max(air, 1)) & self.block).any():
            return False
        if (int(self.block.sum()) + count) > most_solid * len(places):
            return False
        together = self.block | places
        if not self.holds(together):
            return False
        self.block = together
        self.names.append(name)
        self.part[places] = len(self.names) - 1
        return True

    def holds(self, block: BoolArray) -> bool:
        """Whether these block places keep the block rules."""
        values = as_values(self.lace, block)
        return not self.lace.formula.broken(values, _ALWAYS)

    def add_alike(self, name: str, places: BoolArray, air: int = 2, most_solid: float = 1.0) -> bool:
        """Lay a part in all the places that a square gives it, or else in as many as make an orderly figure.

        So the ornament keeps its order where the stamp has little symmetry.
        """
        tried: list[bytes] = []
        for symmetry in (*_ORDERLY, *(("none",) if self.piece.symmetry != "none" else ())):
            spread = self.spread(places, symmetry).tobytes()
            if spread not in tried and self.add(name, places, air, most_solid, symmetry):
                return True
            tried.append(spread)
        return False

    def room(self) -> IntArray:
        """(n,) neighbour steps from each open pinhole to the nearest block, kept-off place or margin."""
        piece = self.piece
        taken = self.block | self.keep_off | (piece.depth < self.lace.brief.margin)
        steps = np.where(taken, 0, -1)
        front, distance = taken, 0
        while (steps < 0).any():
            distance += 1
            beside = piece.neighbours
            wider = front | (front[beside] & (beside >= 0)).any(axis=1)
            fresh = wider & (steps < 0)
            if not fresh.any():
                break
            steps[fresh] = distance
            front = wider
        return steps

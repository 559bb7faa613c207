"""What figures are drawn on: a square seen from its centre, one side like every other."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache

import numpy as np

from constraints.lattice import BoolArray, IntArray
from constraints.piece import Piece
from explore.search.compose import parts
from explore.search.compose.parts import Random

# So many figures are kept, of each square a few thousand.
_KEPT = 16_384


def between(rng: Random, least: int, most: int) -> int:
    """A whole number from `least` to `most`; `least` where that is less."""
    return int(rng.integers(least, max(least, most) + 1))


def one_of(rng: Random, some: Sequence[int]) -> int:
    """One of some numbers."""
    return some[int(rng.integers(len(some)))]


@dataclass(frozen=True, eq=False)
class Desk:
    """A square to draw figures on.

    reach: units from the centre that a figure may go. least: pinholes that a figure is wide at the least. print: (n,)
    the pinholes of the print, none without one. seams: whether blocks are worked in halves at corner lines.
    """

    piece: Piece
    reach: int
    least: int
    print: BoolArray
    seams: bool

    @cached_property
    def away(self) -> IntArray:
        """(n,) units from the centre towards the nearest side."""
        return parts.from_centre(self.piece)

    @cached_property
    def along(self) -> IntArray:
        """(n,) units along that side from its middle, without a sign."""
        return parts.along_side(self.piece)

    @cached_property
    def outlying(self) -> tuple[int, ...]:
        """(reach + 1,) how far out the print, turned to every side, comes at each distance along a side; -1 for
        nowhere."""
        found = np.full(self.reach + 1, -1)
        if self.print.any():
            np.maximum.at(found, np.minimum(self.along[self.print], self.reach), self.away[self.print])
        return tuple(found.tolist())

    def drawn(self, shape: Callable[..., BoolArray], *measures: object) -> BoolArray:
        """(n,) a shape with its measures, not to be written to; of a desk it looks at piece and reach alone. Of many
        drawn at random most are like others, on this desk or on one for another place of the print."""
        return drawn_once(self.piece, self.reach, shape, measures)

    @cached_property
    def outlying_upright(self) -> IntArray:
        """(3, 2 reach + 1) how far out the print comes above, beside and below at each distance along these sides, from
        left to right and from the top down; left and right alike. -1 for nowhere."""
        found = np.full((3, 2 * self.reach + 1), -1)
        x, y = self.piece.pinholes[self.print].T
        aside = abs(x) > abs(y)
        for side, here in enumerate((~aside & (y < 0), aside, ~aside & (y >= 0))):
            along = np.concatenate([x[here], -x[here]]) if side != 1 else np.tile(y[here], 2)
            at = np.clip(along + self.reach, 0, 2 * self.reach)
            np.maximum.at(found[side], at, np.tile(self.away[self.print][here], 2))
        return found

    def ring(self, profile: IntArray, width: int) -> BoolArray:
        """(n,) a trail all round. profile: (reach + 1,) how far out it lies at each distance along a side; width: units
        across the side."""
        return self.band(profile, profile - width)

    def band(self, outer: IntArray, inner: IntArray) -> BoolArray:
        """(n,) what lies further out than one profile and no further than the other; see `ring`."""
        along = np.minimum(self.along, self.reach)
        inside: BoolArray = (self.away <= outer[along]) & (self.away > inner[along])
        return inside

    def nothing(self) -> BoolArray:
        """(n,) an empty figure."""
        return np.zeros(len(self.piece), dtype=np.bool_)


@lru_cache(maxsize=_KEPT)
def drawn_once(piece: Piece, reach: int, shape: Callable[..., BoolArray], measures: tuple[object, ...]) -> BoolArray:
    """As `Desk.drawn`."""
    found = shape(Desk(piece, reach, 0, np.zeros(len(piece), dtype=np.bool_), False), *measures)
    found.flags.writeable = False
    return found

"""What figures are drawn on: a square seen from its centre, one side like every other."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from constraints.lattice import BoolArray, IntArray
from constraints.piece import Piece
from explore.search.compose import parts
from explore.search.compose.parts import Random


def between(rng: Random, least: int, most: int) -> int:
    """A whole number from `least` to `most`; `least` where that is less."""
    return int(rng.integers(least, max(least, most) + 1))


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
    def outlying(self) -> IntArray:
        """(reach + 1,) how far out the print, turned to every side, comes at each distance along a side; -1 for
        nowhere."""
        found = np.full(self.reach + 1, -1)
        if self.print.any():
            np.maximum.at(found, np.minimum(self.along[self.print], self.reach), self.away[self.print])
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

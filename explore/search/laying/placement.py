"""A stamp placed on a piece, and laid there: the blocks that show it."""

from __future__ import annotations

from dataclasses import dataclass

from constraints.design import Print, Ring
from constraints.lattice import BoolArray
from constraints.targets import Target
from explore.search.laying.blocking import Blocking


@dataclass(frozen=True)
class Placement:
    """Where a stamp lies. stamp: its name. size: pitches. turn: degrees. rings: its outlines and those of the copies
    that the symmetry does not give, lattice units."""

    stamp: str
    size: float
    turn: float
    rings: tuple[Ring, ...]


@dataclass(frozen=True, eq=False)
class Laid:
    """A stamp in its placement. target: the pinholes that it asks for. blocking: None where nothing was found."""

    placement: Placement
    target: Target
    blocking: Blocking | None

    def printed(self, block: BoolArray) -> Print:
        """The print in a design whose places of blocks, (n,), these are."""
        where = self.placement
        match = round(self.target.match(block), 4)
        return Print(where.stamp, where.size, where.turn, where.rings, match, self.target.reverse)

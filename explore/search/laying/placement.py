"""A stamp placed on a piece, and laid there: the blocks that show it."""

from __future__ import annotations

from dataclasses import dataclass

from constraints.brief import Brief, Span
from constraints.design import Print, Ring
from constraints.lattice import BoolArray
from constraints.stamp import shape_of
from constraints.targets import Target, target
from constraints.variables import Model
from explore.search.laying.blocking import Blocking, best_blocking
from explore.search.laying.noticed import noticed
from explore.search.laying.simplified import simplified

# Between two prints of a strip, frame or rectangle lie so many units at least.
AIR = 4.0
# Deterministic time for the stamp alone in one placement.
_EFFORT = 0.1


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

    @property
    def match(self) -> float:
        """What its blocks reach; 0 without a blocking."""
        return 0.0 if self.blocking is None else self.blocking.match

    @property
    def share(self) -> float:
        """The share of all pinholes that its blocks take."""
        return 0.0 if self.blocking is None else float(self.blocking.block.mean())

    def printed(self, block: BoolArray) -> Print:
        """The print in a design whose places of blocks, (n,), these are."""
        where = self.placement
        match = round(self.target.match(block), 4)
        return Print(where.stamp, where.size, where.turn, where.rings, match, self.target.reverse)


def lay(brief: Brief, model: Model, placement: Placement) -> Laid | None:
    """The stamp in its placement with the blocks that match it best; None if they match too little. model: holds the
    block rules alone."""
    shape = shape_of(placement.rings)
    aim = target(model.piece, shape)
    if not len(aim.inside):
        return None
    worth = noticed(model.piece, aim, simplified(shape, brief.rules))
    blocking = best_blocking(model, aim, worth, _EFFORT * brief.run.effort, least=brief.rules.match)
    if blocking is None or blocking.match < brief.rules.match:
        return None
    return Laid(placement, aim, blocking)


def named_sizes(size: Span) -> list[float]:
    """The sizes to try, pitches, where she names them."""
    least, most = size
    return sorted({least, (least + most) / 2, most})

"""A stamp placed on a piece, and laid there: the blocks that show it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from math import inf
from typing import Self, TypeVar

import numpy as np
import shapely

from constraints.brief import KNOWN, Brief, Span
from constraints.design import Print, Ring
from constraints.lattice import BoolArray
from constraints.piece import Piece
from constraints.rules.one_worker import splits
from constraints.stamp import shape_of
from constraints.targets import Target, images, target
from explore.search.context import Context
from explore.search.laying.blocking import Blocking, blockings
from explore.search.laying.noticed import noticed
from explore.search.laying.simplified import simplified
from gallery.seeing.knowing import Seen, one_copy, seen, surely

# Between two prints of a strip, frame or rectangle lie so many units at least.
AIR = 4.0
# Deterministic time for the stamp alone in one placement.
_EFFORT = 0.1
# Splits pay where a print is known by so much better: about half of the way from one verdict to the next.
_PAYS = 0.3

_L = TypeVar("_L", bound="Laid")


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
    """A stamp in its placement.

    target: the pinholes that it asks for. blocking: None where nothing was found. seen: what an eye sees of it, None
    where it was not looked at. splits: of its blocks, over the whole of what is composed.
    """

    placement: Placement
    target: Target
    blocking: Blocking | None
    seen: Seen | None = field(default=None, kw_only=True)
    splits: int = field(default=0, kw_only=True)

    @property
    def match(self) -> float:
        """What its blocks reach; 0 without a blocking."""
        return 0.0 if self.blocking is None else self.blocking.match

    @property
    def share(self) -> float:
        """The share of all pinholes that its blocks take."""
        return 0.0 if self.blocking is None else float(self.blocking.block.mean())

    @property
    def score(self) -> float:
        """How surely the print is known, see `gallery.seeing.knowing.Seen`; -inf where it was not looked at."""
        return -inf if self.seen is None else self.seen.score

    def known_as(self, least: str) -> bool:
        """Whether the print is known at least so surely, one of KNOWING."""
        return self.seen is not None and surely(self.seen.known, least)

    def looked_at(self, piece: Piece, corners: str) -> Self:
        """The same, with what is seen of it in cloth and how often its blocks split. corners: the brief's."""
        assert self.blocking is not None
        block = self.blocking.block
        pinholes = piece.pinholes[block]
        eye = seen(self.printed(block), pinholes, np.ones(len(pinholes)))
        return replace(self, seen=eye, splits=splits(piece, block, corners))

    def printed(self, block: BoolArray) -> Print:
        """The print in a design whose places of blocks, (n,), these are."""
        where = self.placement
        match = round(self.target.match(block), 4)
        return Print(where.stamp, where.size, where.turn, where.rings, match, self.target.reverse)


def lay(brief: Brief, context: Context, placement: Placement) -> Laid | None:
    """The stamp in its placement with the blocks that show it best; None if they match too little.

    Its own blocks may split too, as often in each copy as the brief allows, where that pays.
    """
    shape = shape_of(placement.rings)
    aim = target(context.piece, shape)
    if not len(aim.inside):
        return None
    worth = noticed(context.piece, aim, simplified(shape, brief.rules))
    model = context.allowing(brief.stamp.own_splits * _copies(placement, context.piece)).blocks
    found = blockings(model, aim, worth, _EFFORT * brief.run.effort, least=brief.rules.match)
    enough = [each for each in found if each.match >= brief.rules.match]
    if not enough:
        return None
    every = [Laid(placement, aim, each).looked_at(context.piece, brief.rules.corners) for each in enough]
    return where_it_pays(every)


def _copies(placement: Placement, piece: Piece) -> int:
    """How many copies a piece carries, of a strip a repeat; images that lie on each other are one."""
    first = one_copy(Print(placement.stamp, placement.size, placement.turn, placement.rings, 0.0))
    every = images(shape_of(placement.rings), piece.symmetry, piece.setting)[: len(piece.images)]
    return max(1, round(float(shapely.union_all(every).area / shape_of(first).area)))


def where_it_pays(laid: Sequence[_L]) -> _L:
    """The first of them, which splits least, unless the print is known in another, and noticeably better."""
    best = laid[0]
    for each in laid[1:]:
        if each.known_as(KNOWN) and each.score >= best.score + _PAYS:
            best = each
    return best


def named_sizes(size: Span) -> list[float]:
    """The sizes to try, pitches, where she names them."""
    least, most = size
    return sorted({least, (least + most) / 2, most})

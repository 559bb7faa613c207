"""A stamp placed on a piece, and laid there: the blocks that show it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace
from itertools import zip_longest
from math import inf
from typing import Self, TypeVar

import numpy as np
import shapely
from shapely.geometry import MultiPolygon

from constraints.brief import AT_ONCE, KNOWN, Brief, Span
from constraints.design import Print, Ring
from constraints.forms import Form
from constraints.lattice import BoolArray
from constraints.piece import Piece
from constraints.rules.one_worker import splits
from constraints.ruleset import Rules
from constraints.stamp import Stamp, shape_of
from constraints.targets import Target, images, target
from explore.search.context import Context
from explore.search.laying.blocking import Blocking, blockings
from explore.search.laying.noticed import noticed
from explore.search.laying.simplified import simplified
from explore.search.memory import Memory
from gallery.seeing.knowing import Seen, one_copy, seen, surely

# Between two prints of a strip, frame or rectangle lie so many units at least.
AIR = 4.0
# So many placements are used, the best ones.
USED = 10
# Deterministic time for the stamp alone in one placement.
_EFFORT = 0.1
# In reverse an outline must be close to be known: the match from which it is.
_GOOD_REVERSE = 0.85
# Splits pay where a print is known by so much better: about half of the way from one verdict to the next.
_PAYS = 0.3

# A place in which the print is known at once has so many turns at the most while each other has one.
_AGAIN = 4

# Of the largest size that fits these shares are tried too.
_BELOW, _SLACK = (1.0, 0.9, 0.8), 1e-6

_L = TypeVar("_L", bound="Laid")
_T = TypeVar("_T")


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
        """The same, with what is seen of it in cloth beside the fans of a headside, and how often its blocks split.
        corners: the brief's."""
        assert self.blocking is not None
        block = self.blocking.block
        pinholes = piece.pinholes[block | piece.fan]
        eye = seen(self.printed(block), pinholes, np.ones(len(pinholes)))
        return replace(self, seen=eye, splits=splits(piece, block, corners))

    def printed(self, block: BoolArray) -> Print:
        """The print in a design whose places of blocks, (n,), these are."""
        where = self.placement
        match = round(self.target.match(block), 4)
        return Print(where.stamp, where.size, where.turn, where.rings, match, self.target.reverse)


def lay(brief: Brief, context: Context, placement: Placement, patience: float = 1.0) -> Laid | None:
    """The stamp in its placement with the blocks that show it best; None if none are found.

    Its own blocks may split too, as often in each copy as the brief allows, where that pays. patience multiplies the
    usual effort.
    """
    shape = shape_of(placement.rings)
    aim = target(context.piece, shape)
    if not len(aim.inside):
        return None
    worth = noticed(context.piece, aim, simplified(shape, brief.rules))
    model = context.allowing(brief.stamp.own_splits * _copies(placement, context.piece)).blocks
    effort = _EFFORT * brief.run.effort * patience
    found = [each for each in blockings(model, aim, worth, effort, least=brief.rules.match) if each.block.any()]
    if not found:
        return None
    # What matches too little is told, not used.
    enough = [each for each in found if each.match >= brief.rules.match] or found
    every = [Laid(placement, aim, each).looked_at(context.piece, brief.rules.corners) for each in enough]
    return where_it_pays(every)


# What is laid on, the rules of that and of the brief, the splits of a print's own, where, and the effort.
_Key = tuple[Form, str, str, Rules, Rules, int, Placement, float]
laid_before: Memory[_Key, Laid | None] = Memory(kept=512)


def depends_on(brief: Brief, context: Context, placement: Placement, patience: float = 1.0) -> _Key:
    """All that `lay` depends on."""
    on = context.form, context.worked, context.symmetry, context.rules.of_blocks, brief.rules.of_blocks
    return *on, brief.stamp.own_splits, placement, brief.run.effort * patience


def laid_once(brief: Brief, context: Context, placement: Placement) -> Laid | None:
    """As `lay`, unless it was laid so before in this process."""
    return laid_before.once(depends_on(brief, context, placement), lambda: lay(brief, context, placement))


def usable(laid: Laid, brief: Brief) -> bool:
    """Whether a piece round the laid stamp can keep the brief's least match and its share of solid."""
    return laid.blocking is not None and laid.match >= brief.rules.match and laid.share <= brief.rules.solid[1]


def enough_for_reverse(laid: Laid) -> bool:
    """Whether a print in reverse matches so well that it is known; true of all others."""
    return not laid.target.reverse or laid.match >= _GOOD_REVERSE


def in_turns(ranked: Sequence[_T], laid: Callable[[_T], Laid]) -> list[_T]:
    """What jobs take turns with: of three two with a print that is known at once, as far as it is not the same one too
    often for it, and one with another."""
    at_once = [each for each in ranked if laid(each).known_as(AT_ONCE)]
    others = [each for each in ranked if not laid(each).known_as(AT_ONCE)]
    if not at_once or not others:
        return at_once + others
    again = min(_AGAIN, max(2, round(2 * len(others) / len(at_once))))
    many = at_once * again
    rounds = zip_longest(many[::2], many[1::2], others)
    return [each for some in rounds for each in some if each is not None]


def _copies(placement: Placement, piece: Piece) -> int:
    """How many copies a piece carries, of a strip a repeat; images that lie on each other are one."""
    first = one_copy(Print(placement.stamp, placement.size, placement.turn, placement.rings, 0.0))
    every = images(shape_of(placement.rings), piece.symmetry, piece.setting)[: len(piece.images)]
    return max(1, round(float(shapely.union_all(every).area / shape_of(first).area)))


def amid(laid: Laid, piece: Piece) -> BoolArray:
    """(n,) the pinholes amid a laid stamp and its images: within the convex hull of a copy, where anything else would
    be taken for part of it."""
    return within([each.convex_hull for each in copies_of(laid.placement)], piece)


def copies_of(placement: Placement) -> list[MultiPolygon]:
    """The copies of a print that the symmetry does not give."""
    rings = placement.rings
    each = len(one_copy(Print(placement.stamp, placement.size, placement.turn, rings, 0.0)))
    return [shape_of(rings[first : first + each]) for first in range(0, len(rings), each)]


def within(shapes: Sequence[shapely.Polygon], piece: Piece) -> BoolArray:
    """(n,) the pinholes of a piece in shapes and their images."""
    every = shapely.union_all(images(MultiPolygon(shapes), piece.symmetry, piece.setting))
    shapely.prepare(every)
    held: BoolArray = shapely.contains_xy(every, *piece.pinholes.T)
    return held


def where_it_pays(laid: Sequence[_L]) -> _L:
    """The first of them, which splits least, unless the print is known in another, and noticeably better."""
    best = laid[0]
    for each in laid[1:]:
        if each.known_as(KNOWN) and each.score >= best.score + _PAYS:
            best = each
    return best


def extent(stamp: Stamp, turn: float) -> tuple[float, float]:
    """How wide and how high a print of one pitch lies when turned, units."""
    left, top, right, bottom = stamp.placed(1.0, turn, (0.0, 0.0)).bounds
    return right - left, bottom - top


def sizes_beside(full: float, usual: float, shares: Sequence[float]) -> list[float]:
    """Longer sides to try, pitches, to halves: shares of one size, and the largest that fits with some below it.

    full: the largest that fits. usual: the size of which the shares are.
    """
    full += _SLACK
    every = {round(2 * usual * share) / 2 for share in shares} | {int(2 * full * share) / 2 for share in _BELOW}
    return sorted(size for size in every if 1.0 <= size <= full)


def named_sizes(size: Span) -> list[float]:
    """The sizes to try, pitches, where she names them."""
    least, most = size
    return sorted({least, (least + most) / 2, most})

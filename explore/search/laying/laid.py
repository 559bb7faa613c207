"""Stamps that have been laid and blocked, and which of them to use."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import sqrt

from constraints.brief import Brief
from constraints.design import Ring
from constraints.lattice import BoolArray
from constraints.piece import Piece
from constraints.targets import Target
from explore.search.laying.blocking import Blocking
from explore.search.laying.placement import USED, Laid, Placement, enough_for_reverse
from explore.search.laying.sectors import Place

# A match from which a print is well shown.
_GOOD = 0.75
# Prints with less than this share of the most detail or the largest size say too little.
_TELLING = 0.65
# With fewer good places than this others are used too, as long as the mean match stays above _MEAN.
_FEW, _MEAN = 4, 0.751
# What a seam across a print counts beside its match: so much where as many pairs cross corner lines as a square of the
# print's blocks is wide.
_SEAM = 0.15
# Blocks that have more than this share of their pinholes in common are one place, however turned.
_SAME = 0.85


@dataclass(frozen=True, eq=False)
class PlaceLaid(Laid):
    """A stamp laid at a place of a square and blocked.

    detail: share of the stamp's thin parts and narrow gaps that the blocking still shows. crossing: how many pairs
    cross corner lines within its blocks, where these are no axis of its own.
    """

    place: Place
    detail: float = 0.0
    crossing: int = 0

    @classmethod
    def at(
        cls,
        stamp: str,
        place: Place,
        rings: tuple[Ring, ...],
        target: Target,
        blocking: Blocking | None,
        detail: float = 0.0,
        crossing: int = 0,
    ) -> PlaceLaid:
        """Laid with these outlines. stamp: its name."""
        return cls(Placement(stamp, place.size, place.turn, rings), target, blocking, place, detail, crossing)

    @property
    def worth(self) -> float:
        """Match, detail and size together, less for seams across it: how well she will know her stamp again.

        0 without a blocking.
        """
        if self.blocking is None:
            return 0.0
        largest = max(abs(v) for ring in self.placement.rings for point in ring for v in point)
        seams = min(self.crossing / max(sqrt(self.blocking.block.sum()), 1.0), 1.0)
        return self.blocking.match + 0.5 * self.detail + 0.6 * self.place.size / max(largest, 1.0) - _SEAM * seams


def fittest(laid: Sequence[PlaceLaid], brief: Brief, piece: Piece, count: int) -> list[PlaceLaid]:
    """The places that reach the brief's least match, different and telling, the most worthy first; at most `count`.

    Places below a good match are used only where there are too few others; reverse prints are a quarter of
    all at the most, and stand among the others.
    """
    ranked = _different(_usable(laid, brief), piece)
    telling = _telling(ranked)
    chosen = [each for each in telling if not _middling(each)]
    if len(chosen) < _FEW:
        chosen = _with_good_mean(telling)
    if len(chosen) < _FEW - 1:
        chosen = _with_good_mean(ranked)
    if len(chosen) < _FEW - 1:
        chosen = ranked[:_FEW]
    reverse = [each for each in chosen if each.place.reverse][: count // 4]
    solid = [each for each in chosen if not each.place.reverse][: count - len(reverse)]
    for number, each in enumerate(reverse):
        solid.insert(min(4 * number + 2, len(solid)), each)
    return solid


def few_good(laid: Sequence[PlaceLaid], brief: Brief, piece: Piece) -> bool:
    """Whether too few places show the print well and tellingly for a varied sheet."""
    solid = [each for each in _usable(laid, brief) if not each.place.reverse]
    return sum(not _middling(each) for each in _telling(_different(solid, piece))) < _FEW


def _usable(laid: Sequence[PlaceLaid], brief: Brief) -> list[PlaceLaid]:
    """The places whose blocks the brief takes, the most worthy first."""
    usable = [
        each
        for each in laid
        if each.match >= brief.rules.match and enough_for_reverse(each) and each.share <= brief.rules.solid[1]
    ]
    return sorted(usable, key=lambda each: -each.worth)


def _different(laid: Sequence[PlaceLaid], piece: Piece) -> list[PlaceLaid]:
    """The first of every few places whose blocks come to nearly the same, however turned."""
    kept: list[PlaceLaid] = []
    masks: list[BoolArray] = []
    for each in laid:
        assert each.blocking is not None
        block = each.blocking.block
        images = block[piece.images_under("full")]
        if all(((images & other).sum(axis=1) <= _SAME * (images | other).sum(axis=1)).all() for other in masks):
            kept.append(each)
            masks.append(block)
    return kept


def _telling(laid: Sequence[PlaceLaid]) -> list[PlaceLaid]:
    """Without prints so small or so plain beside the others that nobody would know them."""
    detail = max((each.detail for each in laid), default=0.0)
    size = max((each.place.size for each in laid), default=0.0)
    return [each for each in laid if each.detail >= _TELLING * detail and each.place.size >= _TELLING * size]


def _with_good_mean(laid: Sequence[PlaceLaid]) -> list[PlaceLaid]:
    """As many of them as can be, the first ones first, with a good match on the whole."""
    chosen: list[PlaceLaid] = []
    for each in sorted(laid, key=_middling):
        together = [*chosen, each]
        if sum(each.match for each in together) >= _MEAN * len(together):
            chosen = together
    return chosen


def worth_more_effort(laid: Sequence[PlaceLaid], brief: Brief) -> list[Place]:
    """The best places that do not match well yet, where there are too few that do."""
    good = [each for each in laid if each.match >= _GOOD]
    if len(good) >= USED // 2:
        return []
    rest = [each for each in laid if _GOOD > each.match >= min(brief.rules.match, _GOOD) - 0.1]
    return [each.place for each in sorted(rest, key=lambda each: -each.worth)[: USED - len(good)]]


def _middling(laid: PlaceLaid) -> bool:
    return laid.match < _GOOD

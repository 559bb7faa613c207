"""Where a print suits on the squares that a brief leaves open: the places at which it may be known, by geometry alone.

Copies within a quarter come first: they have one grain and no seam, and leave the corner lines free. Then copies over
one corner line each, then one large print over the centre. Worked across there are no corner lines.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import zip_longest
from typing import TypeVar

import numpy as np

from constraints.character import character
from constraints.lattice import FloatArray, IntArray
from constraints.lying import Pose, Way, under, ways
from constraints.piece import ROUND
from constraints.symmetry import SYMMETRIES
from explore.search.laying.sectors import Place, TurnedSector
from explore.search.squares.placing import Placing

_T = TypeVar("_T")

# Where prints lie, the first in which they suit best.
QUARTER, LINE, MIDDLE, ACROSS = "quarter", "line", "middle", "across"
# Of so many places of each kind one is taken in every round of choosing.
_SHARES = {QUARTER: 3, ACROSS: 1, LINE: 2, MIDDLE: 2}
# Sizes tried for each berth, as shares of the largest that lies there: over the middle a print leaves room round it.
_SIZES = {
    QUARTER: (1.0, 0.85, 0.92, 0.78),
    ACROSS: (0.85, 1.0, 0.75, 0.92),
    LINE: (0.9, 0.75, 0.82, 1.0),
    MIDDLE: (0.62, 0.7, 0.54, 0.8),
}
# Where a print is known from such a share of the largest on, there is no room to leave: all sizes are tried.
_TIGHT, _SIZES_IF_TIGHT = 0.7, (0.9, 1.0, 0.8, 0.95)
# A square of a lesser half-size looks lost beside others twice as wide.
_LOST = 16
# Units that a trail all round and the ground on its inner side take.
_TRAIL = 7
# How far on among the centres of one size the next ones are taken, as a share of all.
_ELSEWHERE = (0.0, 0.25, 0.75, 0.4)


@dataclass(frozen=True, eq=False)
class Berth:
    """A way of laying a print. number: of the placing that it is on. kind: one of QUARTER, LINE, MIDDLE and ACROSS.
    largest: the largest size at which it fits so, pitches."""

    number: int
    turned: TurnedSector
    kind: str
    largest: float


def suiting(placings: Sequence[Placing], least: float, count: int) -> list[tuple[int, Place]]:
    """Places with the numbers of their placings, at most `count`: kinds mixed, of each the roomiest first. Last come a
    print alone that is not in the middle, copies of which some lie on their side, unless they lie all ways round, and
    squares far smaller than others, as those worked across may be.

    least: the smallest size at which the print is known, pitches.
    """
    every = [berth for number, placing in enumerate(placings) for berth in _berths(number, placing, least)]
    widest = max((placing.size.half_size for placing in placings), default=0)
    off = {
        berth: aside(placings[berth.number], berth.turned.sector.mirrored, berth.kind)
        or _leans(placings[berth.number], berth.turned.turn)
        or _less(placings[berth.number].size.half_size, widest)
        for berth in every
    }
    found: list[tuple[int, Place]] = []
    for last in (False, True):
        berths = [berth for berth in every if off[berth] == last]
        by_kind = {
            kind: _places(placings, [berth for berth in berths if berth.kind == kind], least) for kind in _SHARES
        }
        found.extend(in_rounds(by_kind))
    return list(dict.fromkeys(found))[:count]


def kind_of(placing: Placing, place: Place) -> str:
    """How a print lies at a place: one of QUARTER, LINE, MIDDLE and ACROSS."""
    if placing.brief.piece.worked != ROUND:
        return ACROSS
    crossed = int(lines_crossed(placing.turned(place).hull * place.size, np.array([place.centre]))[0])
    return (QUARTER, LINE, MIDDLE)[min(crossed, 2)]


def aside(placing: Placing, mirrored: bool, kind: str) -> bool:
    """Whether a print lies so by itself anywhere but in the middle. mirrored: on a mirror axis."""
    return _alone(placing, mirrored) and kind in (QUARTER, LINE)


def _leans(placing: Placing, turn: float) -> bool:
    """Whether some copies of a print so turned lie on their side, and none upside down for it."""
    assert placing.stamp is not None
    lying = ways(under(Pose(turn), placing.brief.piece.symmetry), character(placing.stamp)) or set()
    there = {way for way, _ in lying}
    return Way.SIDE in there and Way.DOWN not in there


def _less(half_size: int, widest: int) -> bool:
    """Whether a square looks lost beside others on a sheet. widest: the half-size of the widest."""
    return half_size < _LOST and 2 * half_size <= widest


def framed(placing: Placing, place: Place) -> bool:
    """Whether a trail has room between a print and the margin, all round."""
    outermost = np.abs(placing.turned(place).hull * place.size + np.array(place.centre)).max()
    return bool(outermost <= placing.reach - _TRAIL)


def in_rounds(by_kind: Mapping[str, Sequence[_T]]) -> list[_T]:
    """What is given for each kind, some of each in every round."""
    rounds = [
        [each[number : number + share] for number in range(0, len(each), share)]
        for each, share in ((by_kind.get(kind, ()), share) for kind, share in _SHARES.items())
    ]
    return [one for group in zip_longest(*rounds, fillvalue=()) for some in group for one in some]


def room(placings: Sequence[Placing]) -> dict[str, float]:
    """Of each kind that the brief allows the largest size at which a print lies anywhere, pitches."""
    largest: dict[str, float] = {}
    for number, placing in enumerate(placings):
        for berth in _berths(number, placing, 0.0):
            largest[berth.kind] = max(largest.get(berth.kind, 0.0), berth.largest)
    return largest


def several(placings: Sequence[Placing], size: float) -> bool:
    """Whether more than one copy so large, pitches, lies within the quarters or over a corner line each."""
    return any(
        berth.kind in (QUARTER, LINE) and not _alone(placing, berth.turned.sector.mirrored)
        for number, placing in enumerate(placings)
        for berth in _berths(number, placing, size)
    )


def _berths(number: int, placing: Placing, least: float) -> list[Berth]:
    found = []
    sizes = [size for size in placing.sizes if size >= least]
    for turned in placing.sectors:
        kinds = (QUARTER, LINE, MIDDLE) if placing.brief.piece.worked == ROUND else (ACROSS,)
        for kind in kinds:
            largest = _largest(placing, turned, kind, sizes)
            if largest:
                found.append(Berth(number, turned, kind, largest))
    return found


def _largest(placing: Placing, turned: TurnedSector, kind: str, sizes: Sequence[float]) -> float:
    """The largest of the sizes (rising) at which a print lies so, 0 if none does."""
    fitting, too_large = -1, len(sizes)
    while too_large - fitting > 1:
        middle = (fitting + too_large) // 2
        if len(_centres(placing, turned, kind, sizes[middle])):
            fitting = middle
        else:
            too_large = middle
    return sizes[fitting] if fitting >= 0 else 0.0


def _centres(placing: Placing, turned: TurnedSector, kind: str, size: float) -> FloatArray:
    """(k, 2) the whole-unit centres at which a print of that size lies so."""
    centres = turned.centres(size, placing.reach)
    if kind == ACROSS or not len(centres):
        return centres
    crossed = lines_crossed(turned.hull * size, centres)
    fit: FloatArray = centres[{QUARTER: crossed == 0, LINE: crossed == 1, MIDDLE: crossed > 1}[kind]]
    return fit


def lines_crossed(hull: FloatArray, centres: FloatArray) -> IntArray:
    """(k,) over how many of the four corner lines a print lies. hull: (h, 2) about its centre; centres: (k, 2)."""
    points = centres[:, None, :] + hull[None]
    following = np.roll(points, -1, axis=1)
    crossed = np.zeros(len(centres), dtype=np.int64)
    for along in ((1, 1), (1, -1), (-1, -1), (-1, 1)):
        out = np.array(along, dtype=float)
        across = np.array((-out[1], out[0]))
        aside, aside_next = points @ across, following @ across
        far, far_next = points @ out, following @ out
        # Where an edge of the hull passes from one side of the line to the other, how far out it does.
        passes = (aside < 0) != (aside_next < 0)
        share = np.divide(aside, aside - aside_next, out=np.zeros_like(aside), where=passes)
        crossed += (passes & (far + share * (far_next - far) > 0)).any(axis=1)
    return crossed


def _places(placings: Sequence[Placing], berths: Sequence[Berth], least: float) -> list[tuple[int, Place]]:
    """The places of berths of one kind: of every symmetry the roomiest first, in one size, then in another, then its
    other berths."""
    rank: dict[str, int] = {}
    ranked: list[tuple[int, float, int, Berth]] = []
    for berth in sorted(berths, key=lambda berth: -berth.largest):
        symmetry = placings[berth.number].brief.piece.symmetry
        rank[symmetry] = rank.get(symmetry, -1) + 1
        ranked.append((rank[symmetry], -berth.largest, len(ranked), berth))
    found: dict[tuple[int, Place], None] = {}
    for step in range(4):
        for berth in (each[-1] for each in sorted(ranked, key=lambda each: each[:-1])):
            placing = placings[berth.number]
            shares = _SIZES[berth.kind] if least <= _TIGHT * berth.largest else _SIZES_IF_TIGHT
            wanted = max(least, shares[step] * berth.largest)
            size = min((size for size in placing.sizes if size <= berth.largest), key=lambda size: abs(size - wanted))
            centres = _centres(placing, berth.turned, berth.kind, size)
            # A smaller print may lie over no line where a larger one does.
            if len(centres):
                first, other = (berth.turned.place(size, _quiet(centres, berth.kind, each)) for each in (0, step))
                # Where she names one size, the print lies elsewhere the next time.
                found[berth.number, other if (berth.number, first) in found else first] = None
    return list(found)


def _alone(placing: Placing, mirrored: bool) -> bool:
    """Whether the symmetry gives a print no second copy. mirrored: it lies on a mirror axis."""
    return len(SYMMETRIES[placing.brief.piece.symmetry]) // (2 if mirrored else 1) == 1


def _quiet(centres: FloatArray, kind: str, step: int) -> FloatArray:
    """Of (k, 2) centres the one nearest the middle of the piece for a print that lies over it; else one that leaves
    room for a border outside it and for something in the middle. step: of _ELSEWHERE, for others than the first."""
    far = np.abs(centres).max(axis=1) + np.abs(centres).min(axis=1)
    order = np.lexsort((centres[:, 0], centres[:, 1], far))
    share = _ELSEWHERE[step] / 2 if kind in (MIDDLE, ACROSS) else (_ELSEWHERE[step] + 0.5) % 1
    quiet: FloatArray = centres[order[int(share * len(order))]]
    return quiet

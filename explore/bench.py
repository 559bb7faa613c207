"""A workbench for one half-size: the piece, its models and the places of the stamp, built once and kept."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
import shapely
from shapely.geometry import MultiPolygon

from constraints import model
from constraints.brief import Brief, Size
from constraints.lattice import IntArray
from constraints.piece import ROUND, Piece, square
from constraints.solver import Solver
from constraints.square import Ring
from constraints.stamp import Stamp, outlines, shape_of
from constraints.targets import Target, images, target
from constraints.variables import Lace
from explore.berths import AIR, Place, Way, ways
from explore.blocking import ELSEWHERE, Blocking, best_blocking
from explore.character import character, shown_detail

# Deterministic time for the stamp alone at one place. More of it raises the match by under 0.01.
_BLOCKING_EFFORT = 0.1
# So many places of the stamp are worked out for one half-size; jobs take turns with them.
_POOL = 8
# So many of them are tried in reverse too.
_REVERSE = 5
# Then so many more for each of the best ways of laying it.
_WAYS, _FURTHER = 3, 2
# So many places are tried for the further copies of a print.
_COMPANIONS = 300
# Largest print in pitches for each pinhole of the widest block: beyond it a body no longer fills.
_LARGEST = 1.75
# Least size of a print as a share of the largest that fits.
_SMALLEST = 0.8
# Berths are used whose largest print is at least this share of the largest of all.
_ROOMY = 0.75
# The best of them are used.
USED = 10
# A match from which a print is well shown; an outline must be close to be known.
_GOOD, _GOOD_REVERSE = 0.75, 0.85
# With fewer good places than this the best of the others are used too.
_FEW = 4
# Units kept free inside the margin for a border, in half of the places.
_BORDER = 7


@dataclass(frozen=True, eq=False)
class Laid:
    """The stamp laid at a place and blocked. blocking is None where nothing was found.

    detail: share of the stamp's thin parts and narrow gaps that the blocking still shows.
    """

    place: Place
    rings: tuple[Ring, ...]
    target: Target
    blocking: Blocking | None
    detail: float = 0.0

    @property
    def worth(self) -> float:
        """Match, detail and size together: how well she will know her stamp again. 0 without a blocking."""
        if self.blocking is None:
            return 0.0
        largest = max(abs(v) for ring in self.rings for point in ring for v in point)
        return self.blocking.match + 0.5 * self.detail + 0.6 * self.place.size / max(largest, 1.0)


class Bench:
    """Everything about squares of one half-size that no single square changes."""

    def __init__(self, brief: Brief, stamp: Stamp | None, size: Size, among: int = 1) -> None:
        """among: how many sizes share the search; each has fewer places then."""
        self.brief = brief
        self.stamp = stamp
        self.size = size
        self._pool = max(2, _POOL // among)
        self._ways_again = max(1, _WAYS // among)
        self.piece = square(size.half_size, brief.worked, brief.symmetry)

    @cached_property
    def blocks(self) -> Lace:
        """The block rules alone, in one stitch: for composing."""
        stitch = next(name for name in ("cloth", "half", "whole") if name in self.brief.stitches)
        plain = replace(self.brief, stitches=(stitch,), least={}, solid=(0.0, 1.0))
        return model.lace(self.piece, plain, model.BLOCK_RULES)

    @cached_property
    def lace(self) -> Lace:
        """Every rule."""
        return model.lace(self.piece, self.brief)

    @cached_property
    def solver(self) -> Solver:
        return Solver(self.lace.formula)

    @cached_property
    def places(self) -> list[Place]:
        """Places of the stamp worth trying, drawn by the seed: the larger prints of every berth."""
        if self.stamp is None:
            return []
        rng = np.random.default_rng([self.brief.seed, self.size.half_size])
        reach = self.size.half_size - self.brief.margin
        pools = [
            self._draw(self._ways, limit, rng, self._pool)
            for limit in (reach - _BORDER, reach)
            if limit >= self.size.half_size / 2
        ]
        chosen = list(dict.fromkeys(place for pool in pools for place in pool))
        if self.brief.worked == ROUND:
            chosen += [replace(place, reverse=True) for place in _roundest(chosen, min(self._pool, _REVERSE))]
        return chosen

    def more_places(self, laid: Sequence[Laid]) -> list[Place]:
        """Further places in the berths and turns that did best: other sizes and positions."""
        tried = {each.place for each in laid}
        rng = np.random.default_rng([self.brief.seed, self.size.half_size, 2])
        ways: dict[tuple[str, float], float] = {}
        for each in laid:
            way = (each.place.berth.name, each.place.turn)
            ways[way] = max(ways.get(way, 0.0), each.worth)
        best = sorted(ways, key=lambda way: (-ways[way], way))[: self._ways_again]
        chosen: list[Place] = []
        for berth, turn in best:
            alike = [way for way in self._ways if (way.berth.name, way.turn) == (berth, turn)]
            further = self._draw(alike, self.size.half_size - self.brief.margin, rng, 2 * _FURTHER)
            chosen += [place for place in further if place not in tried][:_FURTHER]
        return chosen

    @cached_property
    def _ways(self) -> list[Way]:
        assert self.stamp is not None
        return ways(self.stamp, self.brief.symmetry, self.brief.turns)

    def _draw(self, among: Sequence[Way], reach: float, rng: np.random.Generator, count: int) -> list[Place]:
        # Sizes that she named are all hers to see.
        smallest = _SMALLEST if self.brief.stamp_size is None else 0.0
        return draw_places(among, self._sizes(), reach, rng, count, smallest, self.brief.copies)

    def _sizes(self) -> Sequence[float]:
        if self.brief.stamp_size is None:
            largest = min(self.size.half_size, round(_LARGEST * self.brief.widest))
            return [float(size) for size in range(4, largest + 1)]
        least, most = self.brief.stamp_size
        return sorted({least, most, *(float(size) for size in range(int(least) + 1, int(most) + 1))})

    def lay(self, place: Place, patience: float = 1.0) -> Laid:
        """The stamp at a place, with as many more copies as the brief asks for, and its best blocking.

        patience multiplies the usual effort.
        """
        assert self.stamp is not None
        group = self._with_companions(place)
        if len(group) < self.brief.copies:
            return Laid(place, (), Target(np.zeros(0, int), np.zeros(0, int)), None)
        rings = tuple(ring for each in group for ring in outlines(self._placed(each)))
        aim = target(self.piece, shape_of(rings), place.reverse)
        if not len(aim.inside):
            return Laid(place, rings, aim, None)
        effort = _BLOCKING_EFFORT * self.brief.effort * patience
        mirror = None if place.berth.mirrored or len(group) > 1 else own_mirror(self.piece, self.stamp, place)
        blocking = best_blocking(self.blocks, aim, effort, mirror)
        if blocking is None and mirror is not None:
            blocking = best_blocking(self.blocks, aim, effort)
        if blocking is None:
            return Laid(place, rings, aim, None)
        detail = shown_detail(shape_of(rings), self.piece.pinholes[blocking.block], place.reverse)
        return Laid(place, rings, aim, blocking, detail)

    def _placed(self, place: Place) -> MultiPolygon:
        assert self.stamp is not None
        return self.stamp.placed(place.size, place.turn, place.centre)

    def _with_companions(self, place: Place) -> list[Place]:
        """The place and further ones of its size, all their images clear of each other."""
        group = [place]
        if self.brief.copies == 1:
            return group
        taken = shapely.union_all(images(self._placed(place), self.brief.symmetry))
        rng = np.random.default_rng([self.brief.seed, int(place.turn), *(int(abs(c)) for c in place.centre)])
        reach = self.size.half_size - self.brief.margin
        every = [(way, centre) for way in self._ways for centre in way.centres(place.size, reach)]
        for number in rng.permutation(len(every))[:_COMPANIONS]:
            if len(group) == self.brief.copies:
                break
            way, centre = every[number]
            other = way.place(place.size, centre)
            shape = self._placed(other)
            if taken.distance(shape) >= 2 * AIR:
                group.append(other)
                taken = shapely.union_all([taken, *images(shape, self.brief.symmetry)])
        return group


def own_mirror(piece: Piece, stamp: Stamp, place: Place) -> IntArray | None:
    """(n,) each pinhole's image in the print's own axis, if that is upright or level: see best_blocking.

    -1 outside the piece, ELSEWHERE off the print; None if the print has no such axis. Left and right of the
    working direction are alike to one worker; the two diagonals are not.
    """
    for axis in character(stamp).axes:
        lean = (axis + place.turn) % 90
        if min(lean, 90 - lean) < 2.6:
            upright = min((axis + place.turn) % 180, 180 - (axis + place.turn) % 180) < 45
            factor = np.array([-1, 1] if upright else [1, -1])
            centre = np.array(place.centre, dtype=np.int64)
            image = (piece.pinholes - centre) * factor + centre
            mirrored = np.array([piece.index.get((x, y), -1) for x, y in image.tolist()])
            off = np.abs(piece.pinholes - centre).max(axis=1) > place.size + 3
            return np.where(off, ELSEWHERE, mirrored)
    return None


def fittest(laid: Sequence[Laid], brief: Brief, count: int) -> list[Laid]:
    """The places that reach the brief's least match, the most telling ones first, at most `count`.

    Places below a good match are used only where there are too few others; reverse prints are a quarter of
    all at the most, and stand among the others.
    """
    good = [each for each in laid if _match(each) >= brief.least_match and _share(each) <= brief.solid[1]]
    ranked = sorted(good, key=lambda each: (_middling(each), -each.worth))
    best = [each for each in ranked if not _middling(each)]
    chosen = ranked[:_FEW] if len(best) < _FEW else best
    reverse = [each for each in chosen if each.place.reverse and _match(each) >= _GOOD_REVERSE][: count // 4]
    solid = [each for each in chosen if not each.place.reverse][: count - len(reverse)]
    for number, each in enumerate(reverse):
        solid.insert(min(4 * number + 2, len(solid)), each)
    return solid


def _match(laid: Laid) -> float:
    return 0.0 if laid.blocking is None else laid.blocking.match


def worth_more_effort(laid: Sequence[Laid], brief: Brief) -> list[Place]:
    """The best places that do not match well yet, where there are too few that do."""
    good = [each for each in laid if _match(each) >= _GOOD]
    if len(good) >= USED // 2:
        return []
    rest = [each for each in laid if _GOOD > _match(each) >= min(brief.least_match, _GOOD) - 0.1]
    return [each.place for each in sorted(rest, key=lambda each: -each.worth)[: USED - len(good)]]


def _share(laid: Laid) -> float:
    """Share of the pinholes that the stamp's own blocks take."""
    return 0.0 if laid.blocking is None else float(laid.blocking.block.mean())


def _middling(laid: Laid) -> bool:
    return _match(laid) < _GOOD


def _roundest(every: Sequence[Place], count: int) -> list[Place]:
    """The largest places nearest the centre: a band round the centre itself needs no split."""
    return sorted(every, key=lambda place: (_outwards(place)[0] - place.size, place.turn))[:count]


def draw_places(
    among: Sequence[Way],
    sizes: Sequence[float],
    reach: float,
    rng: np.random.Generator,
    count: int,
    smallest: float = _SMALLEST,
    copies: int = 1,
) -> list[Place]:
    """A varied choice: berths in turn, larger sizes and quieter positions more often.

    sizes: rising. smallest: least size as a share of the largest that fits; small prints lose their
    character. Several copies share the room of one.
    """
    largest = {id(way): way.largest(sizes, reach) for way in among}
    by_berth: dict[str, list[Way]] = {}
    for way in among:
        if largest[id(way)]:
            by_berth.setdefault(way.berth.name, []).append(way)
    top = {name: max(largest[id(way)] for way in group) for name, group in by_berth.items()}
    names = [name for name in by_berth if top[name] >= _ROOMY * max(top.values())]
    chosen: list[Place] = []
    for number in range(count * 3 if names else 0):
        if len(chosen) == count:
            break
        name = names[number % len(names)]
        most = top[name] * (1.0 if copies == 1 or smallest == 0.0 else 0.8 / copies**0.5)
        fitting = [size for size in sizes if smallest * most <= size <= most]
        if not fitting:
            continue
        size = float(rng.choice(fitting))
        group = [way for way in by_berth[name] if largest[id(way)] >= size]
        way = group[int(rng.integers(len(group)))]
        spots = sorted((way.place(size, centre) for centre in way.centres(size, reach)), key=_outwards)
        # The middle of what fits, or as near the centre of the square as can be, leaves room for a border.
        quiet = (0, 0, 0, len(spots) // 3) if way.berth.opening == 180 else (0, 0, len(spots) // 3, len(spots) // 2)
        at = int(rng.choice(quiet)) if copies == 1 else 3 * len(spots) // 4
        if spots and spots[at] not in chosen:
            chosen.append(spots[at])
    return chosen


def _outwards(place: Place) -> tuple[float, float, float]:
    x, y = place.centre
    return (max(abs(x), abs(y)) + min(abs(x), abs(y)), y, x)

"""A workbench for one half-size: the piece, its models and the places of the stamp, built once and kept."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from constraints import model
from constraints.brief import Brief, Size
from constraints.lattice import IntArray
from constraints.piece import Piece, square
from constraints.solver import Solver
from constraints.square import Ring
from constraints.stamp import Stamp, outlines, shape_of
from constraints.targets import Target, target
from constraints.variables import Lace
from explore.berths import Place, places
from explore.blocking import ELSEWHERE, Blocking, best_blocking
from explore.character import character, shown_detail

# Deterministic time for the stamp alone at one place. More of it raises the match by under 0.01.
_BLOCKING_EFFORT = 0.1
# So many places of the stamp are worked out for one half-size; jobs take turns with them.
_POOL = 8
# Then so many more for each of the best ways of laying it.
_WAYS, _FURTHER = 3, 2
# The best of them are used.
USED = 10
# A match from which a print is well shown.
_GOOD = 0.75
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

    def __init__(self, brief: Brief, stamp: Stamp | None, size: Size) -> None:
        self.brief = brief
        self.stamp = stamp
        self.size = size
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
            draw_places(self._within(limit), rng, _POOL)
            for limit in (reach - _BORDER, reach)
            if limit >= self.size.half_size / 2
        ]
        return list(dict.fromkeys(place for pool in pools for place in pool))

    def more_places(self, laid: Sequence[Laid]) -> list[Place]:
        """Further places in the berths and turns that did best: other sizes and positions."""
        tried = {each.place for each in laid}
        rng = np.random.default_rng([self.brief.seed, self.size.half_size, 2])
        ways: dict[tuple[str, float], float] = {}
        for each in laid:
            way = (each.place.berth.name, each.place.turn)
            ways[way] = max(ways.get(way, 0.0), each.worth)
        best = sorted(ways, key=lambda way: (-ways[way], way))[:_WAYS]
        every = self._within(self.size.half_size - self.brief.margin)
        chosen: list[Place] = []
        for way in best:
            group = [p for p in every if (p.berth.name, p.turn) == way and p not in tried]
            chosen += draw_places(group, rng, _FURTHER)
        return chosen

    def _within(self, reach: float) -> list[Place]:
        assert self.stamp is not None
        return places(self.stamp, self.brief.symmetry, reach, self._sizes(), self.brief.turns)

    def _sizes(self) -> Sequence[float]:
        if self.brief.stamp_size is None:
            return [float(size) for size in range(4, self.size.half_size + 1)]
        least, most = self.brief.stamp_size
        return sorted({least, most, *(float(size) for size in range(int(least) + 1, int(most) + 1))})

    def lay(self, place: Place) -> Laid:
        """The stamp at a place with its target and best blocking."""
        assert self.stamp is not None
        rings = outlines(self.stamp.placed(place.size, place.turn, place.centre))
        aim = target(self.piece, shape_of(rings))
        if not len(aim.inside):
            return Laid(place, rings, aim, None)
        effort = _BLOCKING_EFFORT * self.brief.effort
        mirror = None if place.berth.mirrored else own_mirror(self.piece, self.stamp, place)
        blocking = best_blocking(self.blocks, aim, effort, mirror)
        if blocking is None and mirror is not None:
            blocking = best_blocking(self.blocks, aim, effort)
        if blocking is None:
            return Laid(place, rings, aim, None)
        detail = shown_detail(shape_of(rings), self.piece.pinholes[blocking.block])
        return Laid(place, rings, aim, blocking, detail)


def own_mirror(piece: Piece, stamp: Stamp, place: Place) -> IntArray | None:
    """(n,) each pinhole's image in the print's own axis, if that is upright or level: see best_blocking.

    -1 outside the piece, ELSEWHERE off the print; None if the print has no such axis. Left and right of the working direction are alike to one worker; the two diagonals are not.
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


def fittest(laid: Sequence[Laid], least: float, count: int) -> list[Laid]:
    """The places that reach the least match, the most telling ones first, at most `count`.

    Places below a good match are used only where there are too few others.
    """
    good = [each for each in laid if each.blocking is not None and each.blocking.match >= least]
    ranked = sorted(good, key=lambda each: (_middling(each), -each.worth))
    best = [each for each in ranked if not _middling(each)]
    return (ranked if len(best) < count // 2 else best)[:count]


def _middling(laid: Laid) -> bool:
    return laid.blocking is None or laid.blocking.match < _GOOD


def draw_places(every: Sequence[Place], rng: np.random.Generator, count: int) -> list[Place]:
    """A varied choice: berths in turn, larger sizes and quieter positions more often."""
    by_berth: dict[str, list[Place]] = {}
    for place in every:
        by_berth.setdefault(place.berth.name, []).append(place)
    # Small prints lose their character, so each berth is used only near the largest size it holds.
    top = max((place.size for place in every), default=0.0)
    names = [name for name, group in by_berth.items() if max(p.size for p in group) >= 0.6 * top]
    chosen: list[Place] = []
    for number in range(count * 3):
        if len(chosen) == count or not names:
            break
        group = by_berth[names[number % len(names)]]
        largest = max(place.size for place in group)
        sizes = sorted({place.size for place in group if place.size >= 0.8 * largest})
        size = float(rng.choice(sizes))
        alike = [place for place in group if place.size == size]
        turn = float(rng.choice(sorted({place.turn for place in alike})))
        spots = sorted((p for p in alike if p.turn == turn), key=lambda p: _outwards(p))
        # The middle of what fits, or as near the centre of the square as can be, leaves room for a border.
        at = int(rng.choice((0, 0, len(spots) // 3, len(spots) // 2)))
        if spots[at] not in chosen:
            chosen.append(spots[at])
    return chosen


def _outwards(place: Place) -> tuple[float, float, float]:
    x, y = place.centre
    return (max(abs(x), abs(y)) + min(abs(x), abs(y)), y, x)

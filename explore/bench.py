"""A workbench for one half-size: the piece, its models and the places of the stamp, built once and kept."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from constraints import model
from constraints.brief import Brief, Size
from constraints.piece import square
from constraints.solver import Solver
from constraints.square import Ring
from constraints.stamp import Stamp, outlines, shape_of
from constraints.targets import Target, target
from constraints.variables import Lace
from explore.berths import Place, places
from explore.blocking import Blocking, best_blocking

# Deterministic time for the stamp alone at one place. More of it raises the match by under 0.01.
_BLOCKING_EFFORT = 0.08
# So many places of the stamp are worked out for one half-size; jobs take turns with them.
_POOL = 12


@dataclass(frozen=True, eq=False)
class Laid:
    """The stamp laid at a place and blocked. blocking is None where nothing was found."""

    place: Place
    rings: tuple[Ring, ...]
    target: Target
    blocking: Blocking | None


class Bench:
    """Everything about squares of one half-size that no single square changes."""

    def __init__(self, brief: Brief, stamp: Stamp | None, size: Size) -> None:
        self.brief = brief
        self.stamp = stamp
        self.size = size
        self.piece = square(size.half_size, brief.worked, brief.symmetry)
        self._laid: dict[Place, Laid] = {}

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
        reach = self.size.half_size - self.brief.margin
        every = places(self.stamp, self.brief.symmetry, reach, self._sizes(), self.brief.turns)
        return draw_places(every, np.random.default_rng([self.brief.seed, self.size.half_size]), _POOL)

    def _sizes(self) -> Sequence[float]:
        if self.brief.stamp_size is None:
            return [float(size) for size in range(4, self.size.half_size + 1)]
        least, most = self.brief.stamp_size
        return sorted({least, most, *(float(size) for size in range(int(least) + 1, int(most) + 1))})

    def laid(self, place: Place) -> Laid:
        """The stamp at a place with its target and best blocking; worked out once."""
        if place not in self._laid:
            assert self.stamp is not None
            rings = outlines(self.stamp.placed(place.size, place.turn, place.centre))
            aim = target(self.piece, shape_of(rings))
            blocking = best_blocking(self.blocks, aim, _BLOCKING_EFFORT * self.brief.effort) if len(aim.inside) else None
            self._laid[place] = Laid(place, rings, aim, blocking)
        return self._laid[place]


def draw_places(every: Sequence[Place], rng: np.random.Generator, count: int) -> list[Place]:
    """A varied choice: berths in turn, larger sizes and quieter positions more often."""
    by_berth: dict[str, list[Place]] = {}
    for place in every:
        by_berth.setdefault(place.berth.name, []).append(place)
    # Small prints lose their character, so each berth is used only near the largest size it holds.
    top = max((place.size for place in every), default=0.0)
    names = [name for name, group in by_berth.items() if max(p.size for p in group) >= 0.55 * top]
    chosen: list[Place] = []
    for number in range(count * 3):
        if len(chosen) == count or not names:
            break
        group = by_berth[names[number % len(names)]]
        largest = max(place.size for place in group)
        sizes = sorted({place.size for place in group if place.size >= 0.72 * largest})
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

"""Rows of figures along every side."""

from __future__ import annotations

from constraints.lattice import BoolArray
from explore.search.compose import parts
from explore.search.compose.parts import Random
from explore.search.composing.desk import Desk, between, one_of
from explore.search.composing.motifs import bars


def _first(rng: Random, step: int) -> int:
    """Where a row begins: in the middle of the side, or half a step beside it."""
    return 0 if rng.random() < 0.5 else step // 2


def _along(rng: Random, first: int, step: int, most: int) -> list[int]:
    """Where figures stand along a side, none of the last, or one or two of them left out."""
    return list(range(first, max(first, most - between(rng, 0, 2) * step) + 1, step))


def diamonds(desk: Desk, rng: Random) -> BoolArray:
    """Diamonds one beside the other."""
    return _row(desk, rng, one_of(rng, (2, 4)))


def chain(desk: Desk, rng: Random) -> BoolArray:
    """Diamonds point to point."""
    return _row(desk, rng, 0)


def _row(desk: Desk, rng: Random, gap: int) -> BoolArray:
    size = between(rng, max(3, desk.least), 6)
    step = 2 * size + gap
    first, away = _first(rng, step), between(rng, desk.reach // 3, desk.reach - size + 1)
    if rng.random() < 0.7:
        # One stands in the corner, and all of them are evenly apart.
        away -= (away - first) % step
    # A place between pinholes would be moved, each to another side.
    away -= (away + first + size) % 2
    places = _along(rng, first, step, away)
    return bars(desk, [(parts.centre_for(size, size, -away, -along), size, size) for along in places])


def herringbone(desk: Desk, rng: Random) -> BoolArray:
    """Bars that lean to the middle of the side from both ends."""
    wide, long = max(3, desk.least), between(rng, 5, 9)
    away = between(rng, desk.reach // 2, desk.reach - long // 2)
    step = 2 * (wide + one_of(rng, (2, 3)))
    sides = (wide, long) if rng.random() < 0.5 else (long, wide)
    places = [along for along in _along(rng, _first(rng, step), step, away)[:6] if along > long // 2]
    return bars(desk, [(parts.centre_for(*sides, -away, -along), *sides) for along in places])

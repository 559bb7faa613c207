"""Trails that close round the centre."""

from __future__ import annotations

import numpy as np

from constraints.lattice import BoolArray, IntArray
from explore.search.compose import parts
from explore.search.compose.parts import Random
from explore.search.composing.desk import Desk, between

# Widths in units across a side; where a trail slants it is half as many pinholes wide.
_STRAIGHT, _SLANTING = (5, 6), (6, 6, 8)
# A smaller ring is a heart, not a trail.
_SMALLEST = 7


def _radius(desk: Desk, rng: Random) -> int:
    """The outermost third more often than what lies further in."""
    inner = _SMALLEST if rng.random() < 0.4 else max(_SMALLEST, 2 * desk.reach // 3)
    return between(rng, min(inner, desk.reach), desk.reach)


def _side(desk: Desk) -> IntArray:
    return np.arange(desk.reach + 1)


def square(desk: Desk, rng: Random) -> BoolArray:
    """Straight along all sides."""
    return parts.square_ring(desk.piece, _radius(desk, rng), int(rng.choice((max(3, 2 * desk.least - 1), *_STRAIGHT))))


def diamond(desk: Desk, rng: Random) -> BoolArray:
    """Straight from axis to axis."""
    wide = between(rng, max(2, desk.least), 4)
    return parts.diamond_ring(desk.piece, between(rng, _SMALLEST, desk.reach) | 1, wide)


def octagon(desk: Desk, rng: Random) -> BoolArray:
    """A square with its corners cut."""
    radius = _radius(desk, rng)
    cut = between(rng, max(2, radius // 4), 3 * radius // 4)
    return desk.ring(np.minimum(radius, radius + cut - _side(desk)), int(rng.choice(_SLANTING)))


def bastion(desk: Desk, rng: Random) -> BoolArray:
    """A square that draws back on the axes."""
    radius, deep = _radius(desk, rng), between(rng, 4, 10)
    flat = between(rng, 0, radius // 3)
    bay = np.maximum(radius - deep, _side(desk) + radius - deep - flat)
    return desk.ring(np.minimum(radius, bay), int(rng.choice(_SLANTING)))


def star(desk: Desk, rng: Random) -> BoolArray:
    """A square that comes forward on the axes."""
    radius, deep = _radius(desk, rng), between(rng, 4, 12)
    flat = between(rng, 0, radius // 3)
    point = np.maximum(radius - deep, radius + flat - _side(desk))
    return desk.ring(np.minimum(radius, point), int(rng.choice(_SLANTING)))


def zigzag(desk: Desk, rng: Random) -> BoolArray:
    """To and fro along every side, straight before the corner."""
    high = between(rng, 4, 9)
    return parts.zigzag_ring(
        desk.piece, _radius(desk, rng), high, int(rng.choice(_SLANTING)), int(rng.choice((0, 2, 4, 6))),
        int(rng.choice((0, high))),
    )  # fmt: skip


def dentil(desk: Desk, rng: Random) -> BoolArray:
    """One side straight, the other with teeth."""
    radius, high = _radius(desk, rng), between(rng, 3, 6)
    teeth = parts.wave(_side(desk) + int(rng.choice((0, high))), high, int(rng.choice((0, 2)))).astype(np.int64)
    width = int(rng.choice((5, 6)))
    if rng.random() < 0.5:
        return desk.band(np.full(desk.reach + 1, radius), radius - width - teeth)
    return desk.band(radius - teeth, np.full(desk.reach + 1, radius - high - width))


def contour(desk: Desk, rng: Random) -> BoolArray | None:
    """Round the print at an even distance, following its outline as far as a trail can."""
    there = np.flatnonzero(desk.outlying >= 0)
    if not len(there):
        return None
    flat, gap = between(rng, 0, 6), between(rng, 9, 13)
    far = np.abs(_side(desk)[:, None] - there[None, :])
    hull = (desk.outlying[there][None, :] + gap - np.maximum(0, far - flat)).max(axis=1)
    least = between(rng, 4, desk.reach - 6)
    profile = np.minimum(np.maximum(hull, least), desk.reach - between(rng, 0, 3))
    return desk.ring(profile, int(rng.choice(_SLANTING)))

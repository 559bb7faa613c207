"""Trails that close round the centre."""

from __future__ import annotations

import numpy as np

from constraints.lattice import BoolArray, IntArray
from explore.search.compose import parts
from explore.search.compose.parts import Random
from explore.search.composing.desk import Desk, between, one_of

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
    radius = _radius(desk, rng)
    return desk.drawn(_square, radius, one_of(rng, (max(3, 2 * desk.least - 1), *_STRAIGHT)))


def _square(desk: Desk, radius: int, width: int) -> BoolArray:
    return parts.square_ring(desk.piece, radius, width)


def diamond(desk: Desk, rng: Random) -> BoolArray:
    """Straight from axis to axis."""
    wide = between(rng, max(2, desk.least), 4)
    return desk.drawn(_diamond, between(rng, _SMALLEST, desk.reach) | 1, wide)


def _diamond(desk: Desk, radius: int, wide: int) -> BoolArray:
    return parts.diamond_ring(desk.piece, radius, wide)


def octagon(desk: Desk, rng: Random) -> BoolArray:
    """A square with its corners cut."""
    radius = _radius(desk, rng)
    cut = between(rng, max(2, radius // 4), 3 * radius // 4)
    return desk.drawn(_octagon, radius, cut, one_of(rng, _SLANTING))


def _octagon(desk: Desk, radius: int, cut: int, width: int) -> BoolArray:
    return desk.ring(np.minimum(radius, radius + cut - _side(desk)), width)


def bastion(desk: Desk, rng: Random) -> BoolArray:
    """A square that draws back on the axes."""
    radius, deep = _radius(desk, rng), between(rng, 4, 10)
    flat = between(rng, 0, radius // 3)
    return desk.drawn(_bastion, radius, deep, flat, one_of(rng, _SLANTING))


def _bastion(desk: Desk, radius: int, deep: int, flat: int, width: int) -> BoolArray:
    bay = np.maximum(radius - deep, _side(desk) + radius - deep - flat)
    return desk.ring(np.minimum(radius, bay), width)


def star(desk: Desk, rng: Random) -> BoolArray:
    """A square that comes forward on the axes."""
    radius, deep = _radius(desk, rng), between(rng, 4, 12)
    flat = between(rng, 0, radius // 3)
    return desk.drawn(_star, radius, deep, flat, one_of(rng, _SLANTING))


def _star(desk: Desk, radius: int, deep: int, flat: int, width: int) -> BoolArray:
    point = np.maximum(radius - deep, radius + flat - _side(desk))
    return desk.ring(np.minimum(radius, point), width)


def zigzag(desk: Desk, rng: Random) -> BoolArray:
    """To and fro along every side, straight before the corner."""
    high, radius = between(rng, 4, 9), _radius(desk, rng)
    width, flat, phase = one_of(rng, _SLANTING), one_of(rng, (0, 2, 4, 6)), one_of(rng, (0, high))
    return desk.drawn(_zigzag, radius, high, width, flat, phase)


def _zigzag(desk: Desk, radius: int, high: int, width: int, flat: int, phase: int) -> BoolArray:
    return parts.zigzag_ring(desk.piece, radius, high, width, flat, phase)


def dentil(desk: Desk, rng: Random) -> BoolArray:
    """One side straight, the other with teeth."""
    radius, high = _radius(desk, rng), between(rng, 3, 6)
    phase, flat, width = one_of(rng, (0, high)), one_of(rng, (0, 2)), one_of(rng, (5, 6))
    return desk.drawn(_dentil_inside if rng.random() < 0.5 else _dentil_outside, radius, high, phase, flat, width)


def _dentil_inside(desk: Desk, radius: int, high: int, phase: int, flat: int, width: int) -> BoolArray:
    return desk.band(np.full(desk.reach + 1, radius), radius - width - _teeth(desk, high, phase, flat))


def _dentil_outside(desk: Desk, radius: int, high: int, phase: int, flat: int, width: int) -> BoolArray:
    return desk.band(radius - _teeth(desk, high, phase, flat), np.full(desk.reach + 1, radius - high - width))


def _teeth(desk: Desk, high: int, phase: int, flat: int) -> IntArray:
    return parts.wave(_side(desk) + phase, high, flat).astype(np.int64)


def contour(desk: Desk, rng: Random) -> BoolArray | None:
    """Round the print at an even distance, following its outline as far as a trail can."""
    if max(desk.outlying) < 0:
        return None
    flat, gap = between(rng, 0, 6), between(rng, 9, 13)
    least, most = between(rng, 4, desk.reach - 6), desk.reach - between(rng, 0, 3)
    return desk.drawn(_contour, desk.outlying, flat, gap, least, most, one_of(rng, _SLANTING))


def _contour(
    desk: Desk, outlying: tuple[int, ...], flat: int, gap: int, least: int, most: int, width: int
) -> BoolArray:
    out = np.array(outlying)
    there = np.flatnonzero(out >= 0)
    far = np.abs(_side(desk)[:, None] - there[None, :])
    hull = (out[there][None, :] + gap - np.maximum(0, far - flat)).max(axis=1)
    return desk.ring(np.minimum(np.maximum(hull, least), most), width)

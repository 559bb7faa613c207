"""Trails that close round an upright print: above, below and beside it each has a course of its own.

All are their own mirror image, left and right. Where two courses meet, the trail goes straight over the corner line.
"""

from __future__ import annotations

import numpy as np

from constraints.lattice import BoolArray, IntArray
from explore.search.compose.parts import Random
from explore.search.composing.desk import Desk, between

# Symmetries of squares that keep above and below apart.
_UPRIGHT = ("none", "upright-mirror")
# Units across a side; where a trail slants it is half as many pinholes wide.
_WIDTHS = (6, 6, 8)
# From a print to the outer edge of a trail, units: its width and some rows of ground.
_GAP = (9, 13)
# Units from the centre within which no trail turns.
_LEAST = 6
# How far out a trail goes over a corner line, at the least, as a share of the side that is nearer.
_CORNER = 0.6
# How deep a bay is, units.
_BAY = (4, 9)


def _along(desk: Desk) -> IntArray:
    return np.arange(-desk.reach, desk.reach + 1)


def _trail(desk: Desk, sides: tuple[IntArray, IntArray, IntArray], upper: int, lower: int, width: int) -> BoolArray:
    """(n,) a trail whose courses meet at the corner lines. sides: how far out it lies above, beside and below, as each
    is by itself, (2 reach + 1,) units at each distance along the side, from left to right and from the top down. upper,
    lower: how far out it goes over the corner lines. width: units across a side."""
    along, out = _along(desk), np.arange(desk.reach + 1)
    above, beside, below = sides
    # Not further than both sides go there, or each would end by itself.
    upper = min(upper, int(out[np.minimum(above[desk.reach :], beside[desk.reach :: -1]) >= out].max(initial=0)))
    lower = min(lower, int(out[np.minimum(below[desk.reach :], beside[desk.reach :]) >= out].max(initial=0)))
    above = np.minimum(above, 2 * upper - abs(along))
    beside = np.minimum(beside, np.where(along < 0, 2 * upper + along, 2 * lower - along))
    below = np.minimum(below, 2 * lower - abs(along))
    x, y = desk.piece.pinholes.T
    aside = abs(x) > abs(y)
    at = np.clip(np.where(aside, y, x) + desk.reach, 0, 2 * desk.reach)
    outer = np.where(aside, beside[at], np.where(y < 0, above[at], below[at]))
    inside: BoolArray = (desk.away <= outer) & (desk.away > outer - width)
    return inside


def outline(desk: Desk, rng: Random) -> BoolArray | None:
    """Round the print at an even distance, on every side as it lies there."""
    if desk.piece.symmetry not in _UPRIGHT or not desk.print.any():
        return None
    flat, gap = between(rng, 0, 6), between(rng, *_GAP)
    most = desk.reach - between(rng, 0, 3)
    far = abs(_along(desk)[:, None] - _along(desk)[None, :])
    above, beside, below = (
        np.minimum(np.where(out >= 0, out + gap - np.maximum(0, far - flat), _LEAST).max(axis=1), most)
        for out in desk.outlying_upright
    )
    upper, lower = (between(rng, 2 * desk.reach // 5, desk.reach) for _ in range(2))
    return _trail(desk, (above, beside, below), upper, lower, int(rng.choice(_WIDTHS)))


def shield(desk: Desk, rng: Random) -> BoolArray | None:
    """Straight, arched, pointed or drawn in, above as it may be and below otherwise."""
    if desk.piece.symmetry not in _UPRIGHT:
        return None
    needed = desk.outlying_upright.max(axis=1) + _GAP[0]
    radii = [between(rng, max(_LEAST, min(least, desk.reach)), desk.reach) for least in needed.tolist()]
    along = abs(_along(desk))
    sides = [np.full(len(along), radius) for radius in radii]
    for number in (0, 2):
        if rng.random() < 0.4:
            deep, half = between(rng, *_BAY), between(rng, 0, 6)
            sides[number] = np.minimum(
                sides[number], np.maximum(radii[number] - deep, along + radii[number] - deep - half)
            )
    shorter = [min(radii[number], radii[1]) for number in (0, 2)]
    upper, lower = (between(rng, int(_CORNER * least), least) for least in shorter)
    above, beside, below = sides
    return _trail(desk, (above, beside, below), upper, lower, int(rng.choice(_WIDTHS)))

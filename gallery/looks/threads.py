"""Curves that look like thread: waves, twists, and the pieces that lie on top.

Points and vectors are arrays of shape (m, 2); curves are cubic Beziers of shape (k, 4, 2).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from constraints.lattice import FloatArray

# Where the controls of a wave stand, as a share of its length: this follows a cosine within 1 %.
_EASE = 0.3642


@dataclass(frozen=True, eq=False)
class DrawnThread:
    """curves: (k, 4, 2) cubic; over: (m, 2, 2) straight pieces of them that lie on top of others."""

    curves: FloatArray
    over: FloatArray

    def __add__(self, other: DrawnThread) -> DrawnThread:
        curves = np.concatenate([self.curves, other.curves])
        return DrawnThread(curves, np.concatenate([self.over, other.over]))


NONE = DrawnThread(np.empty((0, 4, 2)), np.empty((0, 2, 2)))


def unit(vectors: FloatArray) -> FloatArray:
    """The vectors (..., 2) made one unit long; zero stays zero."""
    return vectors / np.maximum(np.hypot(vectors[..., 0], vectors[..., 1]), 1e-9)[..., None]


def aside(vectors: FloatArray) -> FloatArray:
    """The vectors (..., 2) turned a quarter, clockwise on the page."""
    return np.stack([-vectors[..., 1], vectors[..., 0]], axis=-1)


def waves(
    first: FloatArray,
    leave: FloatArray,
    last: FloatArray,
    arrive: FloatArray,
    spread: float,
    close: float,
) -> FloatArray:
    """The two threads of pairs that twist once on their way: 2m curves, the threads on top first.

    leave, arrive: unit vectors in which a pair leaves the first place and reaches the last. spread, close:
    how far its threads lie from it there. A twist is right over left.
    """
    length = np.hypot(*(last - first).T)[:, None] * _EASE
    out = []
    for hand in (1.0, -1.0):
        start, end = first - hand * spread * aside(leave), last + hand * close * aside(arrive)
        out.append(np.stack([start, start + length * leave, end - length * arrive, end], axis=1))
    return np.concatenate(out)


def twisted(ends: FloatArray, twists: int, spread: float) -> FloatArray:
    """Pairs twisted along straight lines of shape (m, 2, 2): 2m * twists curves, those on top first."""
    share = np.linspace(0.0, 1.0, twists + 1)[:, None]
    knots = ends[:, None, 0] + share * (ends[:, None, 1] - ends[:, None, 0])
    direction = np.repeat(unit(ends[:, 1] - ends[:, 0]), twists, axis=0)
    return waves(knots[:, :-1].reshape(-1, 2), direction, knots[:, 1:].reshape(-1, 2), direction, spread, spread)


def halved(curves: FloatArray, second: bool) -> FloatArray:
    """The first or second half of each curve (de Casteljau)."""
    a, b, c, d = curves.transpose(1, 0, 2)
    ab, bc, cd = (a + b) / 2, (b + c) / 2, (c + d) / 2
    abc, bcd = (ab + bc) / 2, (bc + cd) / 2
    middle = (abc + bcd) / 2
    return np.stack([middle, bcd, cd, d] if second else [a, ab, abc, middle], axis=1)


def on_top(curves: FloatArray, length: float) -> FloatArray:
    """Short straight pieces at the middle of the threads on top (the first half of `curves`): (k, 2, 2)."""
    a, b, c, d = curves[: len(curves) // 2].transpose(1, 0, 2)
    return pieces((a + 3 * b + 3 * c + d) / 8, unit(d + c - b - a), length)


def pieces(middle: FloatArray, direction: FloatArray, length: float) -> FloatArray:
    """Straight pieces of a length round their middles: (m, 2, 2)."""
    return np.stack([middle - direction * (length / 2), middle + direction * (length / 2)], axis=1)


def crossings(centres: FloatArray, one: FloatArray, other: FloatArray, spread: float, length: float) -> FloatArray:
    """The pieces on top where pairs along the unit vectors `one` and `other` cross round a pin: (4m, 2, 2).

    The four threads lie `spread` from their pairs and make four crossings, over and under by turns.
    """
    out = []
    turn = one[:, 0] * other[:, 1] - one[:, 1] * other[:, 0]
    for a, b in ((-1, 1), (1, -1), (1, 1), (-1, -1)):
        # The point a * spread aside of the one way and b * spread aside of the other.
        shift = spread * (a * other - b * one) / turn[:, None]
        out.append(pieces(centres + shift, one if a != b else other, length))
    return np.concatenate(out)

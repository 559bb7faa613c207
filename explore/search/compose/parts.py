"""The parts of a composition: trails, rings, diamonds, bars. Each gives pinholes to try, best first.

Shapes are written in the rotated coordinates of the grid, where a block with straight sides is a rectangle,
so that they can be worked by one worker as they are.
"""

from __future__ import annotations

from functools import lru_cache

import numpy as np

from constraints.lattice import BoolArray, FloatArray, IntArray
from constraints.layout import locate
from constraints.piece import Piece

Random = np.random.Generator


# Of so many pieces what all parts begin with is kept: hundreds are drawn on each.
_KEPT = 64


@lru_cache(maxsize=_KEPT)
def from_centre(piece: Piece) -> IntArray:
    """(n,) distance from the centre to the side of the square through each pinhole; not to be written to."""
    return _kept(np.abs(piece.pinholes).max(axis=1))


@lru_cache(maxsize=_KEPT)
def along_side(piece: Piece) -> IntArray:
    """(n,) how far along that side, from its middle (no sign); not to be written to."""
    return _kept(np.abs(piece.pinholes).min(axis=1))


@lru_cache(maxsize=_KEPT)
def _along_diagonals(piece: Piece) -> tuple[IntArray, IntArray]:
    """(n,) how far along (1, 1) and along (-1, 1) each pinhole lies."""
    x, y = piece.pinholes.T
    return _kept(x + y), _kept(y - x)


def _kept(values: IntArray) -> IntArray:
    values.flags.writeable = False
    return values


def diamond(piece: Piece, centre: tuple[float, float], size: int) -> BoolArray:
    """size x size pinholes round a centre (a hole for even sizes, a pinhole for odd ones)."""
    return bar(piece, centre, size, size)


def diamond_places(piece: Piece, centre: tuple[int, int], size: int) -> IntArray | None:
    """The indices of a diamond's pinholes, None if it does not lie wholly on the piece."""
    return _from_top(piece, (centre[0], centre[1] - size + 1), size, size)


def bar_places(piece: Piece, centre: tuple[int, int], falling: int, rising: int) -> IntArray | None:
    """The indices of a bar's pinholes, None if it does not lie wholly on the piece; see `bar` and `centre_for`."""
    u, v = centre[0] + centre[1] - falling + 1, centre[1] - centre[0] - rising + 1
    return _from_top(piece, ((u - v) // 2, (u + v) // 2), falling, rising)


def _from_top(piece: Piece, top: tuple[int, int], falling: int, rising: int) -> IntArray | None:
    across, down = np.meshgrid(np.arange(falling), np.arange(rising), indexing="ij")
    points = np.stack([top[0] + across - down, top[1] + across + down], axis=-1).reshape(-1, 2)
    found = locate(piece, points)
    return found if (found >= 0).all() else None


def bar(piece: Piece, centre: tuple[float, float], falling: int, rising: int) -> BoolArray:
    """A rectangle of pinholes with sides along the diagonals: `falling` along (1, 1), `rising` along (-1, 1)."""
    u, v = _along_diagonals(piece)
    middle, aside = centre[0] + centre[1], centre[1] - centre[0]
    inside: BoolArray = (u > middle - falling) & (u < middle + falling)
    inside &= (v > aside - rising) & (v < aside + rising)
    return inside


def centre_for(falling: int, rising: int, x: float, y: float) -> tuple[int, int]:
    """The nearest centre to (x, y) at which a bar of these sides has exactly that many pinholes.

    Pinholes of a piece of parity 1 have u = x + y and v = y - x odd, so an even side needs its middle between
    two pinholes.
    """
    u, v = x + y, y - x
    u = 2 * round(u / 2) if falling % 2 == 0 else 2 * round((u - 1) / 2) + 1
    v = 2 * round(v / 2) if rising % 2 == 0 else 2 * round((v - 1) / 2) + 1
    return int(u - v) // 2, int(u + v) // 2


def square_ring(piece: Piece, radius: int, width: int) -> BoolArray:
    """A trail along the sides with a sawtooth on either edge, `width` units deep inwards from radius."""
    d = from_centre(piece)
    inside: BoolArray = (d <= radius) & (d > radius - width)
    return inside


def diamond_ring(piece: Piece, radius: int, width: int) -> BoolArray:
    """A straight trail round the centre along the diagonals, `width` pinholes wide."""
    s = np.abs(piece.pinholes).sum(axis=1)
    inside: BoolArray = (s <= radius) & (s > radius - 2 * width)
    return inside


def zigzag_ring(piece: Piece, radius: int, height: int, width: int, flat: int, phase: int) -> BoolArray:
    """A trail that runs to and fro between radius and radius - height as it goes round.

    width: units measured across the side. flat: units it runs straight at either turn. The wave is even
    about the middle of each side and runs straight from its last outer turn to the corner.
    """
    d, t = from_centre(piece), along_side(piece)
    depth = wave(t + phase, height, flat)
    turns = np.flatnonzero(wave(np.arange(max(radius - 3, 1)) + phase, height, flat) == 0)
    depth[t >= turns.max(initial=0)] = 0
    outer = radius - depth
    inside: BoolArray = (d <= outer) & (d > outer - width)
    return inside


def wave(t: IntArray, height: int, flat: int) -> FloatArray:
    """0 to height and back with slope one, staying `flat` at either end."""
    period = 2 * (height + flat)
    s = np.mod(t, period)
    rise = np.clip(s - flat / 2, 0, height)
    fall = np.clip(s - height - flat * 1.5, 0, height)
    return rise - fall


def chevron(piece: Piece, tip: tuple[int, int], outward: tuple[int, int], arm: int, width: int) -> BoolArray:
    """A V of two arms with its tip at `tip`, opening away from `outward`; width in units along its axis."""
    x, y = piece.pinholes.T
    ahead = (tip[0] - x) * outward[0] + (tip[1] - y) * outward[1]
    aside = np.abs((x - tip[0]) * outward[1] - (y - tip[1]) * outward[0])
    inside: BoolArray = (ahead >= aside) & (ahead < aside + width) & (aside <= arm)
    return inside


def corner_angle(piece: Piece, radius: int, width: int, arm: int) -> BoolArray:
    """The corners of a square ring only: two arms of that length meeting at each corner line."""
    d, t = from_centre(piece), along_side(piece)
    # Arms end in a point, so that the rows of the block grow and shrink by one.
    middle = radius - (width - 1) / 2
    inside: BoolArray = square_ring(piece, radius, width) & (t >= radius - arm + np.abs(d - middle))
    return inside

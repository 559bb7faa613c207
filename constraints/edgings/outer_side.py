"""The outer side of a headside, off the grid: where its rows end outside, and how it is curved.

On the grid the outer side is straight; `curved` bends it outwards for pricking and drawing.
"""

from __future__ import annotations

import numpy as np

from constraints.edgings.dressing import beside, to_edge
from constraints.edgings.headside import Headside
from constraints.lattice import BoolArray, FloatArray, Grid, IntArray
from constraints.piece import LEFT_EDGE, NO_EDGE, RIGHT_EDGE, Piece, quarters

# How far the middle of a fan stands out beyond its valleys, as a share of its depth; and the outermost pins of an
# unbroken block beyond those at its valleys, units a passive. By eye, as prickings look (common practice, no source).
_BULGE, _ROOM = 0.5, 0.4


def outer_pins(piece: Piece) -> FloatArray:
    """(k, 2) the pins of the outer side that stand on no pinhole, before the curve: one for every row of a fan
    that does not end at a pinhole of the edge; of an unbroken block, for every row, one unit outside."""
    if not piece.fan.any():
        return np.empty((0, 2))
    found = [
        np.unique(outer_ends(piece, np.flatnonzero(piece.fan & (side_of(piece) == edge))), axis=0)
        for edge in piece.headside_edges
    ]
    ends = np.concatenate(found)
    return ends[~np.isin(_codes(ends), _codes(piece.pinholes[piece.fan].astype(np.float64)))]


def side_of(piece: Piece) -> IntArray:
    """(n,) the edge to whose headside a place would belong: the nearer one of two."""
    if len(piece.headside_edges) == 1:
        return np.full(len(piece), piece.headside_edges[0])
    x = piece.pinholes[:, 0]
    right = 2 * x > x.min() + x.max()
    return np.where(right, RIGHT_EDGE, LEFT_EDGE)


def outer_ends(piece: Piece, places: IntArray) -> FloatArray:
    """(k, 2) where the rows of headside places end at their outer side, before the curve."""
    if piece.headside is None:
        raise ValueError("the piece has no headside")
    points = piece.pinholes[places].astype(np.float64)
    side = side_of(piece)[places]
    forward = piece.directions[piece.zone[places]]
    outward = np.stack([forward[:, 1], -forward[:, 0]], axis=1) * np.where(side == RIGHT_EDGE, 1, -1)[:, None]
    out = np.empty(len(places))
    for edge in piece.headside_edges:
        own = side == edge
        out[own] = to_edge(piece, piece.headside, edge, points[own], piece.zone[places][own]).across
    ends: FloatArray = points + (out + piece.headside.outside)[:, None] * outward
    return ends


def _codes(points: FloatArray) -> IntArray:
    reach = 1 << 20
    codes: IntArray = ((points[:, 0] + reach) * 4 * reach + points[:, 1] + reach).astype(np.int64)
    return codes


def reach(headside: Headside | None) -> float:
    """How far the outermost pins stand beyond the edge of the grid, units; those of a footside stand on it."""
    return 0.0 if headside is None else _room(headside) + _BULGE * headside.depth


def _room(headside: Headside) -> float:
    """How far its outermost pins stand beyond those at the valleys, units."""
    return _ROOM * headside.passives * headside.outside


def curved(piece: Piece, points: FloatArray) -> FloatArray:
    """Where points of the grid are drawn, (k, 2): those in a headside moved outwards, all others where they are."""
    if piece.headside is None or not len(points):
        return points
    moved = np.array(points, dtype=np.float64)
    zone = np.zeros(len(points), dtype=np.int64)
    if len(piece.directions) > 1:
        zone = quarters(moved, *np.abs(piece.pinholes).max(axis=0).tolist())
    for edge in piece.headside_edges:
        moved += _shift(piece, piece.headside, edge, moved, zone)
    return moved


def _shift(piece: Piece, headside: Headside, edge: int, points: FloatArray, zone: IntArray) -> FloatArray:
    """How far each point moves: not at all at the inner side of its fan, most at the outer side."""
    at = to_edge(piece, headside, edge, points, zone)
    forward = piece.directions[zone].astype(np.float64)
    outward = np.stack([forward[:, 1], -forward[:, 0]], axis=1) * (1 if edge == RIGHT_EDGE else -1)
    outside, room = float(headside.outside), _room(headside)
    inner = headside.depth - beside(piece, headside, edge, at)
    middle = 1 - (beside(piece, headside, edge, at) / headside.depth) ** 2
    out = _BULGE * headside.depth * middle + room - outside
    share = np.clip((inner - at.across) / np.maximum(inner + outside, 1e-9), 0, 1)
    share = np.where(at.across <= -outside, 1.0, share)
    # What lies beyond the outer pins of a block is drawn at them.
    over = np.minimum(at.across + outside, 0.0) if headside.solid else 0.0
    side = np.where((at.across <= inner) & (at.beyond <= 0), share * out + over, 0.0)
    shift: FloatArray = side[:, None] * outward
    corner = at.beyond > 0
    if corner.any() and len(piece.directions) > 1:
        shift[corner] = _round_corner(piece, headside, points[corner], room, outside)
    return shift


def _round_corner(piece: Piece, headside: Headside, points: FloatArray, room: float, outside: float) -> FloatArray:
    """How points of a corner fan move, along the ray from the middle of the square that its valleys span."""
    radius = 2 * headside.first + 1.0
    sides = np.abs(piece.pinholes).max(axis=0)
    ray = np.abs(points) - (sides - radius)
    length = np.hypot(*ray.T)
    along = ray / np.maximum(length, 1e-9)[:, None]
    bend = along.prod(axis=1) * 2  # the sine of twice the angle: 0 at the valleys, 1 at the corner line
    inner = radius / along.sum(axis=1)
    straight = (radius + outside) / along.max(axis=1)
    arc = radius + room + _BULGE * min(headside.depth, radius) * np.maximum(bend, 0) ** 0.6
    share = np.clip((length - inner) / np.maximum(straight - inner, 1e-9), 0, 1)
    # What runs outside the pins of a footside stays outside.
    over = 0.0 if headside.solid else np.maximum(length - straight, 0.0)
    moved = inner + share * (arc - inner) + over
    shift: FloatArray = np.where((length > inner)[:, None], (moved - length)[:, None] * along * np.sign(points), 0.0)
    return shift


def worked_over(piece: Piece) -> BoolArray:
    """(n,) the pinholes of the edge over which an unbroken block goes on, so that no pin stands there. In its valleys,
    where a row has no other pinhole, one does (as in fig. 799)."""
    if piece.headside is None or not piece.headside.unbroken:
        return np.zeros(len(piece), dtype=np.bool_)
    inward = np.where(side_of(piece) == RIGHT_EDGE, -1, 1)[:, None]
    forward = piece.directions[piece.zone]
    beside = Grid.of(piece.pinholes).at(
        piece.setting.wrap.fold(piece.pinholes + 2 * inward * np.stack([forward[:, 1], -forward[:, 0]], axis=1))
    )
    found: BoolArray = piece.fan & (piece.edge != NO_EDGE) & np.append(piece.fan, False)[beside]
    return found

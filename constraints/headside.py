"""A headside on a piece: the places it takes, where its rows end outside, and how its outer side is curved.

On the grid the outer side is straight; `curved` bends it outwards for pricking and drawing.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from constraints.edging import SCALLOP, Headside
from constraints.lattice import BoolArray, FloatArray, Grid, IntArray
from constraints.piece import LEFT_EDGE, NO_EDGE, RIGHT_EDGE, Piece, quarters

# How far the middle of a fan stands out beyond its valleys, as a share of its depth; and the outermost pins of a
# scallop beyond its valley pins, units a passive. By eye, as prickings look (common practice, no source).
_BULGE, _ROOM = 0.5, 0.4


@dataclass(frozen=True, eq=False)
class Edge:
    """Where points lie to one edge of a piece, all in lattice units.

    across: how far inside the edge. along: down a strip; of a side, from its middle. beyond: units past the last
    valley before a corner; below 0 on a strip and along a side.
    """

    across: FloatArray
    along: FloatArray
    beyond: FloatArray


def dressed(piece: Piece, headside: Headside | None, edges: tuple[int, ...]) -> Piece:
    """The piece with a headside along some of its edges: its places, and the depth counted from them too."""
    if headside is None:
        return piece
    fan = np.zeros(len(piece), dtype=np.bool_)
    for edge in edges:
        fan |= _places(piece, headside, edge)
    return replace(piece, headside=headside, headside_edges=edges, fan=fan, depth=_depth(piece, fan))


def to_edge(piece: Piece, headside: Headside, edge: int, points: FloatArray, zone: IntArray) -> Edge:
    """Where points, each in a zone of the piece, lie to an edge."""
    forward = piece.directions.astype(np.float64)
    outward = np.stack([forward[:, 1], -forward[:, 0]], axis=1) * (1 if edge == RIGHT_EDGE else -1)
    own = (piece.pinholes * outward[piece.zone]).sum(axis=1)
    line = np.array([own[piece.zone == each].max() for each in range(len(forward))])
    along = (points * forward[zone]).sum(axis=1)
    across = line[zone] - (points * outward[zone]).sum(axis=1)
    if len(forward) == 1:
        return Edge(across, along, np.full(len(points), -1.0))
    # A quarter's side is as long as the next quarter's line lies from the middle.
    half = np.roll(line, -1)[zone]
    return Edge(across, along, np.abs(along) - (half - 1 - 2 * headside.first))


def beside(piece: Piece, headside: Headside, edge: int, at: Edge) -> FloatArray:
    """Units along the edge from the middle of the nearest fan: the depth at a valley."""
    first: FloatArray | int = _first_row(piece, headside, edge)
    if len(piece.directions) > 1:
        first = np.abs(at.along) - at.beyond  # the last valley of its own side
    return np.abs((at.along - first) % headside.period - headside.depth)


def _first_row(piece: Piece, headside: Headside, edge: int) -> int:
    """The row of a valley of a strip."""
    if edge == RIGHT_EDGE or piece.pinholes[:, 0].max() % 2 == 0:
        return headside.first
    # Opposite columns of unlike parity: staggered by half a period, or where that is even, by one row.
    return headside.first + (headside.depth if headside.depth % 2 else 1)


def _places(piece: Piece, headside: Headside, edge: int) -> BoolArray:
    """(n,) the places of all fans along an edge, corner fans among them: those have a straight inner side."""
    at = to_edge(piece, headside, edge, piece.pinholes.astype(np.float64), piece.zone)
    from_middle = beside(piece, headside, edge, at)
    valley = (at.across == 0) & (from_middle == headside.depth) & (at.beyond <= 0)
    side = (at.across + from_middle <= headside.depth) & (at.beyond <= 0)
    corner = (at.beyond >= 0) & (at.across <= at.beyond)
    found: BoolArray = (side | corner) & ~valley
    if headside.kind == SCALLOP:
        found |= piece.edge == edge
    return found


def _depth(piece: Piece, fan: BoolArray) -> IntArray:
    """(n,) steps to the nearest pin of an edge or place of a headside."""
    depth = np.where(fan, 0, piece.depth)
    beside_it = np.where(piece.neighbours < 0, len(piece), piece.neighbours)
    while True:
        nearer = np.minimum(depth, np.append(depth, depth.max())[beside_it].min(axis=1) + 1)
        if (nearer == depth).all():
            return depth
        depth = nearer


# --- off the grid ----------------------------------------------------------------------------------------


def outer_pins(piece: Piece) -> FloatArray:
    """(k, 2) the pins of the outer side that stand on no pinhole, before the curve: one for every row of a fan
    that does not end at a pinhole of the edge; of a scallop, for every row, one unit outside."""
    if piece.headside is None:
        return np.empty((0, 2))
    found = [
        np.unique(outer_ends(piece, np.flatnonzero(piece.fan & (side_of(piece) == edge))), axis=0)
        for edge in piece.headside_edges
    ]
    ends = np.concatenate(found)
    return ends[~np.isin(_codes(ends), _codes(piece.pinholes[piece.fan].astype(np.float64)))]


def side_of(piece: Piece) -> IntArray:
    """(n,) the edge to whose headside a place would belong: the nearer one of a strip."""
    if len(piece.headside_edges) == 1:
        return np.full(len(piece), piece.headside_edges[0])
    right = 2 * piece.pinholes[:, 0] > piece.pinholes[:, 0].max()
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
    further = out + (1 if piece.headside.kind == SCALLOP else 0)
    ends: FloatArray = points + further[:, None] * outward
    return ends


def _codes(points: FloatArray) -> IntArray:
    reach = 1 << 20
    codes: IntArray = ((points[:, 0] + reach) * 4 * reach + points[:, 1] + reach).astype(np.int64)
    return codes


def reach(headside: Headside) -> float:
    """How far the outermost pins stand beyond the edge of the grid, units."""
    room = _ROOM * headside.passives if headside.kind == SCALLOP else 0.0
    return room + _BULGE * headside.depth


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
    outside = 1.0 if headside.kind == SCALLOP else 0.0
    room = _ROOM * headside.passives if headside.kind == SCALLOP else 0.0
    inner = headside.depth - beside(piece, headside, edge, at)
    middle = 1 - (beside(piece, headside, edge, at) / headside.depth) ** 2
    out = _BULGE * headside.depth * middle + room - outside
    share = np.clip((inner - at.across) / np.maximum(inner + outside, 1e-9), 0, 1)
    share = np.where(at.across <= -outside, 1.0, share)
    # What lies beyond the outer pins is drawn at them.
    over = np.minimum(at.across + outside, 0.0)
    side = np.where((at.across <= inner) & (at.beyond <= 0), share * out + over, 0.0)
    shift: FloatArray = side[:, None] * outward
    corner = at.beyond > 0
    if corner.any():
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
    arc = radius + room + _BULGE * headside.depth * np.maximum(bend, 0) ** 0.6
    share = np.clip((length - inner) / np.maximum(straight - inner, 1e-9), 0, 1)
    moved = inner + share * (arc - inner)
    shift: FloatArray = np.where((length > inner)[:, None], (moved - length)[:, None] * along * np.sign(points), 0.0)
    return shift


def within_scallop(piece: Piece) -> BoolArray:
    """(n,) the pinholes of the edge over which a scallop goes on, so that no pin stands there. In its valleys, where
    a row has no other pinhole, one does (as in fig. 799)."""
    if piece.headside is None or piece.headside.kind != SCALLOP:
        return np.zeros(len(piece), dtype=np.bool_)
    inward = np.where(side_of(piece) == RIGHT_EDGE, -1, 1)[:, None]
    forward = piece.directions[piece.zone]
    beside = Grid.of(piece.pinholes).at(
        piece.setting.wrap.fold(piece.pinholes + 2 * inward * np.stack([forward[:, 1], -forward[:, 0]], axis=1))
    )
    found: BoolArray = piece.fan & (piece.edge != NO_EDGE) & np.append(piece.fan, False)[beside]
    return found

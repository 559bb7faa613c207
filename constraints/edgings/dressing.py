"""A headside on a piece: the places that it takes, and where its figures stand (common practice, no source)."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from constraints.edgings.headside import Headside
from constraints.lattice import BoolArray, FloatArray, Grid, IntArray
from constraints.piece import RIGHT_EDGE, Piece


@dataclass(frozen=True, eq=False)
class Edge:
    """Where points lie to one edge of a piece, all in lattice units.

    across: how far inside the edge. along: down a strip; of a side, from its middle. beyond: units past the last
    valley of a side; below 0 before it and on a strip.
    """

    across: FloatArray
    along: FloatArray
    beyond: FloatArray


def dressed(piece: Piece, headside: Headside | None, edges: tuple[int, ...], last_valley: int | None = None) -> Piece:
    """The piece with a headside along some of its edges: its places, and the depth counted from them too. last_valley:
    as a piece has it."""
    if headside is None:
        return piece
    piece = replace(piece, last_valley=last_valley)
    held = np.zeros(len(piece), dtype=np.bool_)
    for edge in edges:
        held |= _places(piece, headside, edge)
    fan = held if headside.solid else np.zeros(len(piece), dtype=np.bool_)
    bare = replace(piece, headside=headside, headside_edges=edges, fan=fan, held=held)
    held = held | _within(bare, _middles(bare))
    return replace(bare, held=held, depth=_depth(piece, held))


def to_edge(piece: Piece, headside: Headside, edge: int, points: FloatArray, zone: IntArray) -> Edge:
    """Where points, each in a zone of the piece, lie to an edge."""
    forward = piece.directions.astype(np.float64)
    outward = np.stack([forward[:, 1], -forward[:, 0]], axis=1) * (1 if edge == RIGHT_EDGE else -1)
    own = (piece.pinholes * outward[piece.zone]).sum(axis=1)
    line = np.array([own[piece.zone == each].max() for each in range(len(forward))])
    along = (points * forward[zone]).sum(axis=1)
    across = line[zone] - (points * outward[zone]).sum(axis=1)
    if len(forward) == 1:
        last = piece.last_valley
        return Edge(across, along, np.full(len(points), -1.0) if last is None else np.abs(along) - last)
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
    """The row of a valley of what is worked down."""
    x = piece.pinholes[:, 0]
    if edge == RIGHT_EDGE or (x.max() - x.min()) % 2 == 0:
        return headside.first
    # Opposite columns of unlike parity: staggered by half a period, or where that is even, by one row.
    return headside.first + (headside.depth if headside.depth % 2 else 1)


def _places(piece: Piece, headside: Headside, edge: int) -> BoolArray:
    """(n,) the places of all fans along an edge, corner fans among them: those have a straight inner side."""
    at = to_edge(piece, headside, edge, piece.pinholes.astype(np.float64), piece.zone)
    from_middle = beside(piece, headside, edge, at)
    valley = (at.across == 0) & (from_middle == headside.depth) & (at.beyond <= 0)
    side = (at.across + from_middle <= headside.depth) & (at.beyond <= 0)
    corner = (at.beyond >= 0) & (at.across <= at.beyond) & (len(piece.directions) > 1)
    found: BoolArray = (side | corner) & ~valley
    if headside.unbroken:
        found |= piece.edge == edge
    return found


def figures(piece: Piece) -> IntArray:
    """(k, 2) the middles of the figures that its headside brings with it, but for those that its ends cut off."""
    middles = _middles(piece)
    if piece.headside is None or piece.headside.figure is None or not len(middles):
        return middles
    places = middles[:, None, :] + _around(piece.headside.figure.size - 1)
    whole = (Grid.of(piece.pinholes).at(piece.setting.wrap.fold(places)) >= 0).all(axis=1)
    found: IntArray = middles[whole]
    return found


def _middles(piece: Piece) -> IntArray:
    """(k, 2) the middle between every two valleys, where a figure would be; not before a corner."""
    headside = piece.headside
    if headside is None or headside.figure is None:
        return np.empty((0, 2), dtype=np.int64)
    points, zone = piece.pinholes, piece.zone
    if headside.figure.pin_in_hole:
        points = np.concatenate([points + np.array([0, 1]), points - np.array([0, 1])])
        points, zone = piece.setting.wrap.fold(points), np.concatenate([zone, zone])
    found = []
    for edge in piece.headside_edges:
        at = to_edge(piece, headside, edge, points.astype(np.float64), zone)
        own = (at.across == headside.inwards) & (beside(piece, headside, edge, at) == 0) & (at.beyond < 0)
        found.append(points[own])
    return np.unique(np.concatenate(found), axis=0)


def _around(reach: int) -> IntArray:
    """(k, 2) from a figure's middle to the pinholes so many steps about it, each at the parity of the outermost."""
    line = range(-reach, reach + 1)
    return np.array([(x, y) for x in line for y in line if abs(x) + abs(y) <= reach and (x + y - reach) % 2 == 0])


def _within(piece: Piece, middles: IntArray) -> BoolArray:
    """(n,) the diamonds round figures: their pinholes and one line more on every side, in which their legs end."""
    found = np.zeros(len(piece) + 1, dtype=np.bool_)
    if piece.headside is not None and piece.headside.figure is not None and len(middles):
        places = middles[:, None, :] + _around(piece.headside.figure.size + 1)
        found[Grid.of(piece.pinholes).at(piece.setting.wrap.fold(places))] = True
    return found[:-1]


def _depth(piece: Piece, held: BoolArray) -> IntArray:
    """(n,) steps to the nearest pin of an edge or place that a headside takes."""
    depth = np.where(held, 0, piece.depth)
    beside_it = np.where(piece.neighbours < 0, len(piece), piece.neighbours)
    while True:
        nearer = np.minimum(depth, np.append(depth, depth.max())[beside_it].min(axis=1) + 1)
        if (nearer == depth).all():
            return depth
        depth = nearer

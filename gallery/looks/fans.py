"""Fans and scallops as areas and rows: the lattice's own closed holes, and what lies beside the edge."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import shapely

from constraints.edgings.outer_side import outer_ends
from constraints.lattice import PLAIN, BoolArray, FloatArray, IntArray
from constraints.piece import RIGHT_EDGE, Piece
from gallery.looks.blocks import whole_holes
from gallery.looks.marks import Marks


def fan_rings(marks: Marks, which: BoolArray) -> list[FloatArray]:
    """The borders of the headside's blocks among a mask of places, from pin to pin."""
    piece = marks.piece
    places = which & piece.fan
    if not places.any():
        return []
    full = whole_holes(marks.layout)
    parts = [piece.pinholes[full[places[full[:, 0]]]].astype(np.float64)]
    return joined_rings([*parts, *_beside_edge(piece, places), *_at_ends(piece, places)])


def joined_rings(parts: list[FloatArray]) -> list[FloatArray]:
    """The borders of all that lies in polygons, arrays (k, corners, 2)."""
    area = shapely.union_all(np.concatenate([shapely.polygons(part) for part in parts]))
    polygons = shapely.orient_polygons(shapely.get_parts(area))
    return [shapely.get_coordinates(ring)[:-1] for ring in shapely.get_rings(polygons)]


@dataclass(frozen=True, eq=False)
class _Links:
    """From edge pin to edge pin along a headside: from valley to fan, within it, and on to the next valley.

    first, last: (k, 2) the pins; forward, outward: (k, 2) unit vectors; zone: (k,).
    """

    first: FloatArray
    last: FloatArray
    forward: FloatArray
    outward: FloatArray
    zone: IntArray


def _links(piece: Piece, places: BoolArray, straight: bool = True) -> _Links:
    """straight: those along an edge, or else those round a corner."""
    begin = np.flatnonzero((piece.edge_next >= 0) & np.isin(piece.edge, piece.fan_edges))
    end = piece.edge_next[begin]
    along = np.abs(piece.pinholes[begin] - piece.pinholes[end]).min(axis=1) == 0
    begin, end = (each[(along == straight) & (places[begin] | places[end])] for each in (begin, end))
    forward = piece.directions[piece.zone[begin]].astype(np.float64)
    side = np.where(piece.edge[begin] == RIGHT_EDGE, 1, -1)[:, None]
    outward = side * np.stack([forward[:, 1], -forward[:, 0]], axis=1)
    first, last = (piece.pinholes[each].astype(np.float64) for each in (begin, end))
    return _Links(first, last, forward, outward, piece.zone[begin])


def _beside_edge(piece: Piece, places: BoolArray) -> list[FloatArray]:
    """Quadrangles (k, 4, 2) from edge pin to edge pin: inwards to the place between them, and in a scallop out to
    its outer pins; round a corner figures of five."""
    links = _links(piece, places)
    corners = _links(piece, places, straight=False)
    first, last, middle = links.first, links.last, links.first + links.forward
    outside = 0.0 if piece.headside is None else float(piece.headside.outside)
    tip = corners.first + corners.forward + outside * (corners.outward + corners.forward)
    out, on = corners.first + outside * corners.outward, corners.last + outside * corners.forward
    found = [np.stack([corners.first, out, tip, on, corners.last], axis=1)]
    found += [np.stack([first, middle, last, middle - links.outward], axis=1)]
    if outside:
        found.append(np.stack([first, first + links.outward, last + links.outward, last], axis=1))
    return found


def end_halves(piece: Piece, places: BoolArray) -> FloatArray:
    """(k, 3, 2) the halves of holes between places that the first and the last row of a strip cut."""
    own = {(x, y) for x, y in piece.pinholes[places].tolist()}
    found = [
        [(x, y), (x + 1, y + inwards), (x + 2, y)]
        for end, inwards in _ends(piece)
        for x, y in sorted(own)
        if y == end and {(x + 1, y + inwards), (x + 2, y)} <= own
    ]
    return np.array(found, dtype=np.float64).reshape(-1, 3, 2)


def _ends(piece: Piece) -> list[tuple[int, int]]:
    """The first and the last row of a piece that is worked down, and the way from each into it."""
    if len(piece.directions) > 1 or piece.setting.wrap != PLAIN:
        return []
    rows = piece.pinholes[:, 1]
    return [(int(rows.min()), 1), (int(rows.max()), -1)]


def _at_ends(piece: Piece, places: BoolArray) -> list[FloatArray]:
    """What the ends of a strip leave of holes in its headside, and what lies there beside its edges: (k, 3, 2)."""
    own = {(x, y) for x, y in piece.pinholes[places].tolist()}
    found: list[list[tuple[int, int]]] = []
    for end, inwards in _ends(piece):
        for edge in piece.headside_edges:
            line = int(piece.pinholes[piece.edge == edge][0, 0])
            out = 1 if edge == RIGHT_EDGE else -1
            beside = (line - out, end)
            if beside not in own:
                continue
            found.append([beside, (line, end), (line, end + inwards)])
            if piece.headside is not None and piece.headside.outside:
                corners = [(line, end), (line + out, end), (line + out, end + inwards), (line, end + inwards)]
                found += [corners[:3], [corners[0], *corners[2:]]]
    return [end_halves(piece, places), np.array(found, dtype=np.float64).reshape(-1, 3, 2)]


def beside_edge(piece: Piece, places: BoolArray) -> tuple[FloatArray, IntArray]:
    """Middles (k, 2) of quarters of the holes that the edge of a headside or the end of a strip cuts, and the zone of
    each, (k,)."""
    if piece.headside is None:
        ends = _quarters_within([end_halves(piece, places)])
        return ends, np.zeros(len(ends), dtype=np.int64)
    links = _links(piece, places & piece.fan)
    half, out = links.forward / 2, links.outward
    middle = links.first + links.forward
    found = [links.first + half, links.last - half, middle - out / 2]
    if piece.headside.outside:
        # Up to its outer pins, one unit beyond the edge.
        found += [middle + out / 2, links.first + out / 2, links.first + out + half, links.last + out - half]
    whole = np.concatenate(found)
    ends = _quarters_within([*_at_ends(piece, places & piece.fan), end_halves(piece, places & ~piece.fan)])
    ends = ends[~(ends[:, None] == whole).all(axis=2).any(axis=1)]
    zone = np.concatenate([np.tile(links.zone, len(found)), np.zeros(len(ends), dtype=np.int64)])
    return np.concatenate([whole, ends]), zone


def _quarters_within(parts: list[FloatArray]) -> FloatArray:
    """(k, 2) the middles of quarters that lie in polygons: between every two neighbouring places of a row or column."""
    corners = np.concatenate([np.empty((0, 2)), *(part.reshape(-1, 2) for part in parts)])
    if not len(corners):
        return corners
    (left, top), (right, bottom) = corners.min(axis=0), corners.max(axis=0)
    x, y = (each.ravel() for each in np.meshgrid(np.arange(left, right + 0.5, 0.5), np.arange(top, bottom + 0.5, 0.5)))
    area = shapely.union_all(np.concatenate([shapely.polygons(part) for part in parts]))
    within = shapely.intersects_xy(area, x, y) & ((x + y) % 1 == 0.5)
    found: FloatArray = np.stack([x[within], y[within]], axis=1)
    return found


def fan_rows(marks: Marks, which: BoolArray) -> FloatArray:
    """(k, 2, 2) the worker's way through the headside's rows: to the outer end, and slanting back to the next row."""
    piece = marks.piece
    places = np.flatnonzero(which & piece.fan)
    if not len(places):
        return np.empty((0, 2, 2))
    zone, block = piece.zone[places], marks.layout.block[places]
    line = (piece.pinholes[places] * piece.directions[zone]).sum(axis=1)
    ends = outer_ends(piece, places)
    out = np.abs(ends - piece.pinholes[places]).max(axis=1)
    # The innermost place of every row.
    order = np.lexsort((-out, line, zone, block))
    keys = np.stack([block, zone, line])[:, order]
    first = order[np.concatenate([[True], (np.diff(keys) != 0).any(axis=0)])]
    rows = np.stack([piece.pinholes[places[first]].astype(np.float64), ends[first]], axis=1)
    follows = (block[first][1:] == block[first][:-1]) & (zone[first][1:] == zone[first][:-1])
    follows &= line[first][1:] == line[first][:-1] + 1
    back = np.stack([rows[:-1][follows][:, 1], rows[1:][follows][:, 0]], axis=1)
    return np.concatenate([rows, back])

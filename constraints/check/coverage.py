"""What a stamp covers: the area of its print in every pinhole's cell, and the pinholes close to it.

The area is exact: turned by 45 degrees the diamond cells are the squares of a plain grid, in which the
outline is cut at every grid line and the areas beside its pieces are summed (Green's theorem).
"""

from __future__ import annotations

import numpy as np
import shapely

from constraints.design import Ring
from constraints.lattice import BoolArray, FloatArray, IntArray
from constraints.piece import Piece
from constraints.symmetry import CENTRED, Setting

NEAR = 2.0  # units within which an open pinhole counts as near the print
SLACK = 1e-6  # lengths and areas that differ by less are taken as equal
GRID = 1e-9  # images are joined on a grid this fine: without one GEOS may lose an area where edges meet


def printed(rings: tuple[Ring, ...], symmetry: str, reach: float, setting: Setting = CENTRED) -> shapely.Geometry:
    """The union of the images of a print under a symmetry, cut off at `reach` units from the centre; in a strip with
    the repeats above and below.

    rings: outlines in lattice units, combined even-odd. They may cross themselves and each other.
    """
    area = even_odd(rings)
    if np.abs(area.bounds).max(initial=0) > reach:  # an empty area has no bounds to compare
        area = shapely.intersection(area, shapely.box(-reach, -reach, reach, reach))
    rows = setting.wrap.rows
    moves = [
        (turn, shift + np.array([0, along]))
        for turn, shift in zip(*setting.affine(symmetry), strict=True)
        for along in ((-rows, 0, rows) if rows else (0,))
    ]
    images = [shapely.transform(area, lambda points, m=m, by=by: points @ m.T + by) for m, by in moves]
    return shapely.union_all(images, grid_size=GRID)


def even_odd(rings: tuple[Ring, ...]) -> shapely.Geometry:
    """The places that an odd number of rings goes round."""
    lines = shapely.union_all([shapely.linearrings(ring) for ring in rings])
    faces = shapely.get_parts(shapely.polygonize([lines]))
    if len(faces) == 0:
        return shapely.Polygon()
    inner = shapely.get_coordinates(shapely.point_on_surface(faces))
    start = np.concatenate([np.array(ring) for ring in rings])
    end = np.concatenate([np.roll(np.array(ring), -1, axis=0) for ring in rings])
    # A ray to the right from an inner point crosses an odd number of edges.
    x, y = inner[:, 0, None], inner[:, 1, None]
    spans = (start[:, 1] <= y) != (end[:, 1] <= y)
    rise = np.where(end[:, 1] == start[:, 1], 1.0, end[:, 1] - start[:, 1])
    crossing = start[:, 0] + (y - start[:, 1]) / rise * (end[:, 0] - start[:, 0])
    odd = (spans & (crossing > x)).sum(axis=1) % 2 == 1
    return shapely.union_all(faces[odd])


def covered(area: shapely.Geometry, piece: Piece) -> FloatArray:
    """(n,) how much of each pinhole's cell (|dx| + |dy| <= 1, area 2) lies in the area."""
    start, end = _edges(area)
    shift = piece.parity - 1
    cells = (_turned(piece.pinholes, 0) - piece.parity) // 2
    low, high = cells.min(axis=0), cells.max(axis=0)
    # In turned coordinates, halved, the cell of a pinhole is the unit square from its (i, j).
    start, end = _cut(_turned(start, shift) / 2, _turned(end, shift) / 2)
    middle = (start + end) / 2
    place = np.floor(middle).astype(np.int64)
    rise = end[:, 1] - start[:, 1]
    kept = (place[:, 0] <= high[0]) & (place[:, 1] >= low[1]) & (place[:, 1] <= high[1])
    place, rise, middle = place[kept], rise[kept], middle[kept]
    column = np.maximum(place[:, 0], low[0] - 1)
    # What lies left of all cells keeps a column of its own, of which only `whole` is read.
    beside = column + 1 - middle[:, 0]
    width, height = high - low + np.array([2, 1])
    flat = (column - low[0] + 1) * height + place[:, 1] - low[1]
    own = np.bincount(flat, rise * beside, width * height).reshape(width, height)
    whole = np.bincount(flat, rise, width * height).reshape(width, height)
    # Cells further right have the whole of each piece of outline on their left.
    share = -(own + np.cumsum(whole, axis=0) - whole)
    area_within: FloatArray = 2 * share[cells[:, 0] - low[0] + 1, cells[:, 1] - low[1]]
    return area_within


def near(area: shapely.Geometry, pinholes: IntArray) -> BoolArray:
    """(n,) whether each pinhole lies within NEAR units of the area."""
    shapely.prepare(area)
    close: BoolArray = shapely.dwithin(area, shapely.points(pinholes), NEAR + SLACK)
    return close


def _turned(points: FloatArray | IntArray, shift: int) -> FloatArray:
    x, y = points[:, 0], points[:, 1]
    return np.stack([x + y - shift, y - x - shift], axis=1)


def _edges(area: shapely.Geometry) -> tuple[FloatArray, FloatArray]:
    """Starts and ends of all edges, the area on the left of each (in a plane with y up)."""
    polygons = shapely.get_parts(area)
    polygons = polygons[shapely.get_type_id(polygons) == 3]
    rings = shapely.get_rings(shapely.orient_polygons(polygons))
    points, ring = shapely.get_coordinates(rings, return_index=True)
    same = ring[1:] == ring[:-1]
    return points[:-1][same], points[1:][same]


def _cut(start: FloatArray, end: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Cut edges at every integer line of both axes."""
    edge = [np.arange(len(start)), np.arange(len(start))]
    part = [np.zeros(len(start)), np.ones(len(start))]
    for axis in (0, 1):
        low, high = np.minimum(start, end)[:, axis], np.maximum(start, end)[:, axis]
        first = np.floor(low).astype(np.int64) + 1
        count = np.maximum(np.ceil(high).astype(np.int64) - first, 0)
        which = np.repeat(np.arange(len(start)), count)
        line = np.arange(len(which)) - np.repeat(np.cumsum(count) - count, count) + first[which]
        edge.append(which)
        part.append((line - start[which, axis]) / (end - start)[which, axis])
    edges, parts = np.concatenate(edge), np.concatenate(part)
    order = np.lexsort([parts, edges])
    edges, parts = edges[order], parts[order]
    points = start[edges] + parts[:, None] * (end - start)[edges]
    same = edges[1:] == edges[:-1]
    return points[:-1][same], points[1:][same]

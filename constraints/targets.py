"""The pinholes a placed stamp asks for."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import shapely
import shapely.affinity
from shapely.geometry import MultiPolygon

from constraints.lattice import BoolArray, FloatArray, IntArray
from constraints.piece import Piece
from constraints.symmetry import CENTRED, Setting

# A cell counts from half its area of 2 square units; the slack keeps halves on a mirror line the same
# on every machine.
_HALF_CELL = 1.0 - 1e-6
_NEAR = 2.0 + 1e-6
# Overlays on a fine grid are slower and always right; plain ones go wrong now and then where edges meet.
_GRID = 1e-9
# Every overlay walks the whole outline: one longer than this is cut up before it meets more than a few cells. The cuts
# run beyond the cells, where no coordinate of an outline, saved to thousandths, lies.
_LONG, _FEW, _BEYOND = 60, 4, 1.50049


@dataclass(frozen=True, eq=False)
class Target:
    """inside: pinholes the shape covers; near: other pinholes within 2 units of it. Indices of a piece.

    reverse: the shape is to be left open instead of filled. shares: (n,) the share of each pinhole's cell that the
    shape covers, where it was worked out.
    """

    inside: IntArray
    near: IntArray
    reverse: bool = False
    shares: FloatArray | None = None

    def touched(self, count: int) -> BoolArray:
        """(count,) the pinholes of a piece that it speaks of: covered or near."""
        touched = np.zeros(count, dtype=np.bool_)
        touched[self.inside] = touched[self.near] = True
        return touched

    def match(self, block: BoolArray) -> float:
        """The match of the block places, (n,) over all pinholes of the piece."""
        shown = ~block if self.reverse else block
        hit = int(shown[self.inside].sum())
        return hit / (len(self.inside) + int(shown[self.near].sum()))


def target(piece: Piece, shape: MultiPolygon, reverse: bool = False) -> Target:
    """The target of the shape together with all its images under the piece's symmetry.

    `shape` in lattice units, with the coordinates that will be saved.
    """
    union = _joined(images(shape, piece.symmetry, piece.setting))
    shapely.prepare(union)
    # The union looks the same from every pinhole of an orbit.
    one_each, close_ones = _areas(piece.pinholes[piece.representatives], union)
    areas, close = one_each[piece.orbit], close_ones[piece.orbit]
    covered = areas >= _HALF_CELL
    return Target(np.flatnonzero(covered), np.flatnonzero(close & ~covered), reverse, np.clip(areas / 2, 0.0, 1.0))


def images(shape: MultiPolygon, symmetry: str, setting: Setting = CENTRED) -> list[MultiPolygon]:
    """The shape under every transformation of a symmetry, itself first; in a strip also in the repeats beside."""
    rows = setting.wrap.rows
    return [
        shapely.affinity.affine_transform(shape, [a, b, c, d, x, y + along])
        for along in ((0, -rows, rows) if rows else (0,))
        for ((a, b), (c, d)), (x, y) in zip(*(each.tolist() for each in setting.affine(symmetry)), strict=True)
    ]


def _joined(shapes: list[MultiPolygon]) -> shapely.Geometry:
    """The union of shapes. Those that keep apart need no overlay: together they are a valid shape already."""
    together = MultiPolygon([part for shape in shapes for part in shape.geoms])
    return together if together.is_valid else shapely.union_all(shapes, grid_size=_GRID)


def _areas(points: IntArray, shape: shapely.Geometry) -> tuple[FloatArray, BoolArray]:
    """For points (n, 2): the area of their cell that the shape covers, and whether the shape lies within 2 units.

    Areas are worked out only for cells that the outline crosses.
    """
    left, top, right, bottom = shape.bounds
    x, y = points.T.astype(float)
    around = np.flatnonzero((x >= left - 3) & (x <= right + 3) & (y >= top - 3) & (y <= bottom + 3))
    spots = shapely.points(x[around], y[around])
    within = shapely.contains(shape, spots)
    to_outline = shapely.distance(spots, shapely.boundary(shape))
    areas, close = np.zeros(len(points)), np.zeros(len(points), dtype=bool)
    close[around] = within | (to_outline <= _NEAR)
    areas[around] = np.where(within & (to_outline >= 1), 2.0, 0.0)
    crossed = around[to_outline < 1]
    areas[crossed] = _crossed(points[crossed], within[to_outline < 1], shape)
    return areas, close


def _crossed(points: IntArray, within: BoolArray, shape: shapely.Geometry) -> FloatArray:
    """The area of the cell of each point (k, 2) that the shape covers. within: whether it covers the point."""
    areas = np.zeros(len(points))
    if len(points) > _FEW and shapely.get_num_coordinates(shape) > _LONG:
        order = np.argsort(points[:, int(np.argmax(np.ptp(points, axis=0)))], kind="stable")
        for part in np.array_split(order, 2):
            areas[part] = _crossed(points[part], within[part], _nearby(shape, points[part]))
        return areas
    ring = np.array([(0, -1), (1, 0), (0, 1), (-1, 0), (0, -1)], dtype=float)
    cells = shapely.polygons(points[:, None, :] + ring[None])
    areas[:] = shapely.area(shapely.intersection(cells, shape))
    # A cell that only touches the outline may come out as covered. Where its middle says otherwise the
    # fine grid decides.
    odd = (areas >= _HALF_CELL) != within
    areas[odd] = shapely.area(shapely.intersection(cells[odd], shape, grid_size=_GRID))
    return areas


def _nearby(shape: shapely.Geometry, points: IntArray) -> shapely.Geometry:
    """What of the shape lies about the cells of points (k, 2)."""
    window = (*points.min(axis=0) - _BEYOND, *points.max(axis=0) + _BEYOND)
    quick = shapely.clip_by_rect(shape, *window)
    # The quick way knows no holes that touch: where it fails, the slow one is taken.
    return quick if quick.is_valid else shapely.intersection(shape, shapely.box(*window))

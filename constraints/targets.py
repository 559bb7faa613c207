"""The pinholes a placed stamp asks for."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import shapely
import shapely.affinity
from shapely.geometry import MultiPolygon

from constraints.lattice import BoolArray, IntArray
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

    reverse: the shape is to be left open instead of filled.
    """

    inside: IntArray
    near: IntArray
    reverse: bool = False

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
    one_each = cover(piece.pinholes[piece.representatives], union)
    covered, close = (each[piece.orbit] for each in one_each)
    return Target(np.flatnonzero(covered), np.flatnonzero(close & ~covered), reverse)


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


def cover(points: IntArray, shape: shapely.Geometry) -> tuple[BoolArray, BoolArray]:
    """For points (n, 2): whether the shape covers half their cell, and whether it lies within 2 units.

    Exact areas are worked out only for cells that the outline crosses.
    """
    left, top, right, bottom = shape.bounds
    x, y = points.T.astype(float)
    around = np.flatnonzero((x >= left - 3) & (x <= right + 3) & (y >= top - 3) & (y <= bottom + 3))
    spots = shapely.points(x[around], y[around])
    within = shapely.contains(shape, spots)
    to_outline = shapely.distance(spots, shapely.boundary(shape))
    covered, close = np.zeros(len(points), dtype=bool), np.zeros(len(points), dtype=bool)
    close[around] = within | (to_outline <= _NEAR)
    covered[around] = within & (to_outline >= 1)
    crossed = around[to_outline < 1]
    covered[crossed] = _half(points[crossed], within[to_outline < 1], shape)
    return covered, close


def _half(points: IntArray, within: BoolArray, shape: shapely.Geometry) -> BoolArray:
    """Whether the shape covers half the cell of each point (k, 2). within: whether it covers the point."""
    half: BoolArray = np.zeros(len(points), dtype=bool)
    if len(points) > _FEW and shapely.get_num_coordinates(shape) > _LONG:
        order = np.argsort(points[:, int(np.argmax(np.ptp(points, axis=0)))], kind="stable")
        for part in np.array_split(order, 2):
            half[part] = _half(points[part], within[part], _nearby(shape, points[part]))
        return half
    ring = np.array([(0, -1), (1, 0), (0, 1), (-1, 0), (0, -1)], dtype=float)
    cells = shapely.polygons(points[:, None, :] + ring[None])
    half = shapely.area(shapely.intersection(cells, shape)) >= _HALF_CELL
    # A cell that only touches the outline may come out as covered. Where its middle says otherwise the
    # fine grid decides.
    odd = half != within
    half[odd] = shapely.area(shapely.intersection(cells[odd], shape, grid_size=_GRID)) >= _HALF_CELL
    return half


def _nearby(shape: shapely.Geometry, points: IntArray) -> shapely.Geometry:
    """What of the shape lies about the cells of points (k, 2)."""
    window = (*points.min(axis=0) - _BEYOND, *points.max(axis=0) + _BEYOND)
    quick = shapely.clip_by_rect(shape, *window)
    # The quick way knows no holes that touch: where it fails, the slow one is taken.
    return quick if quick.is_valid else shapely.intersection(shape, shapely.box(*window))

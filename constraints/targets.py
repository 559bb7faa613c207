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


@dataclass(frozen=True, eq=False)
class Target:
    """inside: pinholes the shape covers; near: other pinholes within 2 units of it. Indices of a piece.

    reverse: the shape is to be left open instead of filled.
    """

    inside: IntArray
    near: IntArray
    reverse: bool = False

    def match(self, block: BoolArray) -> float:
        """The match of the block places, (n,) over all pinholes of the piece."""
        shown = ~block if self.reverse else block
        hit = int(shown[self.inside].sum())
        return hit / (len(self.inside) + int(shown[self.near].sum()))


def target(piece: Piece, shape: MultiPolygon, reverse: bool = False) -> Target:
    """The target of the shape together with all its images under the piece's symmetry.

    `shape` in lattice units, with the coordinates that will be saved.
    """
    union = shapely.union_all(images(shape, piece.symmetry, piece.setting), grid_size=_GRID)
    shapely.prepare(union)
    covered, close = cover(piece.pinholes, union)
    return Target(np.flatnonzero(covered), np.flatnonzero(close & ~covered), reverse)


def images(shape: MultiPolygon, symmetry: str, setting: Setting = CENTRED) -> list[MultiPolygon]:
    """The shape under every transformation of a symmetry, itself first; in a strip also in the repeats beside."""
    rows = setting.wrap.rows
    return [
        shapely.affinity.affine_transform(shape, [a, b, c, d, x, y + along])
        for along in ((0, -rows, rows) if rows else (0,))
        for ((a, b), (c, d)), (x, y) in zip(*(each.tolist() for each in setting.affine(symmetry)), strict=True)
    ]


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
    ring = np.array([(0, -1), (1, 0), (0, 1), (-1, 0), (0, -1)], dtype=float)
    cells = shapely.polygons(points[crossed][:, None, :] + ring[None])
    half = shapely.area(shapely.intersection(cells, shape)) >= _HALF_CELL
    # A cell that only touches the outline may come out as covered. Where its middle says otherwise the
    # fine grid decides.
    odd = half != within[to_outline < 1]
    half[odd] = shapely.area(shapely.intersection(cells[odd], shape, grid_size=_GRID)) >= _HALF_CELL
    covered[crossed] = half
    return covered, close

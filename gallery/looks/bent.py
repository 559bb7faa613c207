"""A pen for pieces that are not drawn as they lie on the grid: strips about their middle, headsides curved.

Looks draw in lattice units, as if every outer side were straight; this pen moves what they draw.
"""

from __future__ import annotations

from typing import Any

import numpy as np
from matplotlib.path import Path

from constraints.design import Design
from constraints.edgings.outer_side import curved
from constraints.lattice import FloatArray, places_in_groups
from constraints.piece import Piece
from gallery.paper.paths import Pen, empty

MARGIN = 1.4  # units of dark cloth beyond the outer pins

# Straight lines are bent in pieces of at most so many units.
_PIECE = 0.6


def middle(design: Design) -> FloatArray:
    """(2,) the middle of the picture of a piece, lattice units."""
    left, top, right, bottom = design.form.bounds
    return np.array([left + right, top + bottom]) / 2


def half_sides(design: Design) -> FloatArray:
    """(2,) half the width and half the height of the picture of a piece, lattice units."""
    left, top, right, bottom = design.form.bounds
    return np.array([right - left, bottom - top]) / 2 + MARGIN


def bent(pen: Pen, design: Design, piece: Piece) -> Pen:
    """The pen for a piece; the same one where nothing moves."""
    if piece.headside is None and not middle(design).any():
        return pen
    return BentPen(pen, piece, middle(design))


class BentPen:
    """Moves every path before another pen draws it."""

    def __init__(self, pen: Pen, piece: Piece, origin: FloatArray) -> None:
        self.points_per_unit = pen.points_per_unit
        self._pen, self._piece, self._origin = pen, piece, origin
        self._last: tuple[Path, Path] | None = None

    def stroke(self, path: Path, thickness: float, colour: str, **style: Any) -> None:
        self._pen.stroke(self._moved(path), thickness, colour, **style)

    def fill(self, path: Path, colour: str, **style: Any) -> None:
        self._pen.fill(self._moved(path), colour, **style)

    def _moved(self, path: Path) -> Path:
        # A cord is one path stroked twice, and pens know a path again.
        if self._last is None or self._last[0] is not path:
            self._last = path, self._bend(path)
        return self._last[1]

    def _bend(self, path: Path) -> Path:
        if empty(path):
            return path
        if self._piece.headside is not None:
            path = _in_pieces(path)
        points = np.asarray(path.vertices, dtype=np.float64)
        return Path(curved(self._piece, points) - self._origin, path.codes)


def _in_pieces(path: Path) -> Path:
    """The same path with its straight lines cut into short ones."""
    points, codes = np.asarray(path.vertices, dtype=np.float64), np.asarray(path.codes)
    before = np.concatenate([points[:1], points[:-1]])
    length = np.where(codes == Path.LINETO, np.hypot(*(points - before).T), 0.0)
    count = np.maximum(1, np.ceil(length / _PIECE)).astype(np.int64)
    which = np.repeat(np.arange(len(points)), count)
    step = places_in_groups(count) + 1
    share = (step / count[which])[:, None]
    made = np.where(share == 1, points[which], before[which] + share * (points - before)[which])
    return Path(made, codes[which])

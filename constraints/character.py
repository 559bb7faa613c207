"""What a stamp's shape is like: the mirror axes and turns under which it looks the same, and whether it has an up."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
import shapely

from constraints.lattice import BoolArray, FloatArray
from constraints.stamp import Stamp

# Two shapes with this share of their area in common look the same to the eye (judged on prints).
_ALIKE = 0.86
# But for a part that has no counterpart within such a share of the shape's reach: a stalk that leans is seen at once.
_OUTLYING = 0.18
_GRID = 72
# A print may look the same after such parts of a whole turn.
_FOLDS = (2, 3, 4, 5, 6, 8)
# An eye takes what leans by fewer degrees for upright.
_UPRIGHT = 5.1


@dataclass(frozen=True)
class Character:
    """axes: mirror axes in degrees from upright, clockwise on the page, 0 <= axis < 180. turns: degrees clockwise,
    0 < turn < 360, after which the shape looks the same."""

    axes: tuple[float, ...]
    turns: tuple[float, ...]

    @property
    def half_turn(self) -> bool:
        return 180.0 in self.turns

    @property
    def quarter_turn(self) -> bool:
        return 90.0 in self.turns

    @property
    def has_up(self) -> bool:
        """Whether an eye sees which way up it is: a star of three points or more, or a disc, has none."""
        return len(self.turns) < 2

    def stands(self, turn: float, mirrored: bool = False) -> bool:
        """Whether the shape, turned clockwise on the page by so many degrees, stands as she drew it.

        mirrored: it is its mirror image in the upright axis that is turned.
        """
        images = [2 * axis for axis in self.axes] if mirrored else [0.0, *self.turns]
        return any(abs((turn - image + 180) % 360 - 180) < _UPRIGHT for image in images)


@lru_cache(maxsize=32)
def character(stamp: Stamp) -> Character:
    """Found by overlap of the shape with its mirror images, axes to the nearest five degrees."""
    points, inside = _raster(stamp)
    scores = {axis: _overlap(stamp, points, inside, _mirror(np.radians(axis))) for axis in range(0, 180, 5)}
    axes = tuple(
        float(axis)
        for axis, score in scores.items()
        if score >= _ALIKE
        and score >= max(scores[(axis - 5) % 180], scores[(axis + 5) % 180])
        and _outlying(stamp, points[inside], _mirror(np.radians(axis))) <= _OUTLYING
    )
    turns: set[float] = set()
    for fold in _FOLDS:
        every = [360.0 * number / fold for number in range(1, fold)]
        if all(_overlap(stamp, points, inside, _turn(np.radians(turn))) >= _ALIKE for turn in every):
            turns.update(every)
    return Character(axes, tuple(sorted(turns)))


def _raster(stamp: Stamp) -> tuple[FloatArray, BoolArray]:
    """A grid of points round the centroid, through which every axis runs, and which of them are inked."""
    middle = _centroid(stamp)
    reach = np.hypot(*(shapely.get_coordinates(stamp.shape) - middle).T).max()
    line = (np.arange(_GRID) + 0.5) / _GRID * 2 * reach - reach
    gx, gy = np.meshgrid(line, line)
    points = np.stack([gx.ravel(), gy.ravel()], axis=1)
    shapely.prepare(stamp.shape)
    return points, shapely.contains_xy(stamp.shape, *(points + middle).T)


def _overlap(stamp: Stamp, points: FloatArray, inside: BoolArray, matrix: FloatArray) -> float:
    moved = points @ matrix.T + _centroid(stamp)
    other = shapely.contains_xy(stamp.shape, *moved.T)
    return float((inside & other).sum() / max(1, (inside | other).sum()))


def _outlying(stamp: Stamp, points: FloatArray, matrix: FloatArray) -> float:
    """How far the furthest of points of a shape, moved, comes to lie from it, as a share of how far they reach."""
    moved = shapely.points(points @ matrix.T + _centroid(stamp))
    return float(shapely.distance(stamp.shape, moved).max() / np.hypot(*points.T).max())


def _centroid(stamp: Stamp) -> FloatArray:
    return np.array([stamp.shape.centroid.x, stamp.shape.centroid.y])


def _turn(angle: float) -> FloatArray:
    return np.array([[np.cos(angle), -np.sin(angle)], [np.sin(angle), np.cos(angle)]])


def _mirror(axis: float) -> FloatArray:
    """Reflection in the line that stands `axis` clockwise from upright (y down)."""
    direction = np.array([np.sin(axis), -np.cos(axis)])
    return 2 * np.outer(direction, direction) - np.eye(2)

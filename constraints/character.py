"""What a stamp's shape is like: the mirror axes and turns under which it looks the same."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
import shapely

from constraints.lattice import BoolArray, FloatArray
from constraints.stamp import Stamp

# Two shapes with this share of their area in common look the same to the eye (judged on prints).
_ALIKE = 0.86
_GRID = 72


@dataclass(frozen=True)
class Character:
    """axes: mirror axes in degrees from upright, clockwise on the page, 0 <= axis < 180.

    half_turn, quarter_turn: whether the shape looks the same so turned.
    """

    axes: tuple[float, ...]
    half_turn: bool
    quarter_turn: bool


@lru_cache(maxsize=32)
def character(stamp: Stamp) -> Character:
    """Found by overlap of the shape with its mirror images, axes to the nearest five degrees."""
    points, inside = _raster(stamp)
    scores = {axis: _overlap(stamp, points, inside, _mirror(np.radians(axis))) for axis in range(0, 180, 5)}
    axes = tuple(
        float(axis)
        for axis, score in scores.items()
        if score >= _ALIKE and score >= max(scores[(axis - 5) % 180], scores[(axis + 5) % 180])
    )
    turns = [_overlap(stamp, points, inside, _turn(np.radians(a))) >= _ALIKE for a in (180, 90)]
    return Character(axes, turns[0], turns[0] and turns[1])


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


def _centroid(stamp: Stamp) -> FloatArray:
    return np.array([stamp.shape.centroid.x, stamp.shape.centroid.y])


def _turn(angle: float) -> FloatArray:
    return np.array([[np.cos(angle), -np.sin(angle)], [np.sin(angle), np.cos(angle)]])


def _mirror(axis: float) -> FloatArray:
    """Reflection in the line that stands `axis` clockwise from upright (y down)."""
    direction = np.array([np.sin(axis), -np.cos(axis)])
    return 2 * np.outer(direction, direction) - np.eye(2)

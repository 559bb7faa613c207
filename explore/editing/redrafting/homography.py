"""How a flat card is seen by a camera that is not held straight above it: a homography, the map that takes straight
lines to straight lines. Fitted by the direct linear transform on normalised points (Hartley and Zisserman 2004,
Multiple View Geometry in Computer Vision, 2nd edition, algorithm 4.2; number from memory)."""

from __future__ import annotations

import numpy as np

from constraints.lattice import FloatArray


def homography(points: FloatArray, places: FloatArray) -> FloatArray:
    """The homography, (3, 3), that takes points (n, 2) to places (n, 2) best; four of them at least, not on a line."""
    first, second = _normalising(points), _normalising(places)
    (x, y), (u, v) = applied(first, points).T, applied(second, places).T
    one, none = np.ones_like(x), np.zeros_like(x)
    lines = np.concatenate(
        [
            np.stack([x, y, one, none, none, none, -u * x, -u * y, -u], axis=1),
            np.stack([none, none, none, x, y, one, -v * x, -v * y, -v], axis=1),
        ]
    )
    # The vector that the normal equations shrink most; nine numbers, however many points there are.
    least = np.linalg.eigh(lines.T @ lines)[1][:, 0].reshape(3, 3)
    found = np.linalg.inv(second) @ least @ first
    return _scaled(found, points)


def affine(points: FloatArray, places: FloatArray) -> FloatArray:
    """The even map, as a homography (3, 3), that takes points (n, 2) to places (n, 2) best, by least squares."""
    factors = np.linalg.lstsq(np.column_stack([points, np.ones(len(points))]), places, rcond=None)[0]
    return np.vstack([factors.T, (0.0, 0.0, 1.0)])


def applied(map_: FloatArray, points: FloatArray) -> FloatArray:
    """Where points (n, 2) come to lie. What is behind the camera comes to lie far away."""
    moved = points @ map_[:2, :2].T + map_[:2, 2]
    found: FloatArray = moved / np.maximum(divisors(map_, points), 1e-3)[:, None]
    return found


def divisors(map_: FloatArray, points: FloatArray) -> FloatArray:
    """(n,) what the map divides by at points: 1 everywhere if it is even."""
    found: FloatArray = points @ map_[2, :2] + map_[2, 2]
    return found


def _scaled(map_: FloatArray, points: FloatArray) -> FloatArray:
    """The same map, dividing by 1 in the middle of the points."""
    found: FloatArray = map_ / divisors(map_, points.mean(axis=0)[None, :])[0]
    return found


def _normalising(points: FloatArray) -> FloatArray:
    """The map that brings the middle of points to (0, 0) and their mean distance from there to the root of 2."""
    middle = points.mean(axis=0)
    scale = np.sqrt(2) / max(float(np.linalg.norm(points - middle, axis=1).mean()), 1e-9)
    return np.array([(scale, 0.0, -scale * middle[0]), (0.0, scale, -scale * middle[1]), (0.0, 0.0, 1.0)])

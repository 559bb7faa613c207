"""The tilt of a print, from the shape itself: the axis in which it is most nearly its own mirror image."""

from __future__ import annotations

import math

import numpy as np
import shapely
import shapely.affinity
from shapely.geometry import MultiPolygon

# Prints lean by a few degrees; beyond this a lean is meant.
MOST_DEGREES = 12
# The print must be its own mirror image to this share (common area over joint area), ...
CONVINCING = 0.8
# ... gain at least this much by being set upright, and lose half of what it lacked.
GAIN = 0.02
LEAST_DEGREES = 0.5


def lean(shape: MultiPolygon) -> float:
    """Degrees clockwise on the page that the print leans, from an upright or a level mirror axis.

    0 if the shape has no convincing mirror axis within MOST_DEGREES.
    """
    best = max((_best_lean(shape, axis) for axis in (0.0, 90.0)), key=lambda found: found[1])
    return best[0]


def _best_lean(shape: MultiPolygon, axis: float) -> tuple[float, float]:
    """The lean from `axis` and how symmetric it makes the shape; (0, 0) if it does not convince."""
    whole = np.arange(-MOST_DEGREES, MOST_DEGREES + 1)
    scores = [mirror_match(shape, axis + degrees) for degrees in whole]
    top = int(np.argmax(scores))
    if top in (0, len(whole) - 1):
        return 0.0, 0.0
    fine = whole[top] + np.arange(-9, 10) / 10
    fine_scores = [mirror_match(shape, axis + degrees) for degrees in fine]
    best, match = float(fine[int(np.argmax(fine_scores))]), max(fine_scores)
    unturned = scores[MOST_DEGREES]
    convincing = match >= CONVINCING and match - unturned >= GAIN and 1 - match <= (1 - unturned) / 2
    return (round(best, 1), match) if convincing and abs(best) >= LEAST_DEGREES else (0.0, 0.0)


def mirror_match(shape: MultiPolygon, degrees: float) -> float:
    """Common area over joint area of the shape and its mirror image in an axis through its centroid.

    degrees: how far the axis leans clockwise on the page from upright.
    """
    cosine, sine = math.cos(2 * math.radians(degrees)), math.sin(2 * math.radians(degrees))
    x, y = shape.centroid.x, shape.centroid.y
    mirror = [-cosine, -sine, -sine, cosine, x + cosine * x + sine * y, y + sine * x - cosine * y]
    # Rings that touch may cross by a rounding error once mirrored.
    image = shapely.make_valid(shapely.affinity.affine_transform(shape, mirror))
    common = shape.intersection(image).area
    return float(common / (2 * shape.area - common))

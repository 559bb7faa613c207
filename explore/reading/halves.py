"""The two halves of a print: those that only the ink made differ are made alike, as with a mirror on the paper."""

from __future__ import annotations

import shapely
from shapely.geometry import MultiPolygon, box

from explore.reading.outline import longer_side, polygons

# Halves are alike if where they differ nothing is wider than this share of the print: the wobble of ink and carving.
_WOBBLE = 0.03
# The axis is sought within this share of the print beside its centroid, in so many steps to either side, then closer.
_ASIDE, _STEPS, _LOOKS = 0.02, 4, 3
_FAR = 10.0


def evened(shape: MultiPolygon) -> tuple[MultiPolygon, bool]:
    """The print made exactly its own mirror image, left to right or top to bottom, where it is so but for the wobble of
    its ink; and whether that changed it. The half with the shorter outline, which is the cleaner, is kept."""
    changed = False
    for level in (False, True):
        axis, other = _axis(shape, level)
        apart = shape.symmetric_difference(other)
        if apart.area > 0 and apart.buffer(-_WOBBLE / 2 * longer_side(shape)).is_empty:
            shape, changed = _folded(shape, axis, level), True
    return shape, changed


def _axis(shape: MultiPolygon, level: bool) -> tuple[float, MultiPolygon]:
    """Where the axis lies in which the print is most like its mirror image, and that image."""
    middle = shape.centroid.y if level else shape.centroid.x
    step = _ASIDE * longer_side(shape) / _STEPS
    best = middle
    for _ in range(_LOOKS):
        tried = [best + number * step for number in range(-_STEPS, _STEPS + 1)]
        best = min(tried, key=lambda axis: float(shape.symmetric_difference(_mirrored(shape, axis, level)).area))
        step /= _STEPS
    return best, _mirrored(shape, best, level)


def _mirrored(shape: shapely.Geometry, axis: float, level: bool) -> shapely.Geometry:
    matrix = [1, 0, 0, -1, 0, 2 * axis] if level else [-1, 0, 0, 1, 2 * axis, 0]
    return shapely.make_valid(shapely.affinity.affine_transform(shape, matrix))


def _folded(shape: MultiPolygon, axis: float, level: bool) -> MultiPolygon:
    """One half and its mirror image."""
    far = _FAR * longer_side(shape)
    left, top, right, bottom = (edge + away for edge, away in zip(shape.bounds, (-far, -far, far, far), strict=True))
    halves = (box(left, top, right, axis), box(left, axis, right, bottom)) if level else (
        box(left, top, axis, bottom), box(axis, top, right, bottom)
    )  # fmt: skip
    kept = [shape.intersection(half) for half in halves]
    wholes = [shapely.union_all([half, _mirrored(half, axis, level)]) for half in kept]
    return MultiPolygon(polygons(min(wholes, key=lambda whole: float(whole.length))))

"""What scans and drawings share once they are outlines: valid polygons, few vertices, clear refusals."""

from __future__ import annotations

import math
from collections.abc import Iterable

import numpy as np
import shapely
from shapely.geometry import MultiPolygon, Polygon

# Placing a stamp costs time for every vertex, and lace shows nothing finer than a pinhole.
MOST_VERTICES = 400
# The tolerance is the longer side over one of these: the first that keeps the vertices few enough.
FINENESS = (400, 280, 200, 140, 100, 70, 50)


class StampError(ValueError):
    """A file that cannot be read as a stamp. The message is one clear line."""


def polygons(geometry: shapely.Geometry) -> list[Polygon]:
    """The polygons with an area in any geometry, one level deep in collections."""
    parts = shapely.get_parts(shapely.get_parts(shapely.make_valid(geometry)))
    return [part for part in parts if part.geom_type == "Polygon" and part.area > 0]


def longer_side(shape: shapely.Geometry) -> float:
    """The longer side of the bounding box, 0 for an empty shape."""
    if shape.is_empty:
        return 0.0
    left, top, right, bottom = shape.bounds
    return float(max(right - left, bottom - top))


def large_parts(parts: Iterable[Polygon]) -> list[Polygon]:
    """The largest parts, those that hold 95 % of the area: the print, without specks far from it."""
    ordered = sorted(parts, key=lambda part: -part.area)
    covered = np.cumsum([part.area for part in ordered])
    return ordered[: int(np.searchsorted(covered, 0.95 * covered[-1])) + 1] if ordered else []


def without_small_holes(part: Polygon, least_area: float) -> tuple[Polygon, int]:
    """The polygon with holes under `least_area` filled, and how many those were."""
    large = [ring for ring in part.interiors if Polygon(ring).area >= least_area]
    return Polygon(part.exterior, large), len(part.interiors) - len(large)


def simplified(shape: shapely.Geometry) -> tuple[MultiPolygon, list[str]]:
    """The shape with at most about MOST_VERTICES vertices, valid, and a note if details were left out.

    The tolerance is 1/400 of the longer side unless that leaves too many vertices.
    """
    size = longer_side(shape)
    plain = MultiPolygon(polygons(shape))
    for fineness in FINENESS:
        plain = MultiPolygon(polygons(shapely.simplify(shape, size / fineness)))
        if shapely.get_num_coordinates(plain) <= MOST_VERTICES:
            return plain, []
    kept = _largest_details(plain)
    left_out = _count_rings(plain) - _count_rings(kept)
    return kept, [f"the {left_out} smallest details were left out"] if left_out else []


def rounded(shape: MultiPolygon) -> MultiPolygon:
    """The shape with coordinates to about a ten-thousandth of its size, and no ring touching another.

    Finer digits could differ between machines, and with them the lace; rings that touch may cross once the
    shape is turned.
    """
    grid = 10.0 ** (math.floor(math.log10(longer_side(shape))) - 4)
    for _ in range(5):
        shape = MultiPolygon(polygons(shapely.set_precision(shape, grid)))
        corners = np.concatenate([ring.coords[:-1] for part in shape.geoms for ring in _rings(part)])
        if len(np.unique(corners, axis=0)) == len(corners):
            break
        shape = shapely.buffer(shape, -3 * grid, join_style="mitre")
    return shape


def _count_rings(shape: MultiPolygon) -> int:
    return sum(1 + len(part.interiors) for part in shape.geoms)


def _largest_details(shape: MultiPolygon) -> MultiPolygon:
    """The shape without its smallest parts and holes, down to MOST_VERTICES or to one outline."""
    rings = [(Polygon(ring).area, len(ring.coords)) for part in shape.geoms for ring in _rings(part)]
    rings.sort(reverse=True)
    total = np.cumsum([count for _, count in rings])
    last = max(0, int(np.searchsorted(total, MOST_VERTICES, side="right")) - 1)
    least = rings[last][0]
    parts = [part for part in shape.geoms if Polygon(part.exterior).area >= least]
    return MultiPolygon([without_small_holes(part, least)[0] for part in parts])


def _rings(part: Polygon) -> list[shapely.LinearRing]:
    return [part.exterior, *part.interiors]

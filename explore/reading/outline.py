"""What scans and drawings share once they are outlines: valid polygons, few vertices, clear refusals."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
import shapely
from shapely.geometry import MultiPolygon, Polygon

# Placing a stamp costs time for every vertex, and lace shows nothing finer than a pinhole.
MOST_VERTICES = 400
# The tolerance is the longer side over one of these: the first that keeps the vertices few enough.
FINENESS = (400, 280, 200, 140, 100, 70, 50)
# One long ring, such as a spiral, keeps more; beyond this its windings are closer than any lace could show.
LONGEST_OUTLINE = 4 * MOST_VERTICES


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

    The tolerance is 1/400 of the longer side unless that leaves too many vertices. StampError if its largest ring alone
    keeps more than LONGEST_OUTLINE at any.
    """
    size = longer_side(shape)
    whole = MultiPolygon(polygons(shape))
    # What is smaller than the tolerance both ways is no detail but dust. No ring has fewer than four vertices.
    details = [ring for ring in _ring_list(whole) if ring.area > (size / FINENESS[0]) ** 2]
    seen = _with_largest(whole, details, MOST_VERTICES // 4)
    plain = seen
    for fineness in FINENESS:
        plain = MultiPolygon(polygons(shapely.simplify(seen, size / fineness)))
        if shapely.get_num_coordinates(plain) <= MOST_VERTICES:
            break
    else:
        plain = _fewer(plain)
        kept = int(shapely.get_num_coordinates(plain))
        if kept > LONGEST_OUTLINE:
            raise StampError(
                f"has one outline of {kept} corners even without its small bends, at most {LONGEST_OUTLINE} are read; "
                "lace shows nothing so fine: draw it with fewer windings"
            )
    left_out = len(details) - len(_ring_list(plain))
    return plain, [f"the {left_out} smallest details were left out"] if left_out > 0 else []


def _fewer(shape: MultiPolygon) -> MultiPolygon:
    """The shape with as many of its largest rings as MOST_VERTICES allow."""
    rings = _ring_list(shape)
    total = np.cumsum([ring.vertices for ring in sorted(rings, key=lambda ring: -ring.area)])
    return _with_largest(shape, rings, int(np.searchsorted(total, MOST_VERTICES, side="right")))


@dataclass(frozen=True)
class _Ring:
    """One ring of a MultiPolygon: its part, its place there (0 is the outside), its area and vertices."""

    part: int
    place: int
    area: float
    vertices: int


def _ring_list(shape: MultiPolygon) -> list[_Ring]:
    return [
        _Ring(i, j, Polygon(ring).area, len(ring.coords))
        for i, part in enumerate(shape.geoms)
        for j, ring in enumerate(_rings(part))
    ]


def _with_largest(shape: MultiPolygon, rings: list[_Ring], most: int) -> MultiPolygon:
    """The shape with only the largest of these of its rings, one at least; a hole goes with its part."""
    largest = sorted(rings, key=lambda ring: -ring.area)[: max(1, most)]
    kept = {(ring.part, ring.place) for ring in largest}
    parts = [
        Polygon(part.exterior, [ring for j, ring in enumerate(part.interiors, 1) if (i, j) in kept])
        for i, part in enumerate(shape.geoms)
        if (i, 0) in kept
    ]
    return MultiPolygon(parts or [max(shape.geoms, key=lambda part: part.area)])


def rounded(shape: MultiPolygon) -> MultiPolygon:
    """The shape with coordinates to about a ten-thousandth of its size, and no ring touching another.

    Finer digits could differ between machines, and with them the lace; rings that touch may cross once the
    shape is turned. StampError if nothing of the shape is that wide.
    """
    grid = 10.0 ** (math.floor(math.log10(longer_side(shape))) - 4)
    for _ in range(5):
        shape = MultiPolygon(polygons(shapely.set_precision(shape, grid)))
        if shape.is_empty:
            raise StampError("shows only lines too thin to have an area")
        corners = np.concatenate([ring.coords[:-1] for part in shape.geoms for ring in _rings(part)])
        if len(np.unique(corners, axis=0)) == len(corners):
            break
        shape = shapely.buffer(shape, -3 * grid, join_style="mitre")
    return shape


def _rings(part: Polygon) -> list[shapely.LinearRing]:
    return [part.exterior, *part.interiors]

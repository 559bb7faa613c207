"""A stamp: the shape she carved, and how a copy of it lies on the grid."""

from __future__ import annotations

from dataclasses import dataclass

import shapely
import shapely.affinity
from shapely.geometry import MultiLineString, MultiPolygon, Polygon

from constraints.design import Ring


@dataclass(frozen=True)
class Stamp:
    """The outline of a stamp's print.

    shape: MultiPolygon in any unit, y down, as read (already turned upright). notes: what reading found and
    cleaned away, in plain words, one line each. tilt_degrees: the turn already taken out, clockwise on
    the page.
    """

    name: str
    shape: MultiPolygon
    notes: tuple[str, ...] = ()
    tilt_degrees: float = 0.0

    def placed(self, size: float, turn_degrees: float, centre: tuple[float, float]) -> MultiPolygon:
        """The shape turned clockwise on the page, its bounding box centred at `centre`.

        size: longer side of the turned bounding box, in pitches (2 units each). Coordinates in lattice units.
        """
        # With y down, a positive angle in shapely's y-up convention turns clockwise on the page.
        turned = shapely.affinity.rotate(self.shape, turn_degrees, origin=(0, 0))
        left, top, right, bottom = turned.bounds
        scale = 2 * size / max(right - left, bottom - top)
        middle = ((left + right) / 2, (top + bottom) / 2)
        return shapely.affinity.affine_transform(
            turned, [scale, 0, 0, scale, centre[0] - scale * middle[0], centre[1] - scale * middle[1]]
        )


def outlines(shape: MultiPolygon, digits: int = 3) -> tuple[Ring, ...]:
    """The rings of a shape, to be combined even-odd, without the repeated last point."""
    rings = []
    for polygon in shape.geoms:
        for ring in (polygon.exterior, *polygon.interiors):
            rings.append(tuple((round(x, digits), round(y, digits)) for x, y in ring.coords[:-1]))
    return tuple(rings)


def shape_of(rings: tuple[Ring, ...]) -> MultiPolygon:
    """The area of rings combined even-odd."""
    lines = MultiLineString([(*ring, ring[0]) for ring in rings])
    if lines.is_simple:
        # No ring meets itself or another one.
        area: shapely.Geometry = shapely.build_area(lines)
    else:
        area = Polygon()
        for ring in rings:
            area = area.symmetric_difference(shapely.make_valid(Polygon(ring)))
    polygons = [part for part in shapely.get_parts(area) if part.geom_type == "Polygon" and part.area > 0]
    return MultiPolygon(polygons)

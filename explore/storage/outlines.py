"""A traced stamp as text, so that a study needs the picture no more.

The outline is kept to the last digit: what is found tomorrow must not depend on whether the stamp came
from the picture or from the study.
"""

from __future__ import annotations

import json
import math
from typing import Any

from shapely.geometry import MultiPolygon, Polygon

from constraints.stamp import Stamp

FORMAT, VERSION = "stampwork stamp", 1


class OutlineError(ValueError):
    """A text that holds no traced stamp. The message is one line."""


def stamp_text(stamp: Stamp) -> str:
    """The stamp as JSON text, one polygon a line: its outer ring, then its holes."""
    polygons = [
        [[list(point) for point in ring.coords[:-1]] for ring in (polygon.exterior, *polygon.interiors)]
        for polygon in stamp.shape.geoms
    ]
    head = {
        "format": FORMAT,
        "version": VERSION,
        "name": stamp.name,
        "tilt_degrees": stamp.tilt_degrees,
        "notes": list(stamp.notes),
    }
    lines = [f"{json.dumps(key)}: {json.dumps(value, ensure_ascii=False)}" for key, value in head.items()]
    shape = ",\n  ".join(json.dumps(polygon, allow_nan=False) for polygon in polygons)
    return "{" + ",\n ".join([*lines, f'"polygons": [\n  {shape}\n ]']) + "}\n"


def stamp_of(text: str) -> Stamp:
    """The stamp that `stamp_text` wrote, equal to it point for point. Raises OutlineError."""
    try:
        data = json.loads(text)
    except (ValueError, RecursionError):
        raise OutlineError("not a JSON text") from None
    if not isinstance(data, dict) or data.get("format") != FORMAT or data.get("version") != VERSION:
        raise OutlineError(f'not a "{FORMAT}" of version {VERSION}')
    name, notes, tilt = data.get("name"), data.get("notes"), data.get("tilt_degrees", math.nan)
    if not isinstance(name, str) or not isinstance(notes, list) or not _is_number(tilt):
        raise OutlineError('"name", "notes" or "tilt_degrees" is missing or of the wrong kind')
    polygons = [_polygon(rings) for rings in _list(data.get("polygons"))]
    return Stamp(name, MultiPolygon(polygons), tuple(str(note) for note in notes), float(tilt))


def _polygon(rings: Any) -> Polygon:
    outer, *holes = [[_point(point) for point in _list(ring, 3)] for ring in _list(rings)]
    polygon = Polygon(outer, holes)
    if not polygon.is_valid or polygon.area <= 0:
        raise OutlineError('"polygons" holds a shape that crosses itself or has no area')
    return polygon


def _list(value: Any, least: int = 1) -> list[Any]:
    if not isinstance(value, list) or len(value) < least:
        raise OutlineError('"polygons" must list polygons of rings of at least three [x, y]')
    return value


def _point(value: Any) -> tuple[float, float]:
    if not isinstance(value, list) or len(value) != 2 or not all(_is_number(number) for number in value):
        raise OutlineError('"polygons" must list polygons of rings of at least three [x, y]')
    return float(value[0]), float(value[1])


def _is_number(value: Any) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool) and math.isfinite(value)

"""The areas that one SVG shape paints, its fill and its stroke, and the print that all of them leave."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

import numpy as np
import shapely
from shapely.geometry import LinearRing, LineString, MultiPolygon, Point, Polygon
from svgelements import Arc, Close, CubicBezier, Move, Path, QuadraticBezier

from constraints.lattice import FloatArray
from explore.reading.outline import polygons

# Straight pieces for one curve, and for a whole turn of an arc.
CURVE_PIECES, TURN_PIECES = 32, 96
# A colour this much darker than the paper, of 255 in its most different channel, is ink.
INK_DROP = 50.0

Colour = tuple[float, float, float]
WHITE: Colour = (255.0, 255.0, 255.0)


@dataclass(frozen=True)
class Subpath:
    """One subpath as straight pieces: points (n, 2), and whether it was closed."""

    points: FloatArray
    closed: bool


@dataclass(frozen=True)
class StrokeStyle:
    """How a stroke is drawn; words as in SVG."""

    width: float
    cap: str = "butt"
    join: str = "miter"
    miter_limit: float = 4.0


@dataclass(frozen=True)
class Paint:
    """An area painted in one colour, channels 0 to 255."""

    area: shapely.Geometry
    colour: Colour


def flattened(path: Path) -> list[Subpath]:
    """The subpaths of an SVG path, curves and arcs cut into straight pieces."""
    lines: list[Subpath] = []
    points: list[FloatArray] = []

    def finish(closed: bool) -> None:
        # A move alone draws nothing.
        if len(points) > 1 or closed:
            lines.append(Subpath(np.concatenate(points), closed))
        points.clear()

    for segment in path:
        if isinstance(segment, Move):
            finish(False)
            points.append(_corner(segment.end))
            continue
        if not points:
            # After a closed subpath the next one starts where that began.
            points.append(_corner(segment.start if segment.start is not None else segment.end))
        if isinstance(segment, Close):
            finish(True)
        else:
            points.append(_pieces(segment))
    finish(False)
    return lines


def _corner(point: Sequence[float]) -> FloatArray:
    return np.array([[point[0], point[1]]], dtype=np.float64)


def _pieces(segment: Any) -> FloatArray:
    """The points of one segment of a path (svgelements has no types) after its start."""
    if isinstance(segment, (QuadraticBezier, CubicBezier)):
        count = CURVE_PIECES
    elif isinstance(segment, Arc):
        count = 2 + int(np.nan_to_num(abs(segment.sweep) / (2 * np.pi)) * TURN_PIECES)
    else:
        return _corner(segment.end)  # a straight line
    along = np.linspace(0, 1, count + 1)[1:]
    points = np.array(segment.npoint(along), dtype=np.float64)
    points[-1] = segment.end[0], segment.end[1]
    return points


def crossings(lines: list[Subpath]) -> float:
    """About how often the subpaths cross themselves and each other, from a sample of their pieces."""
    edges = [_edges(line.points) for line in lines if len(line.points) > 1]
    if not edges:
        return 0.0
    pieces = shapely.linestrings(np.concatenate(edges))
    # Fewer pieces of a long scribble, each of which meets more of the others.
    count = min(500, max(20, 200_000 // len(pieces)))
    sample = pieces[:: len(pieces) // count + 1]
    met = shapely.STRtree(pieces).query(sample, predicate="crosses")
    return float(met.shape[1] * len(pieces) / len(sample) / 2)


def filled(lines: list[Subpath], rule: str) -> shapely.Geometry:
    """The area inside the subpaths, each closed, by the fill rule "nonzero" or "evenodd" of SVG."""
    rings = [np.vstack([line.points, line.points[:1]]) for line in lines if len(line.points) > 2]
    if len(rings) == 1 and (simple := Polygon(rings[0])).is_valid:
        return simple
    if not rings:
        return Polygon()
    edges = shapely.union_all(shapely.linestrings(np.concatenate([_edges(ring) for ring in rings])))
    faces = shapely.get_parts(shapely.polygonize(shapely.get_parts(edges)))
    starts, ends = (np.concatenate(side) for side in zip(*[(r[:-1], r[1:]) for r in rings], strict=True))
    within = [face for face in faces if _inside(face, starts, ends, rule)]
    return shapely.union_all(within)


def _edges(ring: FloatArray) -> FloatArray:
    return np.stack([ring[:-1], ring[1:]], axis=1)


def _inside(face: Polygon, starts: FloatArray, ends: FloatArray, rule: str) -> bool:
    """Whether a ray from within the face crosses the edges so that it counts as inside (SVG 1.1, 11.3)."""
    x, y = face.representative_point().coords[0]
    down = (starts[:, 1] <= y) & (ends[:, 1] > y)
    up = (ends[:, 1] <= y) & (starts[:, 1] > y)
    span = np.where(down | up, ends[:, 1] - starts[:, 1], 1.0)
    right = starts[:, 0] + (y - starts[:, 1]) / span * (ends[:, 0] - starts[:, 0]) > x
    downs, ups = int(np.sum(down & right)), int(np.sum(up & right))
    return (downs + ups) % 2 == 1 if rule == "evenodd" else downs != ups


def stroked(lines: list[Subpath], pen: StrokeStyle) -> shapely.Geometry:
    """The area a pen covers along the subpaths."""
    areas = []
    for line in lines:
        points = line.points[np.append(True, np.any(np.diff(line.points, axis=0) != 0, axis=1))]
        if line.closed and len(points) > 2 and (points[0] == points[-1]).all():
            points = points[:-1]
        if len(points) > 1:
            areas.append(_along(points, line.closed and len(points) > 2, pen))
        elif pen.cap in ("round", "square"):
            areas.append(_buffered(Point(points[0]), pen, "round"))
    return shapely.union_all(areas)


def _along(points: FloatArray, closed: bool, pen: StrokeStyle) -> shapely.Geometry:
    line = LinearRing(points) if closed else LineString(points)
    if pen.join in ("round", "bevel"):
        return _buffered(line, pen, pen.join)
    round_about = np.vstack([points[-1:], points, points[:1]]) if closed else points
    before, here, after = round_about[:-2], round_about[1:-1], round_about[2:]
    back, on = before - here, after - here
    cosine = (back * on).sum(axis=1) / np.linalg.norm(back, axis=1) / np.linalg.norm(on, axis=1)
    # The mitre is 1 / sin(angle / 2) pens long; beyond the limit the corner is bevelled (SVG 1.1, 11.4).
    sharp = np.sqrt(np.maximum(0.0, 1 - cosine) / 2) * pen.miter_limit < 1
    if not sharp.any():
        return _buffered(line, pen, "mitre")
    corners = np.stack([here + back / 2, here, here + on / 2], axis=1)[~sharp & (cosine > -0.98)]
    mitred = [_buffered(LineString(corner), replace(pen, cap="butt"), "mitre") for corner in corners]
    return shapely.union_all([_buffered(line, pen, "bevel"), *mitred])


def _buffered(line: shapely.Geometry, pen: StrokeStyle, join: str) -> shapely.Geometry:
    cap = pen.cap if pen.cap in ("round", "square") else "flat"
    limit = pen.miter_limit
    return line.buffer(pen.width / 2, quad_segs=16, cap_style=cap, join_style=join, mitre_limit=limit)


def pressed(paints: list[Paint], sheet: shapely.Geometry | None) -> shapely.Geometry:
    """The print that the paints leave, laid on in order: ink adds, the colour of the paper takes away.

    sheet: the page, if the drawing states one. Paper is white; or the colour of a first shape that covers
    the page, if something darker lies on it; or black, if all is nearly white.
    """
    paper = WHITE
    if paints and sheet is not None and _covers(paints[0].area, sheet):
        page, *rest = paints
        if any(_is_ink(paint.colour, page.colour) for paint in rest):
            paper, paints = page.colour, rest
    inked = [_is_ink(paint.colour, paper) for paint in paints]
    if paints and not any(inked):
        inked = [True] * len(paints)
    left: shapely.Geometry = MultiPolygon()
    for is_ink, group in itertools.groupby(zip(inked, paints, strict=True), key=lambda pair: pair[0]):
        area = shapely.union_all([paint.area for _, paint in group])
        left = left.union(area) if is_ink else left.difference(area)
    return MultiPolygon(polygons(left))


def _covers(area: shapely.Geometry, sheet: shapely.Geometry) -> bool:
    return bool(area.intersection(sheet).area >= 0.99 * sheet.area)


def _is_ink(colour: Colour, paper: Colour) -> bool:
    return max(below - above for below, above in zip(paper, colour, strict=True)) > INK_DROP

"""Joining broken ink without closing what was carved.

Where ink fails it leaves ragged patches; a knife leaves cuts that are even and smooth. That, and not only
the width, tells a worn patch from the line between a beetle's wings.
"""

from __future__ import annotations

import numpy as np
import shapely
from shapely.geometry import MultiPolygon, Polygon

from explore.reading.outline import polygons

# Lengths are the size of the print over these.
GAP = 80  # ink that broke is joined across twice this
PATCH = 40  # gaps up to twice this wide are looked at: carved ones stay open, ragged ones are joined too
CUT_LENGTH = 7  # a carved cut is at least this long
CUT_SLENDER = 5  # and this many times as long as wide
RAGGED = 0.3  # the outline of a worn patch bends more than this, in radians for each width along it
BUMP = 140  # specks that touch the print stand out this far


def mended(shape: MultiPolygon, size: float) -> MultiPolygon:
    """The print with broken ink joined, carved cuts left open and small bumps taken off."""
    gaps = polygons(closed(shape, size / PATCH).difference(shape))
    patches = [gap for gap in gaps if _raggedness(gap) > RAGGED]
    cuts = [cut for gap in gaps for cut in _cuts(gap, size / CUT_LENGTH)]
    joined = shapely.union_all([closed(shape, size / GAP), *patches]).difference(shapely.union_all(cuts))
    return MultiPolygon(polygons(_opened(joined, size / BUMP)))


def closed(shape: shapely.Geometry, distance: float) -> shapely.Geometry:
    """The shape with all gaps narrower than twice the distance filled."""
    return shapely.buffer(shapely.buffer(shape, distance, quad_segs=3), -distance, quad_segs=3)


def _opened(shape: shapely.Geometry, distance: float) -> shapely.Geometry:
    """The shape without what is narrower than twice the distance; mitred, so that points stay pointed."""
    core = shapely.buffer(shape, -distance, join_style="mitre", mitre_limit=3)
    return shapely.buffer(core, distance, join_style="mitre", mitre_limit=3)


def _cuts(gap: Polygon, least_length: float) -> list[Polygon]:
    """The parts of a narrow gap that look carved: even in width, long, slender and smooth."""
    if gap.length / 2 < least_length:
        return []
    even = polygons(_opened(gap, 0.35 * _across(gap)))
    long = [part for part in even if part.length / 2 > max(least_length, CUT_SLENDER * _across(part))]
    return [part for part in long if _raggedness(part) < RAGGED]


def _across(gap: Polygon) -> float:
    """The mean width of something slender."""
    return float(2 * gap.area / gap.length)


def _raggedness(gap: Polygon) -> float:
    """How sharply the outline bends beyond one full turn for each ring, in radians for each width along it."""
    across = _across(gap)
    plain = shapely.simplify(gap, across / 2)
    excess = sum(_bends(ring) - 2 * np.pi for ring in (plain.exterior, *plain.interiors))
    return float(excess * across / gap.length)


def _bends(ring: shapely.LinearRing) -> float:
    """All bends of a ring added up, left and right alike, in radians; one full turn at least."""
    steps = np.diff(shapely.get_coordinates(ring), axis=0)
    headings = np.arctan2(steps[:, 1], steps[:, 0])
    return float(np.abs(np.angle(np.exp(1j * np.diff(headings, append=headings[0])))).sum())

"""What of a print can be shown at its size: inner lines that are too thin are closed, and what no block shows is lost.

A line of ground must be as wide as the narrowest ground that the rules allow. A thinner one inside a print would crack
the block that it runs through; left out, it leaves the outline whole. A gap from the outside inwards belongs to the
outline: it is closed only where it is so thin that widening it would take more of the print than it shows.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import sqrt

import numpy as np
import shapely
from shapely.geometry import MultiPolygon, Polygon

from constraints.lattice import IntArray
from constraints.ruleset import Rules

# Neighbouring lines of pinholes along a diagonal are so many units apart.
_LINE = sqrt(2)
# An inner line that takes more of the print than this is its pattern, and stays (judged on a snail's shell).
_PATTERN = 0.08
# Slivers along an outline, units: thinner ones are no part of anything.
_SLIVER = 0.35
# A part is lost where the print goes on so far beyond all blocks: units, and share of its longer side.
_BEYOND, _SHARE = 2.0, 0.06


@dataclass(frozen=True)
class Simplified:
    """What is asked of the blocks at a size. kept: the print without closed: its lines and gaps that are too thin."""

    kept: MultiPolygon
    closed: tuple[Polygon, ...]


def simplified(shape: MultiPolygon, rules: Rules) -> Simplified:
    """A placed print, lattice units, without inner lines and gaps too thin for the rules at this size."""
    narrowest = rules.narrowest_ground * _LINE
    lines = [hole for part in shape.geoms for hole in _thin_holes(part, shape, narrowest)]
    whole = shapely.union_all([shape, *lines]) if lines else shape
    reach = narrowest / 4
    gaps = _parts(whole.buffer(reach).buffer(-reach).difference(whole))
    gaps = [gap for gap in gaps if not gap.buffer(-_SLIVER).is_empty]
    if not lines and not gaps:
        return Simplified(shape, ())
    kept = MultiPolygon(_parts(shapely.union_all([whole, *(gap.buffer(_SLIVER / 10) for gap in gaps)])))
    return Simplified(kept, (*lines, *gaps))


def _thin_holes(part: Polygon, shape: MultiPolygon, narrowest: float) -> list[Polygon]:
    """The holes of a part in which the narrowest ground has no room, less those that are the print's pattern."""
    holes = [Polygon(ring) for ring in part.interiors]
    open_holes = [(hole, hole.difference(shape)) for hole in holes]
    return [
        hole
        for hole, free in open_holes
        if free.area < _PATTERN * Polygon(part.exterior).area and free.buffer(-narrowest / 2).is_empty
    ]


def lost(shape: MultiPolygon, blocks: IntArray) -> tuple[Polygon, ...]:
    """The parts of a placed print that its blocks do not show, largest first. blocks: (k, 2) pinholes."""
    ring = np.array([(0, -1), (1, 0), (0, 1), (-1, 0), (0, -1)], dtype=float)
    cloth = shapely.union_all(shapely.polygons(blocks[:, None, :] + ring[None]))
    left, top, right, bottom = shape.bounds
    beyond = max(_BEYOND, _SHARE * max(right - left, bottom - top))
    rest = shape.difference(cloth.buffer(_SLIVER)).buffer(-_SLIVER / 2).buffer(_SLIVER / 2)
    far = cloth.buffer(beyond)
    parts = [part for part in _parts(rest) if not part.within(far)]
    return tuple(sorted(parts, key=lambda part: -part.area))


def whereabouts(part: Polygon, shape: MultiPolygon) -> str:
    """Where in a placed print a part of it lies: "at the top left", "in the middle"."""
    left, top, right, bottom = shape.bounds
    spot = part.representative_point()
    across = _third(spot.x, left, right, ("left", "", "right"))
    down = _third(spot.y, top, bottom, ("top", "", "bottom"))
    words = " ".join(word for word in (down, across) if word)
    return f"at the {words}" if words else "in the middle"


def _third(value: float, least: float, most: float, words: tuple[str, str, str]) -> str:
    return words[min(2, int(3 * (value - least) / max(most - least, 1e-9)))]


def _parts(area: shapely.Geometry) -> list[Polygon]:
    return [part for part in shapely.get_parts(area) if part.geom_type == "Polygon" and part.area > 0]

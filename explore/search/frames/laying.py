"""Where a stamp lies in a frame or rectangle: upright along every side, alone or in rows, and in the corners."""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np
import shapely
from shapely.geometry import MultiPolygon

from constraints.brief import Brief
from constraints.design import Ring
from constraints.piece import Piece
from constraints.stamp import Stamp, outlines, shape_of
from constraints.targets import images
from explore.search.frames.sides import Sides
from explore.search.laying.placement import AIR, Placement, extent, named_sizes, sizes_beside

_TURNS = (0.0, 180.0, 90.0, 270.0)
# So much of a print may differ from its image before the two are told apart.
_ALIKE = 0.02

# A print: its turn in degrees, and its middle.
_Spot = tuple[float, tuple[float, float]]


def placements(brief: Brief, stamp: Stamp, piece: Piece, sides: Sides) -> list[Placement]:
    """Every way to lay the stamp within the span, all prints of one size."""
    spots = _frame_spots if sides.form.has_opening else _rectangle_spots
    found = []
    for turn in brief.stamp.turns or _TURNS:
        for size in _sizes(brief, sides, extent(stamp, turn)):
            for each in spots(sides, turn, 2 * size):
                rings = _laid(stamp, size, each, piece, sides)
                if rings:
                    found.append(Placement(stamp.name, size, turn, rings))
    return found


def _sizes(brief: Brief, sides: Sides, one: tuple[float, float]) -> list[float]:
    """Longer sides to try, pitches. one: how wide and how high a print of one pitch is, units."""
    if brief.stamp.size is not None:
        return named_sizes(brief.stamp.size)
    form, across = sides.form, sides.width + 2
    if form.has_opening:
        return sizes_beside(across / one[1], across / 2, (0.75, 0.85, 0.95, 1.1))
    wide, high = 2 * (form.half_width - sides.span[0] + 1), 2 * (form.half_height - sides.end + 1)
    return sizes_beside(min(wide / one[0], high / one[1]), across / 2, (0.5, 0.65, 0.8, 1.0, 1.2))


def _frame_spots(sides: Sides, turn: float, long: float) -> Iterator[list[_Spot]]:
    """Prints on all four sides with their feet towards the opening, with or without one in each corner."""
    form = sides.form
    wide, high = form.half_width - sides.middle, form.half_height - sides.middle
    corners: list[_Spot] = []
    for number, (x, y) in enumerate(((1, -1), (1, 1), (-1, 1), (-1, -1))):
        corners.append((turn + 45 + 90 * number, (x * wide, y * high)))
    for apart in (long + 4, long + 8):
        along: list[_Spot] = []
        for number, (out, length) in enumerate(((high, wide), (wide, high), (high, wide), (wide, high))):
            angle = math.radians(90 * number)
            across, up = round(math.sin(angle)), -round(math.cos(angle))
            # The end of a row keeps off the corner.
            for place in _row(length - (max(sides.width, long) + long) / 2 - 2, apart):
                along.append((turn + 90 * number, (across * out - up * place, up * out + across * place)))
        if along:
            yield along + corners
            yield along
    yield corners


def _row(reach: float, apart: float) -> list[int]:
    """Places along a side from its middle, evenly, as many as lie within reach."""
    count = int(reach // apart)
    step = reach / count if count else 0.0
    # Whole pitches apart, every print lies on the grid alike.
    return [2 * round(number * min(step, 1.5 * apart) / 2) for number in range(-count, count + 1)] if reach >= 0 else []


def _rectangle_spots(sides: Sides, turn: float, long: float) -> Iterator[list[_Spot]]:
    """One print in the middle, two feet to feet, or a row up and down."""
    form = sides.form
    yield [(turn, (0.0, 0.0))]
    far = round(form.half_height - sides.end - long / 2)
    if 2 * far > long + AIR:
        middle = round((far + long / 2 + 2) / 2)
        yield [(turn, (0.0, -float(middle))), (turn + 180, (0.0, float(middle)))]
    if far > long + AIR:
        yield [(turn, (0.0, 0.0)), (turn, (0.0, -float(far))), (turn + 180, (0.0, float(far)))]


def _laid(stamp: Stamp, size: float, spots: list[_Spot], piece: Piece, sides: Sides) -> tuple[Ring, ...]:
    """The outlines of the prints that the symmetry does not give already; empty if one does not fit."""
    rings: list[Ring] = []
    taken: list[MultiPolygon] = []
    given: set[_Spot] = set()
    for turn, middle in spots:
        if (turn % 360, middle) in given:
            continue
        given |= _turned((turn, middle), piece)
        own = outlines(stamp.placed(size, turn % 360, middle))
        shape = shape_of(own)
        if any(_alike(shape, other) for other in taken):
            continue
        if not _inside(shape, sides):
            return ()
        every = images(shape, piece.symmetry, piece.setting)
        others = taken + [each for each in every if not _alike(shape, each)]
        if any(shape.distance(each) < AIR for each in others):
            return ()
        taken += every
        rings += own
    return tuple(rings)


def _turned(spot: _Spot, piece: Piece) -> set[_Spot]:
    """Where the turns of the symmetry take a print. What is like it is like it there too."""
    turn, (x, y) = spot
    every = (each.tolist() for each in piece.setting.affine(piece.symmetry))
    found = set()
    for ((a, b), (c, d)), (right, down) in zip(*every, strict=True):
        if a * d - b * c > 0:
            turned = (turn + math.degrees(math.atan2(c, a))) % 360
            found.add((turned, (float(a * x + b * y + right), float(c * x + d * y + down))))
    return found


def _alike(one: MultiPolygon, other: MultiPolygon) -> bool:
    near = one.centroid.distance(other.centroid) < 2.0
    return bool(near and one.symmetric_difference(other).area <= _ALIKE * one.area)


def _inside(shape: MultiPolygon, sides: Sides) -> bool:
    points = shapely.get_coordinates(shape)
    away = sides.inwards(points)
    far = sides.span[1] + 1 if sides.form.has_opening else np.inf
    return bool(away.min() >= sides.span[0] - 1 and away.max() <= far)

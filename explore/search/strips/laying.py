"""Where a stamp lies in a repeat: in the middle of the strip, at a few sizes and turns."""

from __future__ import annotations

import shapely

from constraints.brief import Brief
from constraints.piece import Piece
from constraints.stamp import Stamp, outlines, shape_of
from constraints.targets import images
from explore.search.laying.placement import AIR, Placement, extent, named_sizes, sizes_beside

_TURNS = (0.0, 90.0, 180.0, 270.0)
# Between two prints lie no more units than this, or so many times the length of a print.
_FAR, _LONG = 14.0, 0.9
# Where prints of several stamps follow each other, each is tried at every so many rows.
_ALONG = 4


def placements(brief: Brief, stamp: Stamp, piece: Piece, span: tuple[int, int]) -> list[Placement]:
    """Every way to lay the stamp between the columns of `span`, neither crowded nor lost in its repeat."""
    found = []
    rows = piece.setting.wrap.rows
    middle = (span[0] + span[1]) / 2
    for turn in brief.stamp.turns or _TURNS:
        for size in _sizes(brief, span, extent(stamp, turn)[0]):
            for row in (0.0, 1.0):
                rings = outlines(stamp.placed(size, turn, (middle, rows / 2 + row)))
                if _fits(shape_of(rings), piece, span):
                    found.append(Placement(stamp.name, size, turn, rings))
    return found


def along(brief: Brief, stamp: Stamp, piece: Piece, span: tuple[int, int], least: float) -> list[Placement]:
    """Every way to lay the stamp upright where others follow it in the repeat. least: its smallest size, pitches."""
    found = []
    rows = piece.setting.wrap.rows
    middle = (span[0] + span[1]) / 2
    for turn in brief.stamp.turns or _TURNS[:1]:
        for size in _sizes(brief, span, extent(stamp, turn)[0]):
            for row in range(0, rows, _ALONG) if size >= least else ():
                rings = outlines(stamp.placed(size, turn, (middle, float(row))))
                if _clear(shape_of(rings), piece, span):
                    found.append(Placement(stamp.name, size, turn, rings))
    return found


def _sizes(brief: Brief, span: tuple[int, int], wide: float) -> list[float]:
    """Longer sides to try, pitches: as large as the strip is wide, and a little smaller or longer. wide: a print of one
    pitch, units."""
    if brief.stamp.size is not None:
        return named_sizes(brief.stamp.size)
    across = span[1] - span[0] + 2
    return sizes_beside(across / wide, across / 2, (0.8, 0.9, 1.0, 1.2, 1.4))


def _fits(shape: shapely.MultiPolygon, piece: Piece, span: tuple[int, int]) -> bool:
    """Whether a print lies within the columns, clear of its images and not too far from the next one."""
    _, top, _, bottom = shape.bounds
    return _clear(shape, piece, span) and _apart(shape, piece) <= max(_FAR, _LONG * (bottom - top))


def _clear(shape: shapely.MultiPolygon, piece: Piece, span: tuple[int, int]) -> bool:
    """Whether a print lies within the columns and clear of its images."""
    left, _, right, _ = shape.bounds
    return left >= span[0] - 1 and right <= span[1] + 1 and _apart(shape, piece) >= AIR


def _apart(shape: shapely.MultiPolygon, piece: Piece) -> float:
    """How far the nearest of its images is, units."""
    _, *others = images(shape, piece.symmetry, piece.setting)
    # A stamp that is its own mirror image may lie on the mirror.
    alike = 0.02 * shape.area
    return min(
        distance
        for each in others
        if (distance := float(shape.distance(each))) or shape.symmetric_difference(each).area > alike
    )

"""Where a stamp lies in a repeat: in the middle of the strip, at a few sizes and turns."""

from __future__ import annotations

import shapely

from constraints.brief import Brief
from constraints.piece import Piece
from constraints.stamp import Stamp, outlines, shape_of
from constraints.targets import images, target
from constraints.variables import Model
from explore.search.laying.blocking import best_blocking
from explore.search.laying.placement import Laid, Placement

_EFFORT = 0.1
# Between two prints lie so many units at least.
_AIR = 4.0
_TURNS = (0.0, 90.0, 180.0, 270.0)
# And no more than this, or so many times the length of a print.
_FAR, _LONG = 14.0, 0.9


def placements(brief: Brief, stamp: Stamp, piece: Piece, room: tuple[int, int]) -> list[Placement]:
    """Every way to lay the stamp between the columns of `room`, neither crowded nor lost in its repeat."""
    found = []
    rows = piece.setting.wrap.rows
    middle = (room[0] + room[1]) / 2
    for turn in brief.stamp.turns or _TURNS:
        for size in _sizes(brief, room):
            for row in (0.0, 1.0):
                rings = outlines(stamp.placed(size, turn, (middle, rows / 2 + row)))
                if _fits(shape_of(rings), piece, room):
                    found.append(Placement(stamp.name, size, turn, rings))
    return found


def laid(brief: Brief, model: Model, placement: Placement) -> Laid | None:
    """The stamp in its placement with the blocks that match it best; None if they match too little."""
    aim = target(model.piece, shape_of(placement.rings))
    if not len(aim.inside):
        return None
    blocking = best_blocking(model, aim, _EFFORT * brief.run.effort)
    if blocking is None or blocking.match < brief.rules.match:
        return None
    return Laid(placement, aim, blocking)


def _sizes(brief: Brief, room: tuple[int, int]) -> list[float]:
    """Longer sides to try, pitches: as large as the strip is wide, and a little smaller or longer."""
    if brief.stamp.size is not None:
        least, most = brief.stamp.size
        return sorted({least, (least + most) / 2, most})
    widest = (room[1] - room[0] + 2) / 2
    return [round(widest * share * 2) / 2 for share in (0.8, 0.9, 1.0, 1.2, 1.4)]


def _fits(shape: shapely.MultiPolygon, piece: Piece, room: tuple[int, int]) -> bool:
    """Whether a print lies within the columns, clear of its images and not too far from the next one."""
    left, top, right, bottom = shape.bounds
    if left < room[0] - 1 or right > room[1] + 1:
        return False
    _, *others = images(shape, piece.symmetry, piece.setting)
    # A stamp that is its own mirror image may lie on the mirror.
    apart = [shape.distance(each) for each in others if shape.symmetric_difference(each).area > 0.02 * shape.area]
    return bool(_AIR <= min(apart) <= max(_FAR, _LONG * (bottom - top)))

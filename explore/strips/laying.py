"""Where a stamp lies in a repeat: in the middle of the strip, at a few sizes and turns."""

from __future__ import annotations

from dataclasses import dataclass

import shapely

from constraints.brief import Brief
from constraints.forms import Strip
from constraints.lattice import BoolArray
from constraints.square import Ring
from constraints.stamp import Stamp, outlines, shape_of
from constraints.targets import Target, images, target
from constraints.variables import Lace
from explore.laying.blocking import best_blocking

_EFFORT = 0.1
# Between two prints lie so many units at least.
_AIR = 4.0
_TURNS = (0.0, 90.0, 180.0, 270.0)
# A print that matches worse than the best by more than this is left out.
_NEARLY = 0.12


@dataclass(frozen=True, eq=False)
class Laid:
    """A stamp laid in a repeat, blocked alone. size: pitches. block: (n,) its places."""

    size: float
    turn: float
    rings: tuple[Ring, ...]
    target: Target
    block: BoolArray
    match: float


def laid(brief: Brief, stamp: Stamp, lace: Lace, form: Strip, room: tuple[int, int]) -> list[Laid]:
    """The ways to lay the stamp that match well enough, the best first; none if it finds no place."""
    found = []
    turns = brief.turns or _TURNS
    middle = (room[0] + room[1]) / 2
    for turn in turns:
        for size in _sizes(brief, room):
            for row in (0.0, 1.0):
                rings = outlines(stamp.placed(size, turn, (middle, form.rows / 2 + row)))
                shape = shape_of(rings)
                if not _fits(shape, lace, room):
                    continue
                aim = target(lace.piece, shape)
                blocking = best_blocking(lace, aim, _EFFORT * brief.effort)
                if blocking is not None and blocking.match >= brief.least_match:
                    found.append(Laid(size, turn, rings, aim, blocking.block, blocking.match))
    found.sort(key=lambda each: -each.match)
    return [each for each in found if each.match >= found[0].match - _NEARLY][:6]


def _sizes(brief: Brief, room: tuple[int, int]) -> list[float]:
    """Longer sides to try, pitches: as large as the strip is wide, and a little smaller or longer."""
    if brief.stamp_size is not None:
        least, most = brief.stamp_size
        return sorted({least, (least + most) / 2, most})
    widest = (room[1] - room[0] + 2) / 2
    return [round(widest * share * 2) / 2 for share in (0.8, 0.9, 1.0, 1.2, 1.4)]


def _fits(shape: shapely.MultiPolygon, lace: Lace, room: tuple[int, int]) -> bool:
    """Whether a print lies within the columns and clear of its images."""
    left, _, right, _ = shape.bounds
    if left < room[0] - 1 or right > room[1] + 1:
        return False
    _, *others = images(shape, lace.piece.symmetry, lace.piece.setting)
    return all(each.equals(shape) or shape.distance(each) >= _AIR for each in others)

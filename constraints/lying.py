"""How the copies of a print lie: each upright, on its side, upside down or aslant, and some as mirror images.

A `Pose` is a turn, and whether the print is mirrored left to right before it. What a symmetry makes of a pose is worked
out; `poses` looks at the outlines, as a design may hold copies that its symmetry does not give. A shape that is its own
mirror image has no mirrored copy, only a turned one; one that looks alike turned has no up (`character` finds both).
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from enum import Enum

import shapely
import shapely.affinity
from shapely.geometry import MultiPolygon

from constraints.character import Character, character
from constraints.design import Design, Print
from constraints.stamp import Stamp, shape_of
from constraints.symmetry import matrices

NO_UP = "alike every way up"
# So many degrees off upright the eye takes for upright.
_SLACK = 10.0
# A copy is found where this share of a print's area is covered; parts of this much the same area may be one.
_COVERED, _AS_LARGE = 0.97, 0.04


@dataclass(frozen=True)
class Pose:
    """turn: degrees clockwise on the page. mirrored: the print left to right, before it is turned."""

    turn: float
    mirrored: bool = False


class Way(Enum):
    """Which way up a copy stands, as it is told."""

    UP = "upright"
    SIDE = "on its side"
    DOWN = "upside down"
    ASLANT = "aslant"


def under(pose: Pose, symmetry: str) -> list[Pose]:
    """The poses of all images of a copy, its own first. KeyError if the symmetry is unknown."""
    return [_moved(pose, matrix) for matrix in matrices(symmetry).tolist()]


def _moved(pose: Pose, matrix: list[list[int]]) -> Pose:
    (a, b), (c, d) = matrix
    if a * d - b * c > 0:
        return Pose((pose.turn + math.degrees(math.atan2(c, a))) % 360, pose.mirrored)
    # A mirror is the one left to right, turned by twice its angle from upright.
    return Pose((math.degrees(math.atan2(-c, -a)) - pose.turn) % 360, not pose.mirrored)


def ways(copies: Iterable[Pose], shape: Character) -> set[tuple[Way, bool]] | None:
    """Which way up copies stand, each with whether it is a mirror image to the eye; None for a shape without an up."""
    if not shape.has_up:
        return None
    return {_way(copy, shape) for copy in copies}


def _way(copy: Pose, shape: Character) -> tuple[Way, bool]:
    turn, mirrored = copy.turn, copy.mirrored
    if mirrored and shape.axes:
        turn, mirrored = turn - 2 * shape.axes[0], False
    away = abs((turn + 180) % 360 - 180)
    if shape.half_turn:
        away = min(away, 180 - away)
    for way, angle in ((Way.UP, 0), (Way.SIDE, 90), (Way.DOWN, 180)):
        if abs(away - angle) <= _SLACK:
            return way, mirrored
    return Way.ASLANT, mirrored


def has_upright(copies: Iterable[Pose], shape: Character) -> bool:
    """Whether a copy stands as she drew it; always, if the shape has no up."""
    return not shape.has_up or any(shape.stands(copy.turn, copy.mirrored) for copy in copies)


def told(copies: Iterable[Pose], shape: Character) -> str:
    """How copies lie, in a few words."""
    found = ways(copies, shape)
    if found is None:
        return NO_UP
    stand = {way for way, _ in found}
    if (Way.UP, False) not in found:
        if (Way.UP, True) in found:
            return "upright in the mirror only"
        return next(iter(stand)).value if len(stand) == 1 else "none upright"
    if stand == {Way.UP}:
        return "upright and mirrored" if (Way.UP, True) in found else "upright"
    turned = stand - {Way.UP}
    if turned == {Way.DOWN}:
        return "both ways up"
    return f"upright and {next(iter(turned)).value}" if len(turned) == 1 else "all ways up"


def lies(design: Design, stamps: Iterable[Stamp]) -> str:
    """How the prints lie in a design, in a few words; "" where it carries none. stamps: as she drew them."""
    by_name = {each.name: each for each in stamps}
    if not all(each.name in by_name for each in design.prints):
        return ""
    return design.of_each([_lies(each, design.symmetry, by_name[each.name]) for each in design.prints])


def _lies(printed: Print, symmetry: str, stamp: Stamp) -> str:
    copies = [image for pose in poses(printed, stamp) for image in under(pose, symmetry)]
    return told(copies, character(stamp))


# --- looking ----------------------------------------------------------------------------------------------


def poses(printed: Print, stamp: Stamp) -> list[Pose]:
    """How the copies among the outlines of a print lie; its own turn if none is found there (a stamp of another shape).

    Sought among turns by eighths of a circle from its own, as they are laid.
    """
    drawn = shape_of(printed.outlines)
    found = {pose: None for part in drawn.geoms if (pose := _pose(part, drawn, printed, stamp)) is not None}
    return list(found) or [Pose(printed.turn_degrees % 360)]


def _pose(part: shapely.Polygon, drawn: MultiPolygon, printed: Print, stamp: Stamp) -> Pose | None:
    """The pose of the copy whose largest part this is."""
    for pose in _tried(printed.turn_degrees):
        copy = _placed(stamp, printed.size, pose)
        largest = max(copy.geoms, key=lambda each: each.area)
        if abs(largest.area - part.area) > _AS_LARGE * part.area:
            continue
        by = shapely.get_coordinates(part.centroid)[0] - shapely.get_coordinates(largest.centroid)[0]
        there = shapely.affinity.translate(copy, *by.tolist())
        if there.intersection(drawn).area >= _COVERED * copy.area:
            return pose
    return None


def _tried(turn: float) -> Iterator[Pose]:
    for off in (0.0, 90.0, 180.0, 270.0, 45.0, 135.0, 225.0, 315.0):
        yield Pose((turn + off) % 360)
        yield Pose((off - turn) % 360, True)


def _placed(stamp: Stamp, size: float, pose: Pose) -> MultiPolygon:
    if not pose.mirrored:
        return stamp.placed(size, pose.turn, (0.0, 0.0))
    # Mirrored and then turned is turned the other way and then mirrored.
    return shapely.affinity.scale(stamp.placed(size, -pose.turn, (0.0, 0.0)), -1.0, 1.0, origin=(0, 0))

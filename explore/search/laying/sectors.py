"""Where whole copies of a stamp can lie under a symmetry without meeting each other.

A sector is a wedge of the square (a cone at the centre) that its own images do not enter. On a mirror axis it
holds a print that is its own mirror image, in the middle one that looks the same under the whole symmetry.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from constraints.character import Character, character
from constraints.lattice import FloatArray
from constraints.lying import Pose, has_upright, under
from constraints.stamp import Stamp

_UP, _LEFT, _CORNER = 0.0, 270.0, 315.0


# Units that a print keeps off the border of its sector, so that it stands clear of its images.
AIR = 2.0


@dataclass(frozen=True)
class Sector:
    """A cone of half-angle `opening` degrees round the ray at `ray` degrees (clockwise from upright).

    opening 180 is the whole square. mirrored: the print lies on the ray and must be symmetric in it.
    centred: the print lies at the centre of the square and must look the same under all of the symmetry.
    """

    name: str
    ray: float
    opening: float
    mirrored: bool = False
    centred: bool = False


_WHOLE = Sector("centre", _UP, 180, centred=True)

SECTORS: dict[str, tuple[Sector, ...]] = {
    "full": (
        Sector("side", _LEFT, 45, mirrored=True),
        Sector("corner", _CORNER, 45, mirrored=True),
        Sector("eighth", 292.5, 22.5),
        _WHOLE,
    ),
    "quarter-turn": (
        Sector("side", _LEFT, 45),
        Sector("corner", _CORNER, 45),
        Sector("between", 292.5, 45),
        _WHOLE,
    ),
    "half-turn": (Sector("side", _LEFT, 90), Sector("top", _UP, 90), Sector("corner", _CORNER, 90), _WHOLE),
    "upright-mirrors": (
        Sector("corner", _CORNER, 45),
        Sector("side", _LEFT, 90, mirrored=True),
        Sector("top", _UP, 90, mirrored=True),
        _WHOLE,
    ),
    "diagonal-mirrors": (
        Sector("side", _LEFT, 45),
        Sector("corner", _CORNER, 90, mirrored=True),
        Sector("other corner", 45.0, 90, mirrored=True),
        _WHOLE,
    ),
    "upright-mirror": (Sector("axis", _UP, 180, mirrored=True), Sector("side", _LEFT, 90)),
    "diagonal-mirror": (Sector("axis", _CORNER, 180, mirrored=True), Sector("side", 225.0, 90)),
    "none": (Sector("anywhere", _UP, 180),),
}


@dataclass(frozen=True)
class Place:
    """One way to lay the stamp: its size in pitches, turn and centre in lattice units.

    reverse: the shape stays open and a band of blocks goes round it.
    """

    sector: Sector
    size: float
    turn: float
    centre: tuple[float, float]
    reverse: bool = False


@dataclass(frozen=True, eq=False)
class TurnedSector:
    """A sector and a turn. hull: (k, 2) convex hull of the turned print of size 1 pitch about its centre."""

    sector: Sector
    turn: float
    hull: FloatArray

    def centres(self, size: float, reach: float) -> FloatArray:
        """(k, 2) whole-unit centres at which the print stays within max(|x|, |y|) <= reach and its wedge."""
        return _centres(self.sector, self.hull * size, reach)

    def near(self, size: float, centre: tuple[float, float], reach: float) -> list[Place]:
        """The places up to two units outwards on an axis, or half a unit away, within the bounds of `centres`."""
        if self.sector.centred:
            grid = np.zeros((1, 2))
        elif self.sector.mirrored:
            grid = np.outer((0.0, 0.5, 1.0, 1.5, 2.0), _along(self.sector)) + centre
        else:
            grid = np.array([(centre[0] + x, centre[1] + y) for x in (0.0, 0.5) for y in (0.0, 0.5)])
        return [self.place(size, each) for each in _within(grid, self.sector, self.hull * size, reach)]

    def largest(self, sizes: Sequence[float], reach: float) -> float:
        """The largest of the sizes (rising) that fits somewhere, 0 if none does."""
        fitting, too_large = -1, len(sizes)
        while too_large - fitting > 1:
            middle = (fitting + too_large) // 2
            if len(self.centres(sizes[middle], reach)):
                fitting = middle
            else:
                too_large = middle
        return sizes[fitting] if fitting >= 0 else 0.0

    def place(self, size: float, centre: FloatArray) -> Place:
        return Place(self.sector, size, self.turn, (float(centre[0]), float(centre[1])))


def turned_sectors(stamp: Stamp, symmetry: str, turns: Sequence[float] = ()) -> list[TurnedSector]:
    """Every way to lay a whole print under a symmetry; turns: those allowed, none for all of which a copy stands as she
    drew it."""
    shape = character(stamp)
    found = [
        TurnedSector(sector, turn, _hull(stamp, turn))
        for sector in SECTORS[symmetry]
        for turn in _turns(sector, shape, symmetry, turns)
    ]
    return found if turns else [each for each in found if has_upright(under(Pose(each.turn), symmetry), shape)]


def _turns(sector: Sector, shape: Character, symmetry: str, wanted: Sequence[float]) -> list[float]:
    every = [float(turn) for turn in wanted] or grid_turns(shape)
    if sector.centred:
        return _centred_turns(shape, symmetry, every)
    if not sector.mirrored:
        return every
    # The print's own axis must come to lie along the ray, either way round.
    fitting = {(sector.ray - axis + flip) % 360 for axis in shape.axes for flip in (0, 180)}
    return sorted(t for t in fitting if not wanted or any(abs(t - w) < 2.6 for w in every))


def grid_turns(shape: Character) -> list[float]:
    """Eight turns; those of a shape with a mirror axis lay it along the grid, unless it then never stood upright."""
    first = shape.axes[0] if shape.axes else 0.0
    turns = sorted((number * 45.0 - first) % 360 for number in range(8))
    return turns if any(map(shape.stands, turns)) else [number * 45.0 for number in range(8)]


def upright_turn(shape: Character) -> float:
    """The turn at which a print lies along the grid and stands as she drew it."""
    return min((turn for turn in grid_turns(shape) if shape.stands(turn)), key=lambda turn: min(turn, 360 - turn))


def _centred_turns(shape: Character, symmetry: str, every: list[float]) -> list[float]:
    """Turns at which the print looks the same under the whole symmetry."""

    def has(axis: float, turn: float) -> bool:
        return any(abs((a + turn - axis + 90) % 180 - 90) < 2.6 for a in shape.axes)

    needs = {
        "full": lambda t: shape.quarter_turn and has(0, t) and has(45, t),
        "quarter-turn": lambda t: shape.quarter_turn,
        "half-turn": lambda t: shape.half_turn,
        "upright-mirrors": lambda t: shape.half_turn and has(0, t),
        "diagonal-mirrors": lambda t: shape.half_turn and has(45, t),
    }
    return [turn for turn in every if needs[symmetry](turn)]


def _hull(stamp: Stamp, turn: float) -> FloatArray:
    """Vertices of the convex hull of the turned print of size 1 pitch about the centre, lattice units."""
    hull = stamp.placed(1.0, turn, (0.0, 0.0)).convex_hull
    return np.array(hull.exterior.coords[:-1])


def _centres(sector: Sector, hull: FloatArray, reach: float) -> FloatArray:
    if sector.centred:
        return np.zeros((int(np.abs(hull).max() <= reach), 2))
    span = np.arange(-int(reach), int(reach) + 1)
    if sector.mirrored:
        return _within(span[:, None] * _along(sector)[None, :], sector, hull, reach)
    gx, gy = np.meshgrid(span, span)
    return _within(np.stack([gx.ravel(), gy.ravel()], axis=1), sector, hull, reach)


def _along(sector: Sector) -> FloatArray:
    """One step of whole units along a sector's ray."""
    ray = np.radians(sector.ray)
    along = np.array([np.sin(ray), -np.cos(ray)])
    step: FloatArray = np.round(along / np.abs(along).max())
    return step


def _within(grid: FloatArray, sector: Sector, hull: FloatArray, reach: float) -> FloatArray:
    """Those of the centres (k, 2) at which a print of that hull keeps within reach and its wedge."""
    low, high = -reach - hull.min(axis=0) - 1e-9, reach - hull.max(axis=0) + 1e-9
    grid = grid[((grid >= low) & (grid <= high)).all(axis=1)]
    if sector.opening < 180:
        for side in (-1, 1):
            edge = np.radians(sector.ray + side * sector.opening)
            outward = side * np.array([np.cos(edge), np.sin(edge)])
            grid = grid[grid @ outward + (hull @ outward).max() <= 1e-9 - AIR]
    return grid

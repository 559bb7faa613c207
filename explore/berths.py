"""Where whole copies of a stamp can lie under a symmetry without meeting each other.

A berth is a wedge of the square (a cone at the centre) that its own images do not enter. On a mirror axis it
holds a print that is its own mirror image, in the middle one that looks the same under the whole symmetry.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from constraints.lattice import FloatArray
from constraints.stamp import Stamp
from explore.character import Character, character

_UP, _LEFT, _CORNER = 0.0, 270.0, 315.0


# Units that a print keeps off the border of its berth, so that it stands clear of its images.
AIR = 2.0


@dataclass(frozen=True)
class Berth:
    """A cone of half-angle `opening` degrees round the ray at `ray` degrees (clockwise from upright).

    opening 180 is the whole square. mirrored: the print lies on the ray and must be symmetric in it.
    centred: the print lies at the centre of the square and must look the same under all of the symmetry.
    """

    name: str
    ray: float
    opening: float
    mirrored: bool = False
    centred: bool = False


_WHOLE = Berth("centre", _UP, 180, centred=True)

BERTHS: dict[str, tuple[Berth, ...]] = {
    "full": (
        Berth("side", _LEFT, 45, mirrored=True),
        Berth("corner", _CORNER, 45, mirrored=True),
        Berth("eighth", 292.5, 22.5),
        _WHOLE,
    ),
    "quarter-turn": (
        Berth("side", _LEFT, 45),
        Berth("corner", _CORNER, 45),
        Berth("between", 292.5, 45),
        _WHOLE,
    ),
    "half-turn": (Berth("side", _LEFT, 90), Berth("top", _UP, 90), Berth("corner", _CORNER, 90), _WHOLE),
    "upright-mirrors": (
        Berth("corner", _CORNER, 45),
        Berth("side", _LEFT, 90, mirrored=True),
        Berth("top", _UP, 90, mirrored=True),
        _WHOLE,
    ),
    "diagonal-mirrors": (
        Berth("side", _LEFT, 45),
        Berth("corner", _CORNER, 90, mirrored=True),
        Berth("other corner", 45.0, 90, mirrored=True),
        _WHOLE,
    ),
    "upright-mirror": (Berth("axis", _UP, 180, mirrored=True), Berth("side", _LEFT, 90)),
    "diagonal-mirror": (Berth("axis", _CORNER, 180, mirrored=True), Berth("side", 225.0, 90)),
    "none": (Berth("anywhere", _UP, 180),),
}


@dataclass(frozen=True)
class Place:
    """One way to lay the stamp: its size in pitches, turn and centre in lattice units.

    reverse: the shape stays open and a band of blocks goes round it.
    """

    berth: Berth
    size: float
    turn: float
    centre: tuple[float, float]
    reverse: bool = False


def places(
    stamp: Stamp,
    symmetry: str,
    reach: float,
    sizes: Sequence[float],
    turns: Sequence[float] = (),
    air: float = AIR,
) -> list[Place]:
    """Every way to lay one whole print with max(|x|, |y|) <= reach, `air` units off its own images.

    Centres lie on the grid (whole units), those on an axis on the axis. Largest sizes first.
    """
    found: list[Place] = []
    shape = character(stamp)
    for berth in BERTHS[symmetry]:
        for turn in _turns(berth, shape, symmetry, turns):
            hull = _hull(stamp, turn)
            for size in sorted(sizes, reverse=True):
                centres = _centres(berth, hull * size, reach, air)
                found.extend(Place(berth, size, turn, centre) for centre in centres)
    return found


def _turns(berth: Berth, shape: Character, symmetry: str, wanted: Sequence[float]) -> list[float]:
    every = [float(turn) for turn in wanted] or grid_turns(shape)
    if berth.centred:
        return _centred_turns(shape, symmetry, every)
    if not berth.mirrored:
        return every
    # The print's own axis must come to lie along the ray, either way round.
    fitting = {(berth.ray - axis + flip) % 360 for axis in shape.axes for flip in (0, 180)}
    return sorted(t for t in fitting if not wanted or any(abs(t - w) < 2.6 for w in every))


def grid_turns(shape: Character) -> list[float]:
    """Eight turns; those of a shape with a mirror axis lay it along the grid."""
    first = shape.axes[0] if shape.axes else 0.0
    return sorted((number * 45.0 - first) % 360 for number in range(8))


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


def _centres(berth: Berth, hull: FloatArray, reach: float, air: float) -> list[tuple[float, float]]:
    """Whole-unit centres at which the hull stays within the reach and the wedge."""
    if berth.centred:
        return [(0.0, 0.0)] if np.abs(hull).max() <= reach else []
    ray = np.radians(berth.ray)
    along = np.array([np.sin(ray), -np.cos(ray)])
    line = np.arange(-int(reach), int(reach) + 1)
    if berth.mirrored:
        step = np.round(along / np.abs(along).max())
        grid = line[:, None] * step[None, :]
    else:
        gx, gy = np.meshgrid(line, line)
        grid = np.stack([gx.ravel(), gy.ravel()], axis=1).astype(float)
    fits = np.ones(len(grid), dtype=bool)
    planes = [((1.0, 0.0), reach), ((-1.0, 0.0), reach), ((0.0, 1.0), reach), ((0.0, -1.0), reach)]
    if berth.opening < 180:
        for side in (-1, 1):
            edge = np.radians(berth.ray + side * berth.opening)
            outward = side * np.array([np.cos(edge), np.sin(edge)])
            planes.append(((float(outward[0]), float(outward[1])), -air))
    for normal, limit in planes:
        fits &= grid @ np.array(normal) + (hull @ np.array(normal)).max() <= limit + 1e-9
    return [(float(x), float(y)) for x, y in grid[fits]]

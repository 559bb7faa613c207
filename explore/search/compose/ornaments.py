"""The ornaments that stand inside a border: each is tried in several sizes and laid where it fits best."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from constraints.lattice import BoolArray
from explore.search.compose import parts
from explore.search.compose.canvas import Canvas
from explore.search.compose.parts import Random


@dataclass(frozen=True)
class Proportions:
    """What the ornaments of one square have in common.

    size: pinholes a side of the small diamonds. alike: ornaments take all the places a square gives them, so
    that the whole keeps its order where the stamp has little symmetry. most_solid: share at which the
    square is full.
    """

    size: int
    alike: bool
    most_solid: float


def row_of_diamonds(canvas: Canvas, rng: Random, distance: int, size: int, manner: Proportions) -> None:
    """Diamonds along all four sides at a distance from the centre, evenly spaced from the middle out."""
    gap = 2 * size + int(rng.choice((0, 2, 4)))
    gap += gap % 2
    start = 0 if rng.random() < 0.5 else gap // 2
    for t in range(start, distance + 1, gap):
        centre = parts.centre_for(size, size, -distance, -t)
        if size % 2 and t == 0:
            centre = (-(distance | 1), 0)
        lay_each(canvas, "row of diamonds", parts.diamond(canvas.piece, centre, size), manner, air=1)


def medallion(canvas: Canvas, rng: Random, manner: Proportions) -> None:
    """An ornament round the centre: a diamond, a ring with a heart, or a star of diamonds."""
    piece = canvas.piece
    room = int(_room_at(canvas, 0, 0))
    if room < 5:
        return
    kinds = ["diamond", "ring", "star", "square"]
    rng.shuffle(kinds)
    for kind in kinds:
        for reach in range(min(room - 2, int(rng.integers(6, 16))), 3, -1):
            if kind == "diamond" and canvas.add("medallion", parts.diamond(piece, (0, 0), 2 * (reach // 3))):
                return
            if kind == "ring" and reach >= 8:
                width = int(rng.integers(2, 4))
                if canvas.add("medallion", parts.diamond_ring(piece, reach | 1, width)):
                    heart = max(2, 2 * ((reach - 2 * width) // 6))
                    canvas.add("heart", parts.diamond(piece, (0, 0), heart))
                    return
            ring = parts.square_ring(piece, reach - 2, 4)
            if kind == "square" and reach >= 8 and canvas.add("medallion", ring):
                canvas.add("heart", parts.diamond(piece, (0, 0), 2 * max(1, (reach - 8) // 4)))
                return
            if kind == "star" and _star(canvas, reach, manner):
                return


def _star(canvas: Canvas, reach: int, manner: Proportions) -> bool:
    size = max(canvas.model.rules.narrowest, reach // 3)
    centre = parts.centre_for(size, size, -size, 0)
    if size % 2:
        centre = (-size, 0)
    laid = lay_each(canvas, "star", parts.diamond(canvas.piece, centre, size), manner, air=1)
    if laid:
        out = (2 * size, 0) if size % 2 == 0 else (-size, -size - 1)
        lay_each(canvas, "star", parts.diamond(canvas.piece, parts.centre_for(size, size, *out), size), manner, air=1)
    return laid


def rays(canvas: Canvas, rng: Random, manner: Proportions) -> None:
    """Bars along the corner lines, from the middle out."""
    width = max(canvas.model.rules.narrowest, int(rng.integers(2, 4)))
    width += width % 2  # an even width lies on the corner line
    outer = canvas.outer
    start = int(rng.integers(3, 9))
    for length in range(outer, 2, -1):
        for at in range(start, start + 6):
            middle = at + length / 2
            centre = parts.centre_for(length, width, -middle, -middle)
            if lay_each(canvas, "rays", parts.bar(canvas.piece, (centre[0], centre[0]), length, width), manner):
                return


def rungs(canvas: Canvas, rng: Random, manner: Proportions) -> None:
    """Bars across the corner lines, in rows that grow or keep their length outwards."""
    width = max(canvas.model.rules.narrowest, int(rng.integers(2, 4)))
    outer = canvas.outer
    length = int(rng.integers(3, 7)) * 2
    grow = int(rng.choice((0, 0, 2)))
    at = outer - width
    laid = 0
    while at > 4 and length >= 4 and laid < 3:
        centre = parts.centre_for(width, length, -at, -at)
        if lay_each(canvas, "rungs", parts.bar(canvas.piece, (centre[0], centre[0]), width, length), manner):
            laid += 1
            at -= width + 3
            length -= grow
        else:
            at -= 1


def bar_frame(canvas: Canvas, rng: Random, manner: Proportions) -> None:
    """Four bars that stand as a diamond round the centre, meeting point to point on the axes."""
    width = max(canvas.model.rules.narrowest, int(rng.integers(2, 5)))
    outer = canvas.outer
    for reach in range(outer, 6, -1):
        length = reach - width
        centre = ((reach - width) / -2, (reach - width) / -2)
        if length >= 4 and lay_each(
            canvas,
            "bar frame",
            parts.bar(canvas.piece, parts.centre_for(width, length, *centre), width, length),
            manner,
            air=1,
        ):
            return


def nested(canvas: Canvas, rng: Random, manner: Proportions) -> None:
    """Square or diamond rings one inside the other."""
    outer = canvas.outer
    straight = rng.random() < 0.6
    width = max(3, 2 * canvas.model.rules.narrowest - 1) + int(rng.integers(0, 2))
    step = width + int(rng.integers(5, 9))
    radius = outer
    laid = 0
    while radius > 5 and laid < 3:
        ring = (
            parts.square_ring(canvas.piece, radius, width)
            if straight
            else parts.diamond_ring(canvas.piece, radius | 1, (width + 1) // 2)
        )
        if canvas.add("nested", ring, most_solid=manner.most_solid):
            laid += 1
            radius -= step
        else:
            radius -= 1


def chevrons(canvas: Canvas, rng: Random, manner: Proportions) -> None:
    """Angles on the axes, their tips outward or inward, one behind the other."""
    outer = canvas.outer
    width = max(4, 2 * canvas.model.rules.narrowest)
    arm = int(rng.integers(4, 11))
    tip = outer
    laid = 0
    while tip > 4 and laid < 3:
        shape = parts.chevron(canvas.piece, (-tip, 0), (-1, 0), arm, width)
        if lay_each(canvas, "chevrons", shape, manner):
            laid += 1
            tip -= width + 3
        else:
            tip -= 1


def pinwheel(canvas: Canvas, rng: Random, manner: Proportions) -> None:
    """Bars that turn round the centre, each leaning the same way."""
    width = max(canvas.model.rules.narrowest, int(rng.integers(2, 5)))
    for length in range(int(rng.integers(6, 14)), 3, -1):
        for away in range(4, 4 + 2 * length):
            centre = parts.centre_for(width, length, -away, -length // 2)
            if canvas.add("pinwheel", parts.bar(canvas.piece, centre, width, length), most_solid=manner.most_solid):
                return


def sprigs(canvas: Canvas, rng: Random, manner: Proportions, enough: float = 1.0) -> None:
    """Small diamonds on a regular grid over the open ground, or over one part of it.

    enough: share of solid at which to stop; below 1 they stand close and everywhere.
    """
    size = manner.size
    step = size + (int(rng.integers(3, 7)) if enough == 1.0 else 2)
    step += (step + size) % 2 if size % 2 else step % 2
    shift = step if size % 2 else int(rng.choice((0, step)))
    piece = canvas.piece
    outer = canvas.outer
    line = np.arange(-(outer // step) * 2 - 2, (outer // step) * 2 + 3) * 2 * step + shift
    u, v = (axis.ravel() for axis in np.meshgrid(line, line))
    x, y = (u - v) // 2, (u + v) // 2
    zones = ("everywhere", "everywhere", "outside", "axes", "corners") if enough == 1.0 else ("everywhere",)
    zone = str(rng.choice(zones))
    near, far = np.minimum(np.abs(x), np.abs(y)), np.maximum(np.abs(x), np.abs(y))
    wanted = {
        "everywhere": far >= 0,
        "outside": far >= outer * 0.55,
        "axes": near <= step,
        "corners": near >= far * 0.5,
    }[zone] & (far + size <= outer + 1)
    spots = sorted(zip(far[wanted], near[wanted], y[wanted], x[wanted], strict=True))
    places = [parts.diamond_places(piece, (int(cx), int(cy)), size) for _, _, cy, cx in reversed(spots)]
    fitting = [each for each in places if each is not None]
    canvas.add_all("sprigs", fitting, manner.alike, min(manner.most_solid, enough + 2 * size / len(piece)))


INNER: dict[str, Callable[[Canvas, Random, Proportions], None]] = {
    "medallion": medallion,
    "rays": rays,
    "rungs": rungs,
    "bar frame": bar_frame,
    "nested": nested,
    "chevrons": chevrons,
    "pinwheel": pinwheel,
    "sprigs": sprigs,
}


def lay_each(canvas: Canvas, name: str, places: BoolArray, manner: Proportions, air: int = 2) -> bool:
    """Lay a part in all the places, (n,), that the manner gives it."""
    lay = canvas.add_alike if manner.alike else canvas.add
    return lay(name, places, air, manner.most_solid)


def _room_at(canvas: Canvas, x: float, y: float) -> float:
    """Units from a point to the nearest block or kept-off place."""
    taken = canvas.piece.pinholes[canvas.block | canvas.keep_off]
    if not len(taken):
        return float(np.abs(canvas.piece.pinholes).max())
    return float(np.abs(taken - np.array([x, y])).sum(axis=1).min())

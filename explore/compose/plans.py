"""Whole compositions: which parts, in which order, with what proportions. Varied by the random generator.

A plan first says how deep its border is, so that the stamp can be laid inside; then it lays its parts round
the stamp. Every part is tried in several sizes and kept only if all block rules hold.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from constraints.lattice import BoolArray
from explore.compose import parts
from explore.compose.canvas import Canvas
from explore.compose.parts import Random


@dataclass(frozen=True)
class Border:
    """kind: a name in BORDERS. depth: units it reaches inwards from the margin. values: its proportions."""

    kind: str
    depth: int
    values: tuple[int, ...] = ()


@dataclass(frozen=True)
class Plan:
    """A composition decided before the stamp is laid."""

    name: str
    border: Border
    inner: tuple[str, ...]
    size: int  # pinholes a side of the small diamonds
    alike: bool
    most_solid: float


# --- borders ---------------------------------------------------------------------------------------------


def draw_border(rng: Random, half_size: int, narrowest: int, kinds: tuple[str, ...], most: int) -> Border:
    """A border at most so many units deep, with proportions that suit the half-size."""
    for _ in range(6):
        border = _any_border(rng, half_size, narrowest, str(rng.choice(kinds)))
        if border.depth <= most:
            return border
    return Border("open", 0)


def _any_border(rng: Random, half_size: int, narrowest: int, kind: str) -> Border:
    thin = max(3, 2 * narrowest - 1)
    if kind == "trail":
        width = int(rng.integers(thin, thin + 3))
        return Border(kind, width, (width,))
    if kind == "double trail":
        return Border(kind, 2 * thin + 4, (thin,))
    if kind == "zigzag":
        height = int(rng.integers(3, max(4, min(9, half_size // 4)) + 1))
        width = int(rng.integers(thin + 1, thin + 4))
        flat = int(rng.choice((0, 0, 2, 4)))
        return Border(kind, height + width, (height, width, flat))
    if kind == "diamonds":
        size = max(narrowest, int(rng.integers(2, 5)))
        return Border(kind, 2 * size, (size,))
    if kind == "angles":
        width = int(rng.integers(thin + 1, thin + 4))
        return Border(kind, width + 1, (width, int(rng.integers(half_size // 3, half_size))))
    return Border("open", 0)


def lay_border(canvas: Canvas, border: Border, rng: Random, plan: Plan) -> None:
    """Lay the border; one that cannot be worked here is replaced by a row of diamonds."""
    piece = canvas.piece
    outer = int(parts.from_centre(piece).max()) - canvas.lace.brief.margin
    laid = border.kind == "open"
    if border.kind == "trail":
        laid = _lay_trail(canvas, outer, border.values[0])
    elif border.kind == "double trail":
        width = border.values[0]
        laid = _lay_trail(canvas, outer, width) and _lay_trail(canvas, outer - width - 3, width)
    elif border.kind == "zigzag":
        laid = _lay_zigzag(canvas, outer, border.values, rng)
    elif border.kind == "angles":
        width, arm = border.values
        laid = any(
            canvas.add("corner", parts.corner_angle(piece, outer, width, arm + more), alike=plan.alike)
            for more in (0, 1, 2, 3)
        )
    if not laid or border.kind == "diamonds":
        size = border.values[0] if border.kind == "diamonds" else plan.size
        row_of_diamonds(canvas, rng, outer - size + 1, size, plan)


def _lay_trail(canvas: Canvas, outer: int, width: int) -> bool:
    return any(
        canvas.add("border", parts.square_ring(canvas.piece, outer - inwards, width)) for inwards in (0, 1, 2)
    )


def _lay_zigzag(canvas: Canvas, outer: int, values: tuple[int, ...], rng: Random) -> bool:
    height, width, flat = values
    period = 2 * (height + flat)
    # A turn at the middle of the side, and as nearly as possible one at the corner.
    starts = [0, period // 2]
    rng.shuffle(starts)
    for radius in (outer, outer - 1, outer - 2):
        for phase in (*starts, *(p for p in range(period) if p not in starts)):
            if canvas.add("border", parts.zigzag_ring(canvas.piece, radius, height, width, flat, phase)):
                return True
    return False


# --- inner parts -----------------------------------------------------------------------------------------


def row_of_diamonds(canvas: Canvas, rng: Random, distance: int, size: int, plan: Plan) -> None:
    """Diamonds along all four sides at a distance from the centre, evenly spaced from the middle out."""
    gap = 2 * size + int(rng.choice((0, 2, 4)))
    gap += gap % 2
    start = 0 if rng.random() < 0.5 else gap // 2
    for t in range(start, distance + 1, gap):
        centre = parts.centre_for(size, size, -distance, -t)
        if size % 2 and t == 0:
            centre = (-(distance | 1), 0)
        _each(canvas, "row of diamonds", parts.diamond(canvas.piece, centre, size), plan, air=1)


def medallion(canvas: Canvas, rng: Random, plan: Plan) -> None:
    """A figure round the centre: a diamond, a ring with a heart, or a star of diamonds."""
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
            if kind == "star" and _star(canvas, reach, plan):
                return


def _star(canvas: Canvas, reach: int, plan: Plan) -> bool:
    size = max(canvas.lace.brief.narrowest, reach // 3)
    centre = parts.centre_for(size, size, -size, 0)
    if size % 2:
        centre = (-size, 0)
    laid = _each(canvas, "star", parts.diamond(canvas.piece, centre, size), plan, air=1)
    if laid:
        out = (2 * size, 0) if size % 2 == 0 else (-size, -size - 1)
        _each(canvas, "star", parts.diamond(canvas.piece, parts.centre_for(size, size, *out), size), plan, air=1)
    return laid


def rays(canvas: Canvas, rng: Random, plan: Plan) -> None:
    """Bars along the corner lines, from the middle out."""
    width = max(canvas.lace.brief.narrowest, int(rng.integers(2, 4)))
    width += width % 2  # an even width lies on the corner line
    outer = int(parts.from_centre(canvas.piece).max()) - canvas.lace.brief.margin
    start = int(rng.integers(3, 9))
    for length in range(outer, 2, -1):
        for at in range(start, start + 6):
            middle = at + length / 2
            centre = parts.centre_for(length, width, -middle, -middle)
            if _each(canvas, "rays", parts.bar(canvas.piece, (centre[0], centre[0]), length, width), plan):
                return


def rungs(canvas: Canvas, rng: Random, plan: Plan) -> None:
    """Bars across the corner lines, in rows that grow or keep their length outwards."""
    width = max(canvas.lace.brief.narrowest, int(rng.integers(2, 4)))
    outer = int(parts.from_centre(canvas.piece).max()) - canvas.lace.brief.margin
    length = int(rng.integers(3, 7)) * 2
    grow = int(rng.choice((0, 0, 2)))
    at = outer - width
    laid = 0
    while at > 4 and length >= 4 and laid < 3:
        centre = parts.centre_for(width, length, -at, -at)
        if _each(canvas, "rungs", parts.bar(canvas.piece, (centre[0], centre[0]), width, length), plan):
            laid += 1
            at -= width + 3
            length -= grow
        else:
            at -= 1


def bar_frame(canvas: Canvas, rng: Random, plan: Plan) -> None:
    """Four bars that stand as a diamond round the centre, meeting point to point on the axes."""
    width = max(canvas.lace.brief.narrowest, int(rng.integers(2, 5)))
    outer = int(parts.from_centre(canvas.piece).max()) - canvas.lace.brief.margin
    for reach in range(outer, 6, -1):
        length = reach - width
        centre = ((reach - width) / -2, (reach - width) / -2)
        if length >= 4 and _each(
            canvas,
            "bar frame",
            parts.bar(canvas.piece, parts.centre_for(width, length, *centre), width, length),
            plan,
            air=1,
        ):
            return


def nested(canvas: Canvas, rng: Random, plan: Plan) -> None:
    """Square or diamond rings one inside the other."""
    outer = int(parts.from_centre(canvas.piece).max()) - canvas.lace.brief.margin
    straight = rng.random() < 0.6
    width = max(3, 2 * canvas.lace.brief.narrowest - 1) + int(rng.integers(0, 2))
    step = width + int(rng.integers(5, 9))
    radius = outer
    laid = 0
    while radius > 5 and laid < 3:
        ring = (
            parts.square_ring(canvas.piece, radius, width)
            if straight
            else parts.diamond_ring(canvas.piece, radius | 1, (width + 1) // 2)
        )
        if canvas.add("nested", ring, most_solid=plan.most_solid):
            laid += 1
            radius -= step
        else:
            radius -= 1


def chevrons(canvas: Canvas, rng: Random, plan: Plan) -> None:
    """Angles on the axes, their tips outward or inward, one behind the other."""
    outer = int(parts.from_centre(canvas.piece).max()) - canvas.lace.brief.margin
    width = max(4, 2 * canvas.lace.brief.narrowest)
    arm = int(rng.integers(4, 11))
    tip = outer
    laid = 0
    while tip > 4 and laid < 3:
        shape = parts.chevron(canvas.piece, (-tip, 0), (-1, 0), arm, width)
        if _each(canvas, "chevrons", shape, plan):
            laid += 1
            tip -= width + 3
        else:
            tip -= 1


def pinwheel(canvas: Canvas, rng: Random, plan: Plan) -> None:
    """Bars that turn round the centre, each leaning the same way."""
    width = max(canvas.lace.brief.narrowest, int(rng.integers(2, 5)))
    for length in range(int(rng.integers(6, 14)), 3, -1):
        for away in range(4, 4 + 2 * length):
            centre = parts.centre_for(width, length, -away, -length // 2)
            if canvas.add("pinwheel", parts.bar(canvas.piece, centre, width, length), most_solid=plan.most_solid):
                return


def sprigs(canvas: Canvas, rng: Random, plan: Plan) -> None:
    """Small diamonds on a regular grid over the open ground, or over one part of it."""
    size = plan.size
    step = size + int(rng.integers(3, 7))
    step += (step + size) % 2 if size % 2 else step % 2
    shift = step if size % 2 else int(rng.choice((0, step)))
    piece = canvas.piece
    outer = int(parts.from_centre(piece).max()) - canvas.lace.brief.margin
    line = np.arange(-(outer // step) * 2 - 2, (outer // step) * 2 + 3) * 2 * step + shift
    u, v = (axis.ravel() for axis in np.meshgrid(line, line))
    x, y = (u - v) // 2, (u + v) // 2
    zone = str(rng.choice(("everywhere", "everywhere", "outside", "axes", "corners")))
    near, far = np.minimum(np.abs(x), np.abs(y)), np.maximum(np.abs(x), np.abs(y))
    wanted = {
        "everywhere": far >= 0,
        "outside": far >= outer * 0.55,
        "axes": near <= step,
        "corners": near >= far * 0.5,
    }[zone] & (far + size <= outer + 1)
    spots = sorted(zip(far[wanted], near[wanted], y[wanted], x[wanted], strict=True))
    done: set[tuple[int, int]] = set()
    for far_, near_, cy, cx in reversed(spots):
        key = (int(far_), int(near_)) if plan.alike else (int(cx), int(cy))
        if key in done:
            continue
        done.add(key)
        laid = plan.alike and canvas.add(
            "sprigs", parts.diamond(piece, (int(cx), int(cy)), size), 2, plan.most_solid, alike=True
        )
        if plan.alike and not laid:
            done.discard(key)  # its images under the square's own symmetry may still find room
        if not laid:
            canvas.add("sprigs", parts.diamond(piece, (int(cx), int(cy)), size), 2, plan.most_solid)


INNER: dict[str, Callable[[Canvas, Random, Plan], None]] = {
    "medallion": medallion,
    "rays": rays,
    "rungs": rungs,
    "bar frame": bar_frame,
    "nested": nested,
    "chevrons": chevrons,
    "pinwheel": pinwheel,
    "sprigs": sprigs,
}


def _each(canvas: Canvas, name: str, places: BoolArray, plan: Plan, air: int = 2) -> bool:
    """Lay a part in all the places a square gives it if that can be, else in those of the symmetry."""
    if plan.alike and canvas.add(name, places, air, plan.most_solid, alike=True):
        return True
    return canvas.add(name, places, air, plan.most_solid)


def _room_at(canvas: Canvas, x: float, y: float) -> float:
    """Units from a point to the nearest block or kept-off place."""
    taken = canvas.piece.pinholes[canvas.block | canvas.keep_off]
    if not len(taken):
        return float(np.abs(canvas.piece.pinholes).max())
    return float(np.abs(taken - np.array([x, y])).sum(axis=1).min())


# --- the plans -------------------------------------------------------------------------------------------

# name: borders it may take, then the inner parts in the order of laying.
PLANS: dict[str, tuple[tuple[str, ...], tuple[str, ...]]] = {
    "border trail": (("trail", "double trail"), ("medallion", "sprigs")),
    "zigzag trail": (("zigzag",), ("sprigs", "medallion")),
    "nested squares": (("trail", "diamonds"), ("nested", "medallion")),
    "corner angles": (("angles",), ("rungs", "medallion", "sprigs")),
    "radiating bars": (("trail", "zigzag", "diamonds"), ("rays", "medallion", "sprigs")),
    "rows of diamonds": (("diamonds",), ("bar frame", "medallion", "sprigs")),
    "chevrons": (("trail", "diamonds", "open"), ("chevrons", "rungs", "medallion")),
    "pinwheel": (("trail", "zigzag"), ("pinwheel", "medallion", "sprigs")),
    "stamp on open ground": (("trail", "zigzag", "diamonds"), ()),
    "bar frame": (("trail", "angles", "open"), ("bar frame", "medallion", "sprigs")),
}


def draw_plan(
    rng: Random, job: int, half_size: int, symmetry: str, narrowest: int, solid: tuple[float, float], most_border: int
) -> Plan:
    """Choose a composition and its proportions; its border leaves the stamp the room it needs.

    Jobs take the plans in turn, so that a sheet shows them all.
    """
    names = [name for name in PLANS if name != "pinwheel" or symmetry in ("quarter-turn", "half-turn", "none")]
    name = names[(job + int(rng.integers(0, 2))) % len(names)]
    borders, inner = PLANS[name]
    low, high = solid
    return Plan(
        name=name,
        border=draw_border(rng, half_size, narrowest, borders, most_border),
        inner=inner,
        size=max(narrowest, int(rng.integers(2, 5))),
        alike=bool(rng.random() < 0.75),
        most_solid=low + (high - low) * float(rng.uniform(0.25, 0.75)),
    )


def compose(canvas: Canvas, plan: Plan, rng: Random) -> None:
    """Lay the border and the inner parts of a plan on a canvas that holds the stamp."""
    lay_border(canvas, plan.border, rng, plan)
    for name in plan.inner:
        INNER[name](canvas, rng, plan)


def top_up(canvas: Canvas, plan: Plan, rng: Random, least_solid: float) -> None:
    """Lay further parts until the least share of solid is reached, or nothing more fits."""
    for name in ("bar frame", "medallion", "rungs", "sprigs"):
        if canvas.solid >= least_solid:
            return
        INNER[name](canvas, rng, plan)

"""Squares made by hand for the tests of the check and the flow, out of diamonds, bars, trails and fields.

Everything here is built from coordinates alone and uses nothing that the check uses.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from typing import Any

from constraints import forms
from constraints.design import Block, Design, FieldFilling, Print

Points = set[tuple[int, int]]
Matrix = tuple[tuple[int, int], tuple[int, int]]

SAME: Matrix = ((1, 0), (0, 1))
QUARTER: Matrix = ((0, -1), (1, 0))
HALF: Matrix = ((-1, 0), (0, -1))
BACK: Matrix = ((0, 1), (-1, 0))
LEFT_RIGHT: Matrix = ((-1, 0), (0, 1))
TOP_BOTTOM: Matrix = ((1, 0), (0, -1))
FALLING: Matrix = ((0, 1), (1, 0))
RISING: Matrix = ((0, -1), (-1, 0))
TURNS = (SAME, QUARTER, HALF, BACK)
UPRIGHT = (SAME, HALF, LEFT_RIGHT, TOP_BOTTOM)
ALL_EIGHT = (*TURNS, LEFT_RIGHT, TOP_BOTTOM, FALLING, RISING)

# Generous limits: what a test is not about should not stand in its way.
BRIEF: dict[str, Any] = {
    "pairs": 80,
    "narrowest": 2,
    "widest": 8,
    "narrowest_ground": 2,
    "margin": 2,
    "splits": 0,
    "solid": [0.0, 0.6],
    "stitches": ["cloth", "half", "whole", "rose", "spider", "double-ground"],
}


def in_order(points: Iterable[tuple[int, int]]) -> tuple[tuple[int, int], ...]:
    return tuple(sorted(points, key=lambda p: (p[1], p[0])))


def moved(point: tuple[float, float], matrix: Matrix) -> tuple[Any, Any]:
    (a, b), (c, d) = matrix
    x, y = point
    return (a * x + b * y, c * x + d * y)


def bar(top: tuple[int, int], right: int, left: int) -> Points:
    """A block of right x left pinholes, counted down-right and down-left from its top pinhole."""
    x, y = top
    return {(x + i - j, y + i + j) for i in range(right) for j in range(left)}


def diamond(top: tuple[int, int], side: int) -> Points:
    return bar(top, side, side)


def border_trail(half_size: int, margin: int, width: int) -> Points:
    """The pinholes of a closed trail along the edge: `width` lines of pinholes, `margin` from the edge."""
    outer = half_size - margin
    span = range(-outer, outer + 1)
    return {(x, y) for x in span for y in span if (x + y) % 2 and outer - width < max(abs(x), abs(y)) <= outer}


def trail_round(width: int, first: int, before: str, after: str, more: int = 2) -> Points:
    """A trail from the left to the bottom quarter, so many pinholes wide: the innermost lies `first` lines from the
    centre where it goes over the corner line. before, after: whether it comes to the line and goes on "across" it or
    "along" the edge; for so many lines more than its rows slant."""
    found = set()
    for side, way in enumerate((before, after)):
        reach = (2 * width - 3 if way == "across" else 2 * (width // 2) - 1) + more
        for back in range(reach + 1):
            for line in range(width):
                out = first + line - (0 if way == "across" else back)
                s = back if side else -1 - back
                found.add((s - out, s + out + 1))
    return found


def spread(points: Points, matrices: Iterable[Matrix]) -> Points:
    return {moved(p, m) for p in points for m in matrices}


def blocks(stitch: str, points: Points) -> tuple[Block, ...]:
    """The points as blocks, one for each connected part."""
    left = set(points)
    found = []
    while left:
        part, edge = set(), [min(left)]
        while edge:
            x, y = edge.pop()
            if (x, y) in left:
                left.remove((x, y))
                part.add((x, y))
                edge += [(x + dx, y + dy) for dx in (-1, 1) for dy in (-1, 1)]
        found.append(Block(stitch, in_order(part)))
    return tuple(found)


def roses(points: Points) -> FieldFilling:
    return FieldFilling("rose", in_order(points))


def spiders(points: Points, legs: int = 8) -> FieldFilling:
    return FieldFilling(f"spider-{legs}", in_order(points))


def double(points: Points) -> FieldFilling:
    return FieldFilling("double-ground", in_order(points))


def made(
    half_size: int,
    *parts: Block | FieldFilling,
    worked: str = "round",
    symmetry: str = "none",
    passives: int = 1,
    brief: dict[str, Any] | None = None,
    stamp: Print | None = None,
    **more: Any,
) -> Design:
    """A square of the given blocks and fillings; pairs by the trade's count (round N + 1 + p)."""
    pairs = half_size + 1 + passives if worked == "round" else 2 * (half_size + 1 + passives)
    design = Design(
        number=1,
        form=forms.Square(half_size),
        pitch_mm=5.0,
        worked=worked,
        symmetry=symmetry,
        passives=passives,
        pairs=pairs,
        splits=0,
        blocks=tuple(part for part in parts if isinstance(part, Block)),
        fillings=tuple(part for part in parts if isinstance(part, FieldFilling)),
        prints=() if stamp is None else (stamp,),
        seed=1,
        brief=BRIEF if brief is None else {**BRIEF, **brief},
    )
    return replace(design, **more)


def diamond_print(centre: tuple[float, float], radius: float, match: float = 1.0, **more: Any) -> Print:
    """A stamp in the shape of a diamond; with radius n it covers the cells of n x n pinholes exactly."""
    x, y = centre
    ring = ((x, y - radius), (x + radius, y), (x, y + radius), (x - radius, y))
    return Print("diamond", float(radius), 0.0, (ring,), match, **more)


def turned(design: Design, matrix: Matrix) -> Design:
    """The square, its fillings and its stamp turned or mirrored."""
    prints = tuple(
        replace(each, outlines=tuple(tuple(moved(p, matrix) for p in ring) for ring in each.outlines))
        for each in design.prints
    )

    def there(points: Iterable[tuple[int, int]]) -> tuple[tuple[int, int], ...]:
        return in_order(moved(p, matrix) for p in points)

    return replace(
        design,
        blocks=tuple(replace(block, pinholes=there(block.pinholes)) for block in design.blocks),
        fillings=tuple(replace(each, places=there(each.places)) for each in design.fillings),
        eyes=there(design.eyes),
        prints=prints,
    )


# --- squares that can be worked --------------------------------------------------------------------------


def ring_of_diamonds() -> Design:
    """A diamond in the middle of each quarter, carrying the stamp: full symmetry, worked round."""
    shape = spread(diamond((-6, -3), 4), TURNS)
    return made(12, *blocks("cloth", shape), symmetry="full", stamp=diamond_print((-6, 0), 4))


def trail_and_spiders() -> Design:
    """A closed trail along the edge, spiders with eight legs inside it, clear of the corner lines."""
    legs = spread({(-7, 3)}, ALL_EIGHT)
    return made(14, *blocks("half", border_trail(14, 3, 3)), spiders(legs), symmetry="full")


def rose_field(half_size: int = 13) -> Design:
    """Rose ground all over: round the centre both alignments are odd, so no unit lies on a corner line."""
    odd = range(-half_size | 1, half_size + 1, 2)
    units = {(u - v, u + v) for u in odd for v in odd}
    units = {(x, y) for x, y in units if max(abs(x), abs(y)) <= half_size - 2}
    return made(half_size, roses(units), symmetry="full")


def worked_across() -> Design:
    """Bars and diamonds worked across, with large spiders between them and a field of double ground."""
    shape = spread(diamond((-8, -3), 4) | bar((0, -11), 3, 3), (SAME, LEFT_RIGHT))
    large = spiders({(0, 0)}, 16)
    return made(13, *blocks("whole", shape), large, worked="across", symmetry="upright-mirror")


def doubled() -> Design:
    """A closed trail, double ground in the field inside it, plain ground outside."""
    trail = border_trail(12, 3, 3)
    within = {(x, y) for x in range(-6, 7) for y in range(-6, 7) if (x + y) % 2}
    return made(12, *blocks("cloth", trail), double(within), symmetry="full")


def reversed_print() -> Design:
    """The stamp left open in a cloth block: one split above the opening and one merge below it."""
    opening = diamond((-11, -2), 3)
    shape = diamond((-11, -8), 9) - opening
    return made(
        22,
        *blocks("cloth", shape),
        splits=2,
        stamp=diamond_print((-11, 0), 3, reverse=True),
        brief={"splits": 2, "widest": 9},
    )


GOOD: dict[str, Design] = {
    "smallest": made(1),
    "plain round": made(5, symmetry="full"),
    "plain across": made(4, worked="across", symmetry="quarter-turn"),
    "ring of diamonds": ring_of_diamonds(),
    "trail and spiders": trail_and_spiders(),
    "rose field": rose_field(),
    "worked across": worked_across(),
    "doubled": doubled(),
    "reversed print": reversed_print(),
}

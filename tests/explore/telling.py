"""Telling squares apart from their files alone: nothing here uses the project's code but the file's text."""

from __future__ import annotations

import json
from itertools import combinations

from constraints.design import Design
from constraints.design_file import to_text

SIDES = {8: 2, 12: 3, 16: 4}
Kinds = dict[tuple[int, int], str]


def kinds(design: Design) -> tuple[int, Kinds]:
    """Half-size, and for every pinhole in a block, a figure or a ground of its own what it lies in."""
    data = json.loads(to_text(design))
    found: Kinds = {}
    for block in data["blocks"]:
        found.update(((x, y), "block") for x, y in block["pinholes"])
    for each in data["fillings"]:
        kind = each["filling"]
        if "pinholes" in each:
            found.update(((x, y), kind) for x, y in each["pinholes"] if (x, y) not in found)
            continue
        side = SIDES[each["legs"]] if "legs" in each else 2
        for cx, cy in each["centres"] if "legs" in each else each["holes"]:
            for dx in range(1 - side, side):
                for dy in range(1 - side, side):
                    if abs(dx) + abs(dy) < side and (cx + dx + cy + dy) % 2:
                        found[cx + dx, cy + dy] = kind
    return data["half_size"], found


def difference(one: Design, other: Design) -> float:
    """Least share of the smaller square's pinholes that disagree, centre on centre, over its turns and reflections:
    the eight if both are worked round, else those that leave the upright upright."""
    (size, first), (larger, second) = sorted((kinds(one), kinds(other)), key=lambda each: each[0])
    second = {place: kind for place, kind in second.items() if max(map(abs, place)) <= size < larger or size == larger}
    every = one.worked == other.worked == "round"
    shares = []
    for flip in (1, -1):
        for turn in range(0, 4, 1 if every else 2):
            moved = {_turned((flip * x, y), turn): kind for (x, y), kind in first.items()}
            unlike = sum(moved.get(place) != second.get(place) for place in moved.keys() | second.keys())
            shares.append(unlike / (2 * size * (size + 1)))
    return min(shares)


def least_difference(designs: list[Design]) -> float:
    """The least difference of any two, 1 if there are fewer."""
    return min((difference(*pair) for pair in combinations(designs, 2)), default=1.0)


def _turned(place: tuple[int, int], times: int) -> tuple[int, int]:
    for _ in range(times):
        place = (-place[1], place[0])
    return place

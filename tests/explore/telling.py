"""Telling squares apart from their files alone: nothing here uses the project's code but the file's text."""

from __future__ import annotations

import json
from itertools import combinations

from constraints.square import Square
from constraints.square_file import to_text

SIDES = {8: 2, 12: 3, 16: 4}
Kinds = dict[tuple[int, int], str]


def kinds(square: Square) -> tuple[int, Kinds]:
    """Half-size, and for every pinhole in a block or unit what it lies in."""
    data = json.loads(to_text(square))
    found: Kinds = {}
    for block in data["blocks"]:
        found.update(((x, y), "block") for x, y in block["pinholes"])
    for each in data["fillings"]:
        if each["filling"] == "double torchon ground":
            continue
        side = SIDES[each["legs"]] if "legs" in each else 2
        kind = "spider" if "legs" in each else "rose"
        for cx, cy in each["holes"] if kind == "rose" else each["centres"]:
            for dx in range(1 - side, side):
                for dy in range(1 - side, side):
                    if abs(dx) + abs(dy) < side and (cx + dx + cy + dy) % 2:
                        found[cx + dx, cy + dy] = kind
    return data["half_size"], found


def difference(one: Square, other: Square) -> float:
    """Least share of pinholes that disagree, over the eight turns and reflections of one of the squares."""
    size, first = kinds(one)
    other_size, second = kinds(other)
    if size != other_size:
        return 1.0
    shares = []
    for flip in (1, -1):
        for turn in range(4):
            moved = {_turned((flip * x, y), turn): kind for (x, y), kind in first.items()}
            unlike = sum(moved.get(place) != second.get(place) for place in moved.keys() | second.keys())
            shares.append(unlike / (2 * size * (size + 1)))
    return min(shares)


def least_difference(squares: list[Square]) -> float:
    """The least difference of any two, 1 if there are fewer."""
    return min((difference(*pair) for pair in combinations(squares, 2)), default=1.0)


def _turned(place: tuple[int, int], times: int) -> tuple[int, int]:
    for _ in range(times):
        place = (-place[1], place[0])
    return place

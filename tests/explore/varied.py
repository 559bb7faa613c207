"""Varied squares read from their files alone: nothing here uses the project's code."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

Point = tuple[int, int]
Data = dict[str, Any]
_SIDES = {8: 2, 12: 3, 16: 4}


def data_of(path: Path) -> Data:
    found: Data = json.loads(path.read_text(encoding="utf-8"))
    return found


def pinholes(data: Data) -> list[Point]:
    """Of every form, from its measures alone; x + y is odd on a square and a strip, and opposite to A + B of others."""
    if data.get("form") == "strip":
        rows = data["rows"] * data["repeats"]
        return [(x, y) for y in range(rows) for x in range(data["columns"]) if (x + y) % 2]
    wide, high = data.get("half_width", data.get("half_size")), data.get("half_height", data.get("half_size"))
    odd = 1 if "half_size" in data else (wide + high + 1) % 2
    points = [(x, y) for y in range(-high, high + 1) for x in range(-wide, wide + 1) if (x + y) % 2 == odd]
    band = data.get("band", max(wide, high))
    return [(x, y) for x, y in points if min(wide - abs(x), high - abs(y)) <= band]


def units(data: Data) -> dict[Point, str]:
    """For every pinhole in a rose or spider which one it is and where its middle lies."""
    found: dict[Point, str] = {}
    for each in data["fillings"]:
        if each["filling"] == "double torchon ground":
            continue
        side = _SIDES[each["legs"]] if "legs" in each else 2
        name = f"spider {each['legs']}" if "legs" in each else "rose"
        for cx, cy in each.get("centres", each.get("holes")):
            for dx in range(1 - side, side):
                for dy in range(1 - side, side):
                    if abs(dx) + abs(dy) < side and (dx + dy + side) % 2:
                        found[cx + dx, cy + dy] = f"{name} at {cx},{cy}"
    return found


def exact(data: Data) -> dict[Point, str]:
    """Everything about every pinhole: the stitch of its block, its unit, double ground, or plain ground."""
    found = dict.fromkeys(pinholes(data), "plain")
    for each in data["fillings"]:
        if each["filling"] == "double torchon ground":
            found.update(((x, y), "double") for x, y in each["pinholes"])
    found.update(units(data))
    for block in data["blocks"]:
        found.update(((x, y), f"block {block['stitch']}") for x, y in block["pinholes"])
    return found


def kinds(data: Data) -> dict[Point, str]:
    """The first word of the same: stitch, size and place of units play no part."""
    return {point: words.split(" ")[0] for point, words in exact(data).items()}


def changed(one: Data, other: Data) -> float:
    """The share of pinholes worked otherwise, each compared with the one at its place."""
    first, second = kinds(one), kinds(other)
    return sum(first[point] != second[point] for point in first) / len(first)


def least_changed(one: Data, other: Data) -> float:
    """The least such share over the eight turns and reflections of one of them."""
    first, second = kinds(one), kinds(other)
    shares = []
    for a, b, c, d in ((1, 0, 0, 1), (0, -1, 1, 0), (-1, 0, 0, -1), (0, 1, -1, 0)):
        for flip in (1, -1):
            turned = {(a * flip * x + b * y, c * flip * x + d * y): kind for (x, y), kind in first.items()}
            shares.append(sum(turned[point] != second[point] for point in second) / len(second))
    return min(shares)


def blocks(data: Data) -> set[Point]:
    return {(x, y) for block in data["blocks"] for x, y in block["pinholes"]}


def components(points: set[Point]) -> list[set[Point]]:
    """Points joined by neighbour steps."""
    left, found = set(points), []
    while left:
        front = [left.pop()]
        whole = set(front)
        while front:
            x, y = front.pop()
            for beside in ((x + 1, y + 1), (x + 1, y - 1), (x - 1, y + 1), (x - 1, y - 1)):
                if beside in left:
                    left.remove(beside)
                    whole.add(beside)
                    front.append(beside)
        found.append(whole)
    return found


def width(points: set[Point]) -> int:
    """Side of the largest diamond of pinholes within the points."""
    size = 0
    while any(
        all((x + i - j, y + i + j) in points for i in range(size + 1) for j in range(size + 1)) for x, y in points
    ):
        size += 1
    return size

"""Small squares for series to be tried on, and what their files say, read without any code of the project."""

from __future__ import annotations

import json
from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import Any

from constraints import forms
from constraints.brief import Brief
from constraints.design import Block, Design, FieldFilling, Print
from constraints.design_file import to_text

Point = tuple[int, int]
Shape = Callable[[int, int], bool]
SIDES = {0: 2, 8: 2, 12: 3, 16: 4}


def hand_made(
    half_size: int,
    blocks: Sequence[tuple[str, Shape]] = (),
    *,
    number: int = 1,
    symmetry: str = "full",
    roses: Sequence[Point] = (),
    spiders: Sequence[Point] = (),
    double: Sequence[Point] = (),
    printed: Print | None = None,
) -> Design:
    """A square whose blocks are the connected parts of the shapes; nobody asks whether it can be worked."""
    found = [part for stitch, shape in blocks for part in _parts(half_size, stitch, shape)]
    fillings = [FieldFilling("rose", tuple(roses))] if roses else []
    fillings += [FieldFilling("spider-8", tuple(spiders))] if spiders else []
    fillings += [FieldFilling("double-ground", tuple(double))] if double else []
    return Design(
        number=number, form=forms.Square(half_size), pitch_mm=5.0, worked="round", symmetry=symmetry, passives=1,
        pairs=half_size + 2, splits=0, blocks=tuple(found), fillings=tuple(fillings), seed=1,
        prints=() if printed is None else (printed,),
    )  # fmt: skip


def grid(half_size: int) -> list[Point]:
    """The pinholes of a design: |x| and |y| up to its half-size, x + y odd."""
    span = range(-half_size, half_size + 1)
    return [(x, y) for y in span for x in span if (x + y) % 2]


def _parts(half_size: int, stitch: str, shape: Shape) -> list[Block]:
    left, parts = {point for point in grid(half_size) if shape(*point)}, []
    while left:
        part, waiting = set[Point](), [min(left)]
        while waiting:
            x, y = waiting.pop()
            if (x, y) in left:
                left.remove((x, y))
                part.add((x, y))
                waiting += [(x + 1, y + 1), (x + 1, y - 1), (x - 1, y + 1), (x - 1, y - 1)]
        parts.append(Block(stitch, tuple(sorted(part, key=lambda p: (p[1], p[0])))))
    return parts


def ring(outer: int, inner: int) -> Shape:
    """Round the centre, its corners cut by one pinhole, so that it is as wide as elsewhere on either side of them."""
    return lambda x, y: (inner <= max(abs(x), abs(y)) <= outer) & (abs(x) + abs(y) < 2 * outer - 1)


def diamond(cx: int, cy: int, side: int) -> Shape:
    return lambda x, y: abs(x - cx) + abs(y - cy) < side


def four(cx: int, cy: int, side: int) -> Shape:
    """A diamond and its images under quarter turns."""
    places = [(cx, cy), (-cy, cx), (-cx, -cy), (cy, -cx)]
    return lambda x, y: any(diamond(a, b, side)(x, y) for a, b in places)


def tulip(size: float = 6.0, turn: float = 45.0, reverse: bool = False) -> Print:
    return Print("tulip", size, turn, (), 0.8, reverse)


# --- from the file's text alone -----------------------------------------------------------------------------


def worked(design: Design) -> dict[Point, str]:
    """How each pinhole is worked, a figure with its place: from the JSON text."""
    data = json.loads(to_text(design))
    found = dict.fromkeys(grid(data["half_size"]), "plain")
    for each in data["fillings"]:
        for cx, cy in each.get("holes", each.get("centres", [])):
            side = SIDES[each.get("legs", 0)]
            for dx in range(1 - side, side):
                for dy in range(1 - side, side):
                    if abs(dx) + abs(dy) < side and (cx + dx, cy + dy) in found:
                        found[cx + dx, cy + dy] = f"{each['filling']} {each.get('legs')} {cx} {cy}"
        found.update(dict.fromkeys(map(tuple, each.get("pinholes", [])), each["filling"]))
    for block in data["blocks"]:
        found.update(dict.fromkeys(map(tuple, block["pinholes"]), block["stitch"]))
    return found


def kinds(design: Design) -> dict[Point, str]:
    """What each pinhole is for telling squares apart: block, rose, spider, double ground or plain ground."""
    words = {"rose ground": "rose", "spider": "spider", "double": "double"}
    words.update(dict.fromkeys(("cloth", "half", "whole"), "block"))
    return {
        point: next((word for start, word in words.items() if name.startswith(start)), "open")
        for point, name in worked(design).items()
    }


def contrast(one: Design, other: Design) -> float:
    """The least share of the smaller square's pinholes that differ, over the eight turns and reflections of it."""
    small, large = sorted((one, other), key=lambda each: each.half_size)
    first, second = kinds(small), kinds(large)
    shares = []
    for a, b, c, d in ((1, 0, 0, 1), (0, -1, 1, 0), (-1, 0, 0, -1), (0, 1, -1, 0), (-1, 0, 0, 1), (1, 0, 0, -1),
                       (0, 1, 1, 0), (0, -1, -1, 0)):  # fmt: skip
        unlike = sum(name != second[a * x + b * y, c * x + d * y] for (x, y), name in first.items())
        shares.append(unlike / len(first))
    return min(shares)


def shares(design: Design, family: dict[str, Any], exemplar: Design) -> bool:
    """Whether a square has what a series says its family shares, held against the chosen square."""
    here, there = worked(design), worked(exemplar)
    share, half = family["share"], exemplar.half_size
    if share == "stamp":
        found = json.loads(to_text(design))["prints"]
        pairs = zip(found, family["prints"], strict=True)
        return all(one[key] == two[key] for one, two in pairs for key in ("name", "size", "turn_degrees", "reverse"))
    if share == "border":
        kept = [p for p in there if half - max(map(abs, p)) <= family["depth"]]
        return design.half_size == half and len(kept) == family["pinholes"] and all(here[p] == there[p] for p in kept)
    if share == "centre":
        kept = [p for p in there if max(map(abs, p)) <= family["reach"]]
        return len(kept) == family["pinholes"] and all(here[p] == there[p] for p in kept)
    trail = {(x, y) for x, y in family["pinholes"]}
    in_blocks = {"cloth", "half", "whole"}
    beside = {(x + dx, y + dy) for x, y in trail for dx in (1, -1) for dy in (1, -1)} - trail
    return all(here[p] == family["stitch"] for p in trail) and not any(here[p] in in_blocks for p in beside)


# A brief and two squares made under it, for series of them.
BRIEF = Brief.of(
    stamp="", pairs=16, half_size=(14, 14), match=0.65, solid=(0.1, 0.6), stitches=("cloth", "half", "rose", "spider")
)
# A trail round a diamond of four: it can be worked, and much may lie between.
MODEL = replace(hand_made(14, [("cloth", ring(11, 8)), ("half", diamond(0, 0, 4))], number=1), brief=BRIEF.rules.told())
# Roses on the ground of the model, where its trail leaves room.
ROSES = [(FieldFilling("rose", places),) for places in (
    ((0, 4), (4, 0), (0, -4), (-4, 0)), ((0, 4),), ((4, 0), (-4, 0)), ((0, 4), (4, 0), (0, -4)), ((4, 0),),
)]  # fmt: skip
OTHER = replace(
    hand_made(14, [("half", four(8, 0, 4)), ("cloth", diamond(0, 0, 4))], number=2), brief=BRIEF.rules.told()
)

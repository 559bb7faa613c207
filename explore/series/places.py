"""How every pinhole of a square is worked, by its coordinates: what two squares of a family have in common."""

from __future__ import annotations

from collections.abc import Mapping

from constraints.design import Design
from constraints.lattice import Point
from constraints.layout import lay
from constraints.stitches import DOUBLE

# In plain ground; and in a trail's surroundings, where only blocks are shut out.
GROUND, NO_BLOCK = "ground", "no block"


def worked_at(design: Design) -> dict[Point, str]:
    """Pinhole (x, y) to how it is worked.

    A block's stitch; a figure's name with the centre it belongs to, such as "spider-8 at 0,-4"; "double-ground";
    or "ground".
    """
    layout = lay(design)
    named = [GROUND] * len(layout.piece)
    for i in range(len(named)):
        if layout.double[i]:
            named[i] = DOUBLE
        if layout.inside[i]:
            named[i] = design.blocks[layout.block[i]].stitch
    for placed in layout.units:
        for (x, y), places in zip(placed.centres.tolist(), placed.places.tolist(), strict=True):
            for i in places:
                named[i] = f"{placed.unit.name} at {x},{y}"
    return {(x, y): name for (x, y), name in zip(layout.piece.pinholes.tolist(), named, strict=True)}


def moved(name: str, matrix: tuple[tuple[int, int], tuple[int, int]]) -> str:
    """How the image of a pinhole so worked is worked: a figure's centre moves along."""
    figure, _, centre = name.partition(" at ")
    if not centre:
        return name
    (a, b), (c, d) = matrix
    x, y = map(int, centre.split(","))
    return f"{figure} at {a * x + b * y},{c * x + d * y}"


def in_block(name: str) -> bool:
    """Whether a pinhole so worked lies in a block."""
    return name in ("cloth", "half", "whole")


def agrees(part: Mapping[Point, str], worked: Mapping[Point, str]) -> bool:
    """Whether a square works every pinhole of the part as the part says."""
    return all(
        point in worked and (not in_block(worked[point]) if name == NO_BLOCK else worked[point] == name)
        for point, name in part.items()
    )

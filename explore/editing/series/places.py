"""How every pinhole of a square is worked, by its coordinates: what two squares of a family have in common."""

from __future__ import annotations

from collections.abc import Mapping

from constraints.design import Design
from constraints.fillings import OF_KIND, UNITS
from constraints.lattice import Point
from constraints.layout import lay
from constraints.places import KINDS, PLAIN, map_places
from constraints.stitches import STITCHES

# In plain ground; and in a trail's surroundings, where only blocks are shut out.
GROUND, NO_BLOCK = "ground", "no block"


def worked_at(design: Design) -> dict[Point, str]:
    """Pinhole (x, y) to how it is worked.

    A block's stitch; a figure's name with the centre it belongs to, such as "... at 0,-4"; a ground's name; "ground".
    """
    layout = lay(design)
    found: dict[Point, str] = {}
    for (x, y), (number, dx, dy) in zip(layout.piece.pinholes.tolist(), map_places(layout).tolist(), strict=True):
        name = GROUND if number == PLAIN else KINDS[number]
        found[x, y] = f"{name} at {x + dx},{y + dy}" if name in UNITS else name
    return found


def filling_of(name: str) -> str | None:
    """The filling of a pinhole so worked, by name; None outside fillings."""
    kind = name.partition(" at ")[0]
    return OF_KIND[kind].name if kind in OF_KIND else None


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
    return name in STITCHES


def agrees(part: Mapping[Point, str], worked: Mapping[Point, str]) -> bool:
    """Whether a square works every pinhole of the part as the part says."""
    return all(
        point in worked and (not in_block(worked[point]) if name == NO_BLOCK else worked[point] == name)
        for point, name in part.items()
    )

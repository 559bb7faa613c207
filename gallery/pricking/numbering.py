"""Numbers beside pinholes, each where it covers nothing."""

from __future__ import annotations

from collections.abc import Sequence

import shapely

from constraints.lattice import FloatArray
from gallery.paper.faces import FIGURE
from gallery.paper.layers import BoxMm, Layer, Words
from gallery.paper.page import MM_PER_POINT, Type

# Types larger than this need not be, smaller than this cannot be read.
LARGEST, SMALLEST = 4.2, 2.8
_CLEAR = 0.12  # mm between a number and all else


def size_for(most: int, pitch_mm: float) -> float:
    """The size in points at which numbers up to `most` fit between pins of a pitch; below SMALLEST they do not."""
    wide = Type(10).width("8" * len(str(most))) / 10
    # Below a pin, between the two pins of the next row: the widest place that is always there.
    return min(LARGEST, 0.74 * pitch_mm / wide, 0.24 * pitch_mm / (FIGURE * MM_PER_POINT))


def beside(
    places: FloatArray,
    numbers: Sequence[int],
    pitch_mm: float,
    dot: float,
    paper: shapely.Polygon,
    drawn: Sequence[FloatArray] = (),
) -> Layer:
    """The layer of numbers. places: (n, 2) mm. dot: the widest dot, mm. paper: they stay on it if they can. drawn:
    lines (2, 2) that they keep off."""
    shapely.prepare(paper)
    style = Type(size_for(max(numbers, default=1), pitch_mm), colour="#4d535d")
    high = FIGURE * style.size * MM_PER_POINT
    obstacles = [*shapely.buffer(shapely.points(places), dot / 2), *map(shapely.LineString, drawn)]
    tree = shapely.STRtree(obstacles)
    figure = style.width("8")  # all are as wide
    taken: dict[tuple[int, int], list[BoxMm]] = {}
    found = []
    for (x, y), number in zip(places.tolist(), numbers, strict=True):
        wide = figure * len(str(number))
        off = dot / 2 + 2 * _CLEAR
        offers = [
            (x - wide / 2, y + off),
            (x - wide / 2, y - off - high),
            (x + off, y - high / 2),
            (x - off - wide, y - high / 2),
            (x + 0.5 * off, y + off),
            (x - 0.5 * off - wide, y + off),
            (x + 0.5 * off, y - off - high),
            (x - 0.5 * off - wide, y - off - high),
        ]
        boxes = [(a, b, a + wide, b + high) for a, b in offers]
        fits = (each for each in boxes if paper.covers(shapely.box(*each)) and _free(each, tree, taken, pitch_mm))
        box = next(fits, boxes[0])  # below a pin no other pin is ever covered
        taken.setdefault((round(x / pitch_mm), round(y / pitch_mm)), []).append(box)
        found.append(Words(box[0], box[3], str(number), style))
    return Layer("numbers", tuple(found))


def _free(box: BoxMm, tree: shapely.STRtree, taken: dict[tuple[int, int], list[BoxMm]], pitch_mm: float) -> bool:
    a, b, c, d = box[0] - _CLEAR, box[1] - _CLEAR, box[2] + _CLEAR, box[3] + _CLEAR
    if len(tree.query(shapely.box(a, b, c, d), predicate="intersects")):
        return False
    across, down = round((a + c) / 2 / pitch_mm), round((b + d) / 2 / pitch_mm)
    near = (each for i in (-1, 0, 1) for j in (-1, 0, 1) for each in taken.get((across + i, down + j), ()))
    return not any(p < c and a < r and q < d and b < s for p, q, r, s in near)

"""Drawings larger than a page: cut into tiles that overlap, with crosses to lay them by, and a small map of the pages.

Knows nothing of what is drawn. All measures are mm; a drawing has its own top left corner at (0, 0).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil

import numpy as np
import shapely

from constraints.lattice import FloatArray
from gallery.paper.cutting import cut
from gallery.paper.layers import BoxMm, Layer, Lines, Words, gathered, moved
from gallery.paper.page import PAPERS, Type
from gallery.paper.paths import lines, rings

# Width and height of paper, upright: ISO 216, and letter of ANSI/ASME Y14.1 (8.5 x 11 in).
SIZES = {**PAPERS, "letter": (215.9, 279.4)}
# How far neighbouring tiles lie one on the other, and the half length of a cross's arms.
OVERLAP, ARM = 10.0, 2.0
_FRAME, _THIN = "#9aa0aa", 0.12


@dataclass(frozen=True)
class Tiling:
    """A drawing in rows and columns of windows, all of one size. width, height: of a window."""

    rows: int
    columns: int
    width: float
    height: float

    def __len__(self) -> int:
        return self.rows * self.columns

    def window(self, row: int, column: int) -> BoxMm:
        """Left, top, right and bottom of a window in the drawing; rows and columns count from 0."""
        left, top = column * (self.width - OVERLAP), row * (self.height - OVERLAP)
        return left, top, left + self.width, top + self.height

    @property
    def windows(self) -> list[BoxMm]:
        """All windows, row by row."""
        return [self.window(row, column) for row in range(self.rows) for column in range(self.columns)]


def tiling(width: float, height: float, room: tuple[float, float]) -> Tiling:
    """The fewest windows of at most `room` that hold a drawing, evenly spread."""
    columns, rows = (
        1 if whole <= most else ceil((whole - OVERLAP) / (most - OVERLAP))
        for whole, most in zip((width, height), room, strict=True)
    )
    return Tiling(rows, columns, (width + (columns - 1) * OVERLAP) / columns, (height + (rows - 1) * OVERLAP) / rows)


def crosses(tiled: Tiling, keep_off: FloatArray) -> FloatArray:
    """(n, 2) where crosses stand in the overlaps, two for each pair of neighbouring tiles, as far from the points
    of `keep_off` (m, 2) as the overlap allows."""
    wanted: list[tuple[float, float]] = []
    for row in range(tiled.rows):
        for column in range(tiled.columns):
            left, top, right, bottom = tiled.window(row, column)
            if column + 1 < tiled.columns:
                wanted += [(right - OVERLAP / 2, top + share * tiled.height) for share in (0.2, 0.8)]
            if row + 1 < tiled.rows:
                wanted += [(left + share * tiled.width, bottom - OVERLAP / 2) for share in (0.2, 0.8)]
    return np.array([_clear(np.array(each), keep_off) for each in wanted]).reshape(-1, 2)


def _clear(wanted: FloatArray, keep_off: FloatArray) -> FloatArray:
    """The place near the one wanted that is clear of all points; arms stay within the overlap."""
    reach = OVERLAP / 2 - ARM
    steps = np.linspace(-reach, reach, 25)
    offers: FloatArray = wanted + np.stack(np.meshgrid(steps, steps), axis=-1).reshape(-1, 2)
    near = keep_off[(np.abs(keep_off - wanted) < 2 * OVERLAP).all(axis=1)]
    if not len(near):
        return wanted
    away = np.hypot(*(offers[:, None] - near).transpose(2, 0, 1)).min(axis=1)
    # What is clear is clear enough: then the nearest to the place wanted.
    enough = away >= min(float(away.max()), ARM + 1.0) - 1e-9
    back = np.abs(offers - wanted).sum(axis=1)
    place: FloatArray = offers[np.argmin(np.where(enough, back, np.inf))]
    return place


def cross_layer(places: FloatArray, name: str = "crosses") -> Layer:
    """Upright crosses at places (n, 2)."""
    arms = np.array([[[-ARM, 0.0], [ARM, 0.0]], [[0.0, -ARM], [0.0, ARM]]])
    path = lines((places[:, None, None] + arms).reshape(-1, 2, 2))
    return Layer(name, (Lines(path, _THIN),)) if len(places) else Layer(name, ())


def tile(layers: Sequence[Layer], window: BoxMm, at: tuple[float, float]) -> tuple[Layer, ...]:
    """What of a drawing lies in a window, with the window's frame, its corner brought to `at` on the page."""
    left, top, right, bottom = window
    corners = np.array([[left, top], [right, top], [right, bottom], [left, bottom]])
    frame = Layer("frame", (Lines(rings([corners]), _THIN, _FRAME),))
    return moved(gathered([frame, *cut(layers, shapely.box(*window))]), at[0] - left, at[1] - top)


def page_map(
    tiled: Tiling, numbers: Sequence[int], outline: FloatArray, room: tuple[float, float]
) -> tuple[tuple[Layer, ...], float, float]:
    """A small map: the drawing's outline (n, 2), every window with the number of its page (0 for a window that has
    none), at most as large as `room`; and its width and height."""
    _, _, right, bottom = tiled.window(tiled.rows - 1, tiled.columns - 1)
    scale = min(room[0] / right, room[1] / bottom)
    style = Type(min(16.0, 2.0 * scale * min(tiled.width, tiled.height) / 2))
    marks: list[Lines | Words] = [Lines(rings([outline * scale]), 0.4)]
    for number, window in zip(numbers, tiled.windows, strict=True):
        if number:
            x0, y0, x1, y1 = (each * scale for each in window)
            marks.append(Lines(rings([np.array([[x0, y0], [x1, y0], [x1, y1], [x0, y1]])]), 0.2, _FRAME))
            middle = shapely.Polygon(outline * scale).intersection(shapely.box(x0, y0, x1, y1)).centroid
            marks.append(Words(middle.x, middle.y + 0.12 * style.size, str(number), style, "center"))
    return (Layer("map", tuple(marks)),), right * scale, bottom * scale

"""What an eye at some distance sees of a print and of the blocks that show it: blurred pictures in the print's own box.

A picture is an array of SIDE x SIDE brightnesses, 0 for the ground to 1 for full cloth. The longer side of the print
takes up all of it but the air round it, so that prints of any size are compared.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from PIL import Image, ImageChops, ImageDraw

from constraints.design import Ring
from constraints.lattice import FloatArray, IntArray

SIDE, AIR = 64, 8
# Samples a side of every pixel of a drawn outline, and of blocks.
_FINE, _SAMPLES = 4, 3
_ASIDE = 1e-6
# How far an eye at 40 cm that takes in a whole print blurs, pitches: one standard deviation.
BLUR = 0.45


@dataclass(frozen=True)
class PrintBox:
    """The box of a print: where its picture lies. centre: of the bounding box; reach: half its longer side."""

    centre: tuple[float, float]
    reach: float

    @property
    def pixel(self) -> float:
        """The side of a pixel in the unit of the outlines."""
        return 2 * self.reach / (SIDE - 2 * AIR)

    @classmethod
    def round(cls, rings: Iterable[Ring]) -> PrintBox:
        """The box round outlines."""
        points = np.array([point for ring in rings for point in ring])
        low, high = points.min(axis=0), points.max(axis=0)
        middle = (low + high) / 2
        return cls((float(middle[0]), float(middle[1])), float((high - low).max() / 2))

    def points(self, samples: int) -> FloatArray:
        """(SIDE * samples, SIDE * samples, 2) points of the picture."""
        number = SIDE * samples
        line = (np.arange(number) + 0.5) / number * SIDE * self.pixel - SIDE / 2 * self.pixel
        return np.stack(np.meshgrid(line + self.centre[0], line + self.centre[1]), axis=2)


def drawn(rings: Iterable[Ring], box: PrintBox) -> FloatArray:
    """Outlines, combined even-odd, as a picture without any blur."""
    number = SIDE * _FINE
    scale = _FINE / box.pixel
    whole = Image.new("1", (number, number))
    for ring in rings:
        one = Image.new("1", (number, number))
        points = (np.array(ring) - box.centre) * scale + number / 2 - 0.5
        ImageDraw.Draw(one).polygon([(float(x), float(y)) for x, y in points], fill=1)
        whole = ImageChops.logical_xor(whole, one)
    return _reduced(np.asarray(whole, dtype=float), _FINE)


def laced(pinholes: IntArray, density: FloatArray, points: FloatArray) -> FloatArray:
    """Blocks as a picture without any blur: of every pinhole, (k, 2) lattice units, its diamond cell in its density.

    density: (k,) from 0 to 1. points: (n, n, 2) those of a box, which may be turned or mirrored, n a multiple of SIDE.
    """
    if not len(pinholes):
        return np.zeros((SIDE, SIDE))
    # Cells of the pinholes are unit squares of the lattice turned by 45 degrees.
    tilted = np.stack([pinholes @ (1, 1), pinholes @ (1, -1)], axis=1)
    first = tilted.min(axis=0) - 2
    number = (tilted - first) // 2
    grid = np.zeros(number.max(axis=0) + 3)
    grid[number[:, 0], number[:, 1]] = density
    spot = np.stack([points @ (1, 1), points @ (1, -1)], axis=2)
    # A spot on a border belongs to the same cell however far the blocks reach.
    cell = np.floor((spot - first + 1 + _ASIDE) / 2).astype(int)
    inside = ((cell >= 0) & (cell < grid.shape)).all(axis=2)
    cell[~inside] = 0
    shown: FloatArray = np.where(inside, grid[cell[..., 0], cell[..., 1]], 0.0)
    return _reduced(shown, points.shape[0] // SIDE)


def blurred(picture: FloatArray, deviation: float) -> FloatArray:
    """A picture as an eye sees it. deviation: of the blur, in pixels."""
    kernel = _kernel(round(deviation, 3))
    seen: FloatArray = kernel @ picture @ kernel.T
    return seen


@lru_cache(maxsize=64)
def _kernel(deviation: float) -> FloatArray:
    """(SIDE, SIDE) the weights of a blur along one side. What is cut off at the border is dark ground."""
    away = np.arange(SIDE)[:, None] - np.arange(SIDE)[None, :]
    weights: FloatArray = np.exp(-0.5 * (away / max(deviation, 0.1)) ** 2)
    weights /= weights[SIDE // 2].sum()
    return weights


def _reduced(picture: FloatArray, times: int) -> FloatArray:
    """Every so many pixels a side as one, their mean."""
    side = picture.shape[0] // times
    reduced: FloatArray = picture.reshape(side, times, side, times).mean(axis=(1, 3))
    return reduced

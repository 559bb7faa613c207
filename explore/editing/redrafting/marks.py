"""Finding what may be a dot in a picture of a pricking: round marks of one size, dark on light or light on dark.

A dot is where the picture curves alike in every direction: the determinant of its second derivatives, taken from
the picture smoothed to the size of the dot (Lindeberg 1998, Feature detection with automatic scale selection).
A guide line curves one way only and a shadow hardly at all, so neither is taken for a dot.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from PIL import Image

from constraints.lattice import FloatArray
from explore.reading.picture import on_paper

# Pixels along the longer side while reading: larger pictures are reduced, small ones enlarged.
FINEST, COARSEST = 1600, 500
# The light is measured in so many blocks along the longer side.
BLOCKS = 16
# Smoothing in pixels; a disc of radius r answers most to r / sqrt(2).
SCALES = tuple(0.8 * 1.25**i for i in range(15))
# Smoothed by so many pixels, a picture is as well seen in half of them.
_COARSE = 3.0
# What a disc of contrast 1 answers at its own scale: 1 / e.
_DISC = 0.368
# The rim of a picture is drawn out by so many pixels before its spectrum is taken.
_PAD = 64
# The faintest dot, as contrast to the card around it, and the most marks that are kept of one size.
FAINTEST, MOST = 0.04, 6000


@dataclass(frozen=True, eq=False)
class RoundMarks:
    """Round marks of one size.

    at: (n, 2) x and y in pixels of the reduced picture. strength: (n,) contrast, 1 for black on white.
    radius: of a dot, in those pixels. light: light marks on dark.
    """

    at: FloatArray
    strength: FloatArray
    radius: float
    light: bool

    def __len__(self) -> int:
        return len(self.at)


@dataclass(frozen=True, eq=False)
class View:
    """A picture as it is read: brightness relative to the brightest around, (height, width); pixels of it for one
    of the picture."""

    shade: FloatArray
    scale: float


def view(image: Image.Image) -> View:
    """The picture in grey, reduced or enlarged for reading, uneven light divided out."""
    longer = max(image.size)
    scale = min(max(longer, COARSEST), FINEST) / longer
    width, height = (max(8, round(side * scale)) for side in image.size)
    resampling = Image.Resampling.BICUBIC if scale > 1 else Image.Resampling.BOX
    grey = np.asarray(on_paper(image).convert("L").resize((width, height), resampling), dtype=np.float64)
    return View(grey / np.maximum(_light(grey), 16.0), scale)


def _light(grey: FloatArray) -> FloatArray:
    """How bright the brightest is around every pixel: card, or pinholes with light behind them."""
    step = max(4, math.ceil(max(grey.shape) / BLOCKS))
    rows, columns = (-(-n // step) for n in grey.shape)
    padded = np.pad(grey, ((0, rows * step - grey.shape[0]), (0, columns * step - grey.shape[1])), mode="edge")
    blocks = padded.reshape(rows, step, columns, step).swapaxes(1, 2).reshape(rows, columns, -1)
    bright = np.quantile(blocks, 0.98, axis=2)
    for _ in range(2):
        around = np.pad(bright, 1, mode="edge")
        bright = np.mean([around[i : i + rows, j : j + columns] for i in range(3) for j in range(3)], axis=0)
    size = (columns * step, rows * step)
    smooth = np.asarray(Image.fromarray(bright.astype(np.float32)).resize(size, Image.Resampling.BILINEAR))
    light: FloatArray = smooth[: grey.shape[0], : grey.shape[1]].astype(np.float64)
    return light


def sized(seen: View) -> Iterator[RoundMarks]:
    """Marks of every size, dark ones and light ones, those that stand out at all."""
    waves, coarse = _waves(seen.shade), 1
    for sigma in SCALES:
        if sigma / coarse >= _COARSE:
            # What is as smooth is as well seen in half the rows and columns, in a quarter of the time.
            waves, coarse = _halved(waves), 2 * coarse
        rows, columns = (-(-side // coarse) for side in seen.shade.shape)
        round_, bright = _curved(waves, sigma / coarse, _PAD // coarse, (rows, columns))
        for light in (False, True):
            found = _peaks(np.where(bright == light, round_, 0.0), sigma / coarse)
            if found is not None:
                yield RoundMarks(found[0] * coarse, found[1], radius=sigma * np.sqrt(2), light=light)


def _halved(waves: np.ndarray) -> np.ndarray:
    """The spectrum of every second row and column of a picture that has no finer detail."""
    quarter = len(waves) // 4
    return np.concatenate([waves[:quarter], waves[-quarter:]])[:, : waves.shape[1] // 2 + 1] / 4


def _waves(values: FloatArray) -> np.ndarray:
    """The spectrum of a picture with its rim drawn out, a little more to a size that is quick."""
    rows, columns = values.shape
    more = [(_PAD, _PAD + (-(n + 2 * _PAD)) % 64) for n in (rows, columns)]
    return np.fft.rfft2(np.pad(values, more, mode="edge"))


def _smoothed(waves: np.ndarray, sigma: float, order: tuple[int, int]) -> FloatArray:
    """The derivative of the given order, down and across, of a picture smoothed by a Gaussian."""
    rows = waves.shape[0]
    columns = 2 * (waves.shape[1] - 1)
    down = 2 * np.pi * np.fft.fftfreq(rows)[:, None]
    across = 2 * np.pi * np.fft.rfftfreq(columns)[None, :]
    along, over = (
        (1j * each) ** n * np.exp(-0.5 * (sigma * each) ** 2) for each, n in zip((down, across), order, strict=True)
    )
    values: FloatArray = np.fft.irfft2(waves * along * over, s=(rows, columns))
    return values


def _curved(waves: np.ndarray, sigma: float, rim: int, shape: tuple[int, int]) -> tuple[FloatArray, np.ndarray]:
    """How round the picture curves at every pixel, as contrast of a disc, and where that is a light one."""
    inside = (slice(rim, rim + shape[0]), slice(rim, rim + shape[1]))
    xx, yy, xy = (_smoothed(waves, sigma, order)[inside] for order in ((0, 2), (2, 0), (1, 1)))
    determinant = xx * yy - xy**2
    strength: FloatArray = sigma**2 * np.sqrt(np.maximum(determinant, 0.0)) / _DISC
    return strength, xx + yy < 0


def _peaks(strength: FloatArray, sigma: float) -> tuple[FloatArray, FloatArray] | None:
    """Where the strength is highest around: (n, 2) positions, finer than a pixel, and the strengths there."""
    reach = max(1, round(0.8 * sigma))
    # Of marks as strong as each other side by side, the last one counts.
    strength = strength * (1 + 1e-9 * np.arange(strength.size).reshape(strength.shape) / strength.size)
    inner = strength[1:-1, 1:-1]
    among = (inner > FAINTEST) & (inner >= strength[:-2, 1:-1]) & (inner >= strength[2:, 1:-1])
    y, x = np.nonzero(among & (inner >= strength[1:-1, :-2]) & (inner >= strength[1:-1, 2:]))
    padded = np.pad(strength, reach)
    best, span = strength[y + 1, x + 1], np.arange(2 * reach + 1)
    highest = np.ones(len(y), dtype=np.bool_)
    for down in span:
        highest &= (padded[(y + 1 + down)[:, None], x[:, None] + 1 + span] <= best[:, None]).all(axis=1)
    y, x = y[highest] + 1, x[highest] + 1
    if not len(x):
        return None
    order = np.argsort(-strength[y, x], kind="stable")[:MOST]
    y, x = y[order], x[order]
    middle = strength[y, x]
    shifts = []
    for before, after in ((strength[y, x - 1], strength[y, x + 1]), (strength[y - 1, x], strength[y + 1, x])):
        bend = np.maximum(2 * middle - before - after, 1e-12)
        shifts.append(np.clip((after - before) / (2 * bend), -0.5, 0.5))
    return np.stack([x + shifts[0], y + shifts[1]], axis=1), middle

"""From a scanned print to raw outlines: estimate the paper, divide it out, trace what is not paper.

Works on the distance from the colour of the paper, so ink may have any colour, lighter than the paper too.
"""

from __future__ import annotations

import itertools
import math

import contourpy
import numpy as np
import shapely
from PIL import Image
from shapely.geometry import MultiPolygon, Polygon

from constraints.lattice import FloatArray
from explore.reading.cleaning import cleaned
from explore.reading.outline import StampError, large_parts, longer_side, polygons
from explore.reading.picture import Pixels, has_several, open_picture, view

# The paper is fitted on about this many samples along the longer side.
SAMPLES = 96
# Degree of the surface fitted to the paper and how far from it, relative to it, still counts as paper:
# the rim of the page first, then all that agrees with it.
RIM_FITS = ((0, 0.5), (1, 0.45), (3, 0.35), (3, 0.25))
FITS = ((3, 0.2), (3, 0.16), (4, 0.14), (4, 0.12))
# Darker than this (of 255) a relative distance would be noise.
DARKEST = 24.0
# Ink begins at this share of the usual distance between ink and paper, so that pale patches still count.
PALE = 0.3
# The faintest print, as distance relative to the paper, and how far it must stand above the grain.
FAINTEST, ABOVE_GRAIN = 0.06, 6.0
# The outline runs where the distance is this share of that of the ink nearby: half would follow edges best,
# a little less is kinder to broken ink.
EDGE = 0.42
# Rings with fewer square pixels than this are grain, not worth a polygon.
GRAIN = 6.0


def read_scan(data: bytes) -> tuple[MultiPolygon, list[str]]:
    """The cleaned outlines of the print in a picture made of pixels, in these, y down, and notes.

    A print that takes up little of a fine page is found first and then read again closer.
    """
    image = open_picture(data)
    page = (0, 0, image.width, image.height)
    shape, notes, scale = _read_view(image, page)
    if scale < 0.7 and longer_side(MultiPolygon(large_parts(shape.geoms))) < 0.4 * max(image.size):
        shape, notes, _ = _read_view(image, _box_around(shape, page))
    if has_several(data):
        notes.append("of its several pages or frames the first was read")
    return shape, notes


def _read_view(image: Image.Image, box: tuple[int, int, int, int]) -> tuple[MultiPolygon, list[str], float]:
    pixels, scale = view(image, box)
    height, width = pixels.shape[:2]
    shape, notes = cleaned(traced(ink(pixels)), width, height)
    across, down = (box[2] - box[0]) / width, (box[3] - box[1]) / height
    placed = shapely.affinity.affine_transform(shape, [across, 0, 0, down, box[0], box[1]])
    return placed, notes, scale


def _box_around(shape: MultiPolygon, page: tuple[int, int, int, int]) -> tuple[int, int, int, int]:
    left, top, right, bottom = MultiPolygon(large_parts(shape.geoms)).bounds
    room = 0.2 * max(right - left, bottom - top) + 4
    return (
        max(page[0], int(left - room)),
        max(page[1], int(top - room)),
        min(page[2], int(right + room)),
        min(page[3], int(bottom + room)),
    )


def ink(pixels: Pixels) -> FloatArray:
    """How far each pixel is from the paper beneath it, relative to the paper; 0 is paper."""
    paper = _paper(pixels)
    away = (pixels - paper) / np.maximum(paper, np.float32(DARKEST))
    distance: FloatArray = np.sqrt(np.einsum("ijk,ijk->ij", away, away)).astype(np.float64)
    return distance


def _paper(pixels: Pixels) -> Pixels:
    """The colour of the paper everywhere, a smooth surface through what surrounds the print."""
    height, width = pixels.shape[:2]
    step = math.ceil(max(height, width) / SAMPLES)
    samples = pixels[step // 2 :: step, step // 2 :: step].astype(np.float64)
    surface = _fitted(samples)
    layers = []
    for channel in range(3):
        layer = Image.fromarray(surface[..., channel].astype(np.float32))
        layers.append(np.asarray(layer.resize((width, height), Image.Resampling.BILINEAR)))
    return np.stack(layers, axis=-1)


def _fitted(samples: FloatArray) -> FloatArray:
    """The paper at the samples, (rows, columns, 3): fits of rising degree to what agreed with the last."""
    rows, columns = samples.shape[:2]
    down, across = np.meshgrid(np.linspace(-1, 1, rows), np.linspace(-1, 1, columns), indexing="ij")
    rim = np.maximum(np.abs(down) * (1 - 1 / rows), np.abs(across) * (1 - 1 / columns)) > 0.93
    surface = np.broadcast_to(np.median(samples[rim], axis=0), samples.shape)
    # In order of their degree, so that a fit of lower degree takes the first few.
    powers = [(i, degree - i) for degree in range(5) for i in range(degree + 1)]
    terms = np.stack([across**i * down**j for i, j in powers], axis=-1)
    everywhere = np.ones_like(rim)
    for where, (degree, reach) in [(rim, fit) for fit in RIM_FITS] + [(everywhere, fit) for fit in FITS]:
        away = np.linalg.norm((samples - surface) / np.maximum(surface, DARKEST), axis=-1)
        agreed = (away < reach) & where
        count = (degree + 1) * (degree + 2) // 2
        if agreed.sum() < 5 * count:
            break
        seen, known = samples[agreed], terms[agreed, :count]
        # Least squares; the small addition keeps the fit sound where the samples leave a term open.
        balance = known.T @ known + 1e-9 * len(known) * np.eye(count)
        factors = np.linalg.solve(balance, known.T @ seen)
        surface = np.clip(terms[..., :count] @ factors, 0.8 * seen.min(axis=0), 1.2 * seen.max(axis=0))
    return surface


def traced(distance: FloatArray) -> MultiPolygon:
    """Outlines of the ink, in pixels of `distance`, corner of the page at (0, 0).

    Raises StampError if nothing stands out from the paper.
    """
    framed = np.pad(_strength(distance), 1)
    tracer = contourpy.contour_generator(z=framed, fill_type=contourpy.FillType.OuterOffset)
    parts = []
    for points, offsets in zip(*tracer.filled(EDGE, np.inf), strict=True):
        rings = [points[a:b] - 0.5 for a, b in itertools.pairwise(offsets)]
        large = [ring for ring in rings if _area(ring) >= GRAIN]
        if large and large[0] is rings[0]:
            parts.append(Polygon(large[0], large[1:]))
    if not parts:
        raise StampError("shows no print: nothing stands out from the paper")
    return MultiPolygon(polygons(shapely.simplify(MultiPolygon(parts), 0.4)))


def _strength(distance: FloatArray) -> FloatArray:
    """The distance relative to that of the ink nearby: about 1 in ink, strong or pale, and 0 on paper."""
    split = _otsu(distance)
    above, below = distance[distance > split], distance[distance <= split]
    level = float(np.median(above)) if above.size else 0.0
    grain = float(np.median(below)) if below.size else 0.0
    if level < max(FAINTEST, ABOVE_GRAIN * grain):
        raise StampError("shows no print: nothing stands out from the paper")
    least = max(PALE * level, 0.75 * ABOVE_GRAIN * grain)
    inked = distance > least
    step = math.ceil(max(distance.shape) / SAMPLES)
    weights, sums = _near(distance * inked, step), _near(distance**2 * inked, step)
    # The strong count for more than the blurred edge; far from all ink the usual level holds.
    nearby = (sums + 0.02 * level**2) / (weights + 0.02 * level)
    nearby = np.maximum(nearby, 2 * (1 - PALE) * least)
    layer = Image.fromarray(nearby.astype(np.float32))
    size = (distance.shape[1], distance.shape[0])
    strength: FloatArray = distance / np.asarray(layer.resize(size, Image.Resampling.BILINEAR))
    return strength


def _near(values: FloatArray, step: int) -> FloatArray:
    """The mean of the values around every `step`-th pixel, over nine steps both ways."""
    rows, columns = (-(-n // step) * step for n in values.shape)
    padded = np.pad(values, ((0, rows - values.shape[0]), (0, columns - values.shape[1])))
    blocks = padded.reshape(rows // step, step, columns // step, step).mean(axis=(1, 3))
    near: FloatArray = _running_mean(_running_mean(blocks).T).T
    return near


def _running_mean(values: FloatArray) -> FloatArray:
    """The mean over nine rows, around each row."""
    sums = np.cumsum(np.pad(values, [(5, 4), (0, 0)], mode="edge"), axis=0)
    means: FloatArray = (sums[9:] - sums[:-9]) / 9
    return means


def _otsu(distance: FloatArray) -> float:
    """The split into two classes with the greatest variance between them (Otsu 1979)."""
    counts, edges = np.histogram(np.minimum(distance, 2.0), bins=256)
    middles = (edges[1:] + edges[:-1]) / 2
    share = np.cumsum(counts)[:-1] / counts.sum()
    moment = np.cumsum(counts * middles)[:-1] / counts.sum()
    spread = (moment[-1] * share - moment) ** 2 / np.maximum(share * (1 - share), 1e-9)
    return float(middles[int(np.argmax(spread))])


def _area(ring: FloatArray) -> float:
    x, y = ring[:, 0], ring[:, 1]
    return abs(float(np.dot(x[:-1], y[1:]) - np.dot(x[1:], y[:-1]))) / 2

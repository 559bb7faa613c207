"""Prints made for the tests of reading: known shapes, drawn clean or printed badly and scanned worse.

The shapes are glyphs of DejaVu Sans, the font that matplotlib bundles: nobody here drew them.
"""

from __future__ import annotations

from pathlib import Path

import numpy as np
import shapely
import shapely.affinity
from matplotlib.font_manager import FontProperties
from matplotlib.textpath import TextPath
from PIL import Image, ImageDraw, ImageFilter
from shapely.geometry import MultiPolygon, Polygon

from explore.reading.drawing import read_drawing


def glyph_path(letter: str, weight: str = "bold") -> TextPath:
    return TextPath((0, 0), letter, size=100, prop=FontProperties(family="DejaVu Sans", weight=weight))


def glyph(letter: str, weight: str = "bold") -> MultiPolygon:
    """The outline of a letter, y down, about 70 units high."""
    shape: shapely.Geometry = Polygon()
    for ring in glyph_path(letter, weight).to_polygons():
        shape = shape.symmetric_difference(shapely.make_valid(Polygon(ring)))
    parts = [part for part in shapely.get_parts(shape) if part.geom_type == "Polygon"]
    return shapely.affinity.scale(MultiPolygon(parts), 1, -1, origin=(0, 0))


def placed(shape: MultiPolygon, page: int, share: float = 0.8, lean: float = 0.0) -> MultiPolygon:
    """The shape leaning `lean` degrees clockwise, its longer side `share` of the page, in its middle."""
    shape = shapely.affinity.rotate(shape, lean, origin=(0, 0))
    left, top, right, bottom = shape.bounds
    scale = share * page / max(right - left, bottom - top)
    x, y = (page - scale * (left + right)) / 2, (page - scale * (top + bottom)) / 2
    return shapely.affinity.affine_transform(shape, [scale, 0, 0, scale, x, y])


def coverage(shape: MultiPolygon, page: int, fine: int = 4) -> np.ndarray:
    """How much of each pixel the shape covers, (page, page), 0 to 1."""
    image = Image.new("L", (page * fine, page * fine), 0)
    draw = ImageDraw.Draw(image)
    # Larger parts first, so that one inside the hole of another is drawn after the hole.
    for part in sorted(shape.geoms, key=lambda part: -Polygon(part.exterior).area):
        draw.polygon([(x * fine, y * fine) for x, y in part.exterior.coords], fill=255)
        for hole in part.interiors:
            draw.polygon([(x * fine, y * fine) for x, y in hole.coords], fill=0)
    return np.asarray(image.resize((page, page), Image.Resampling.BOX), dtype=np.float64) / 255


def save_clean(shape: MultiPolygon, path: Path, page: int = 400) -> Path:
    """A clean black drawing on white."""
    values = 255 * (1 - coverage(shape, page))
    Image.fromarray(values.round().astype(np.uint8)).save(path)
    return path


def smooth_noise(rng: np.random.Generator, page: int, radius: float) -> np.ndarray:
    """Smooth noise of mean 0 and deviation 1."""
    raw = Image.fromarray(rng.integers(0, 256, (page, page), dtype=np.uint8))
    values = np.asarray(raw.filter(ImageFilter.GaussianBlur(radius)), dtype=np.float64)
    return (values - values.mean()) / values.std()


def save_worn(
    shape: MultiPolygon,
    path: Path,
    page: int = 700,
    seed: int = 0,
    paper: tuple[int, int, int] = (236, 230, 214),
    ink: tuple[int, int, int] = (110, 25, 30),
    gradient: float = 0.35,
    shadow: float = 0.0,
    noise: float = 3.0,
    missing: float = 0.03,
    pale: float = 0.4,
    specks: int = 25,
) -> Path:
    """A bad scan of a bad print as JPEG.

    missing: share of the ink that failed, in small patches that come in clusters. pale: how pale it is where it
    is palest. gradient, shadow: how much darker the far corner is, and a soft-edged shadow across it.
    """
    rng = np.random.default_rng(seed)
    patches = smooth_noise(rng, page, 3) + 0.7 * smooth_noise(rng, page, 40)
    held = 1.0 * (patches <= np.quantile(patches, 1 - missing))
    strength = 1 - pale * np.clip(smooth_noise(rng, page, 60), 0, 1)
    laid = Image.fromarray((255 * coverage(shape, page) * held * strength).astype(np.uint8))
    draw = ImageDraw.Draw(laid)
    for x, y, radius in rng.uniform((0, 0, 1), (page, page, 4), (specks, 3)):
        draw.ellipse((x - radius, y - radius, x + radius, y + radius), fill=255)
    amount = np.asarray(laid.filter(ImageFilter.GaussianBlur(0.8)), dtype=np.float64)[..., None] / 255
    colours = (1 - amount) * np.array(paper) + amount * np.array(ink)
    down, across = np.mgrid[0:page, 0:page] / page
    light = 1 - gradient * (0.6 * across + 0.4 * down**2)
    light *= 1 - shadow / (1 + np.exp(-12 * (across + 0.5 * down - 0.9)))
    seen = colours * light[..., None] + rng.normal(0, noise, colours.shape)
    Image.fromarray(np.clip(seen, 0, 255).astype(np.uint8)).save(path, quality=85)
    return path


def agreement(one: shapely.Geometry, other: shapely.Geometry) -> float:
    """Common area over joint area."""
    common = one.intersection(other).area
    return common / (one.area + other.area - common)


def counts(shape: MultiPolygon) -> tuple[int, int]:
    """Parts and holes; their difference is the Euler number."""
    return len(shape.geoms), sum(len(part.interiors) for part in shape.geoms)


def drawn(body: str, attributes: str = "") -> MultiPolygon:
    return read_drawing(f'<svg xmlns="http://www.w3.org/2000/svg" {attributes}>{body}</svg>'.encode())[0]

"""Cards made for the tests of redrafting: pinholes drawn on card, scanned or photographed badly.

The ground is figure 788 of Therese de Dillmont, Encyclopedia of Needlework (1886): 13 rows of 5 and 4 pinholes in
turn. The edging is her figure 799; one repeat is six rows, as (column, row).
"""

from __future__ import annotations

import io
from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
from PIL import Image, ImageDraw, ImageFilter, ImageFont

Places = tuple[tuple[int, int], ...]

GROUND: Places = tuple((column, row + 1) for row in range(13) for column in range(row % 2, 9, 2))
EDGING: Places = (
    (1, 0), (2, 1), (0, 1), (1, 2), (3, 2), (0, 3), (2, 3), (4, 3), (1, 4), (3, 4), (0, 5), (2, 5), (1, 6),
)  # fmt: skip


def repeated(one: Places, rows: int, times: int) -> Places:
    """A repeat of so many rows, one below the other."""
    return tuple(sorted({(x, y + rows * k) for x, y in one for k in range(times)}, key=lambda p: (p[1], p[0])))


@dataclass(frozen=True)
class Card:
    """How pinholes are drawn. pitch, radius: pixels. tilt: degrees clockwise. stretch: down over across.

    jitter: how far dots stand off, as a share of the pitch (normal). gradient: how uneven the light is. noise: of
    255. lines: guide lines through the pinholes. numbers: pencilled beside that many dots.
    """

    pitch: float = 30.0
    radius: float = 2.6
    tilt: float = 0.0
    stretch: float = 1.0
    jitter: float = 0.0
    gradient: float = 0.0
    noise: float = 0.0
    smudges: int = 0
    specks: int = 0
    lines: bool = False
    numbers: int = 0
    light: bool = False
    blur: float = 0.5
    margin: float = 60.0
    seed: int = 1
    quality: int = 0  # of a JPEG; 0: PNG
    missing: tuple[int, ...] = ()
    more: tuple[tuple[float, float], ...] = ()
    dots_per_inch: int = 0

    def seats(self, places: Iterable[tuple[float, float]]) -> np.ndarray:
        """Where places come to lie, pixels from the first one, before the page is put round them."""
        at = np.array(list(places), dtype=float) * self.pitch / 2 * (1, self.stretch)
        angle = np.radians(self.tilt)
        turn = np.array([(np.cos(angle), np.sin(angle)), (-np.sin(angle), np.cos(angle))])
        return at @ turn

    def picture(self, places: Places) -> tuple[bytes, np.ndarray]:
        """The file, and where the dots of all places stand in it."""
        rng = np.random.default_rng(self.seed)
        kept = [place for number, place in enumerate(places) if number not in self.missing]
        at = self.seats([*kept, *self.more])
        low = at.min(axis=0) - self.margin
        at = at - low
        size = np.ceil(at.max(axis=0) + self.margin).astype(int)
        at = at + rng.normal(0, self.jitter * self.pitch, at.shape) if self.jitter else at
        values = self._drawn(at, size, rng)
        image = Image.fromarray(values.clip(0, 255).round().astype(np.uint8))
        out = io.BytesIO()
        resolution = {"dpi": (self.dots_per_inch, self.dots_per_inch)} if self.dots_per_inch else {}
        if self.quality:
            image.save(out, "JPEG", quality=self.quality, **resolution)
        else:
            image.save(out, "PNG", **resolution)
        return out.getvalue(), self.seats(places) - low

    def _drawn(self, at: np.ndarray, size: np.ndarray, rng: np.random.Generator) -> np.ndarray:
        width, height = size
        y, x = np.mgrid[0:height, 0:width] + 0.5
        paper = 228 * (1 + self.gradient * ((x / width + 0.6 * y / height) - 0.8))
        ink = np.zeros((height, width))
        for px, py in at:
            left, top = max(0, int(px) - 12), max(0, int(py) - 12)
            box = (slice(top, top + 25), slice(left, left + 25))
            away = np.hypot(x[box] - px, y[box] - py)
            ink[box] = np.maximum(ink[box], np.clip(self.radius + 0.5 - away, 0, 1))
        pencil = Image.new("L", (int(width), int(height)), 0)
        self._pencilled(ImageDraw.Draw(pencil), at, rng)
        shade = np.maximum(0.9 * ink, np.asarray(pencil) / 255)
        for _ in range(self.smudges):
            cx, cy, reach = rng.uniform(0, width), rng.uniform(0, height), rng.uniform(0.3, 1.5) * self.pitch
            shade = 1 - (1 - shade) * (1 - 0.35 * np.exp(-((x - cx) ** 2 + 2 * (y - cy) ** 2) / (2 * reach**2)))
        values = paper * (1 - shade) if not self.light else paper * (0.25 + 0.7 * shade)
        grey = Image.fromarray(values.clip(0, 255).astype(np.float32)).convert("L")
        values = np.asarray(grey.filter(ImageFilter.GaussianBlur(self.blur)), dtype=float)
        return values + rng.normal(0, self.noise, values.shape) if self.noise else values

    def _pencilled(self, draw: ImageDraw.ImageDraw, at: np.ndarray, rng: np.random.Generator) -> None:
        if self.lines:
            for name, (px, py) in enumerate(at):
                for other in at[name + 1 :]:
                    if np.hypot(*(other - (px, py))) < 0.8 * self.pitch:
                        draw.line([px, py, *other], fill=90, width=1)
        font = ImageFont.load_default(size=self.pitch * 0.42)
        for number in range(min(self.numbers, len(at))):
            px, py = at[number] + (0.12 * self.pitch, -0.25 * self.pitch)
            draw.text((px, py), str(number + 1), fill=190, font=font)
        for _ in range(self.specks):
            px, py = rng.uniform(0, draw.im.size[0]), rng.uniform(0, draw.im.size[1])
            draw.ellipse([px, py, px + rng.uniform(0.5, 2.5), py + rng.uniform(0.5, 2.5)], fill=160)

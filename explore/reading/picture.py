"""Opening a picture made of pixels: limits first, then pixels as colours on paper."""

from __future__ import annotations

import io
import struct
import warnings
import zlib

import numpy as np
import numpy.typing as npt
from PIL import Image, ImageFilter, ImageOps

from explore.pictures import FORMATS, kind_of
from explore.reading.outline import StampError

Pixels = npt.NDArray[np.float32]

# An A4 page at 600 dots per inch has 35 million pixels.
MOST_PIXELS = 50_000_000
# Pixels along the longer side while reading: small pictures are enlarged, large ones reduced.
FINEST, COARSEST = 800, 240
# What Pillow raises on damaged files: its own errors are OSErrors, the others come from its parsers.
_DAMAGED = (
    OSError, SyntaxError, ValueError, EOFError, IndexError, KeyError, TypeError, struct.error, zlib.error,
)  # fmt: skip
_NAMES = tuple(each.name for each in FORMATS)


def has_several(data: bytes) -> bool:
    """Whether a file that can be opened holds several pages or frames."""
    if kind_of(data) == "jpg":
        return False  # what a camera puts behind its photograph is no page
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            with Image.open(io.BytesIO(data), formats=_NAMES) as image:
                return bool(getattr(image, "is_animated", False))
    except _DAMAGED:
        raise StampError("is damaged or cut short: save or scan the picture again") from None


def open_picture(data: bytes) -> Image.Image:
    """The whole picture, the first of several, the right way up, in mode RGB, RGBA, L or LA.

    Raises StampError for damaged or overlarge pictures.
    """
    try:
        with warnings.catch_warnings():
            # Pillow warns of odd files and of bombs; the limit below is ours and tighter.
            warnings.simplefilter("ignore")
            with Image.open(io.BytesIO(data), formats=_NAMES) as image:
                _check_size(image.width, image.height)
                image.load()
                ImageOps.exif_transpose(image, in_place=True)
                return _plain_mode(image)
    except Image.DecompressionBombError:
        raise StampError(f"has more than {MOST_PIXELS // 10**6} million pixels: scan it coarser") from None
    except StampError:
        raise
    except _DAMAGED:
        raise StampError("is damaged or cut short: save or scan the picture again") from None


def _check_size(width: int, height: int) -> None:
    if width * height > MOST_PIXELS:
        raise StampError(
            f"has {width} x {height} pixels; at most {MOST_PIXELS // 10**6} million are read: scan it coarser"
        )
    if min(width, height) < 4:
        raise StampError(f"has only {width} x {height} pixels; at least 4 x 4 are needed")
    if max(width, height) > 50 * min(width, height):
        raise StampError(f"is a strip of {width} x {height} pixels; at most 50 times as long as wide is read")


def _plain_mode(image: Image.Image) -> Image.Image:
    if image.mode.startswith(("I", "F")):
        # Sixteen bits a pixel: Pillow would clip, not scale.
        values = np.asarray(image, dtype=np.float64)
        return Image.fromarray((np.clip(values, 0, 65535) / 257).astype(np.uint8))
    if image.mode in ("RGB", "RGBA", "L", "LA"):
        return image
    return image.convert("RGBA" if image.has_transparency_data else "RGB")


def view(image: Image.Image, box: tuple[int, int, int, int]) -> tuple[Pixels, float]:
    """The pixels inside `box` (left, top, right, bottom), (height, width, 3), 0 to 255, and their scale.

    Scale: pixels of the view for one pixel of the picture. Slightly blurred, which calms the grain of paper
    and camera. Transparent parts are paper.
    """
    longer = max(box[2] - box[0], box[3] - box[1])
    scale = min(max(longer, COARSEST), FINEST) / longer
    width, height = (max(1, round((box[i + 2] - box[i]) * scale)) for i in (0, 1))
    smooth = Image.Resampling.BICUBIC if scale > 1 else Image.Resampling.BOX
    small = image.resize((width, height), smooth, box=box)
    flat = on_paper(small).filter(ImageFilter.GaussianBlur(1))
    return np.asarray(flat, dtype=np.float32), scale


def on_paper(image: Image.Image) -> Image.Image:
    """The picture laid on white paper, or on black if all that is not transparent is nearly white."""
    if image.mode not in ("RGBA", "LA"):
        return image.convert("RGB")
    image = image.convert("RGBA")
    pixels = np.asarray(image)
    opaque = pixels[..., 3] >= 128
    sheet = "white"
    if 0 < opaque.mean() < 1 and np.percentile(255 - pixels[opaque, :3].min(axis=-1), 90) < 60:
        sheet = "black"
    paper = Image.new("RGBA", image.size, sheet)
    return Image.alpha_composite(paper, image).convert("RGB")

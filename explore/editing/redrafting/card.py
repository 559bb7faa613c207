"""Opening the file of a pricking: a picture of it (as of a print, or a scan in a PDF), or its rows written down."""

from __future__ import annotations

import io
from dataclasses import dataclass
from math import prod
from pathlib import Path

from PIL import Image, ImageDraw
from pypdfium2 import PdfDocument, PdfiumError
from pypdfium2.raw import FPDF_PAGEOBJ_IMAGE

from explore.bad_input import BadInput
from explore.editing.redrafting.marks import FINEST
from explore.files import content
from explore.pictures import KINDS, kind_of
from explore.reading.drawing import read_drawing
from explore.reading.outline import StampError
from explore.reading.picture import MOST_PIXELS, open_picture
from gallery.paper.page import MM_PER_INCH

LARGEST = 64 * 10**6  # bytes
LARGEST_TEXT = 10**6
# What cameras and programs write where they know no resolution.
_NO_RESOLUTION = (0, 1, 72, 96)
_CSS_PIXELS_PER_INCH = 96
# How much finer a drawing is made than it is read, and the most points of its outlines: every dot has a hundred.
_FINER, _MOST_POINTS = 4, 500_000
# How deep a scan may lie in forms within forms.
_DEEP = 8


@dataclass(frozen=True, eq=False)
class Card:
    """A picture of a pricking. pixels_per_mm: None if the file does not say how large it is."""

    image: Image.Image
    pixels_per_mm: float | None


def open_card(path: Path, page: int = 1) -> Card | str:
    """The picture in a file, or its text if it is no picture. page: of a PDF. Refused, naming the file."""
    try:
        return _opened(_content(path), page)
    except (StampError, BadInput) as error:
        raise BadInput(f"{path} {error}") from None
    except MemoryError:
        raise BadInput(f"{path} needs more memory than there is") from None


def _content(path: Path) -> bytes:
    try:
        if not path.exists():
            raise BadInput("does not exist")
        if not path.is_file():
            raise BadInput(f"is not a file; a pricking is a picture ({KINDS}, SVG, PDF) or a text of its rows")
        data = content(path, LARGEST)
    except (OSError, ValueError) as error:
        if isinstance(error, BadInput):
            raise
        raise BadInput(f"cannot be opened: {getattr(error, 'strerror', None) or error}") from None
    if not data.strip():
        raise BadInput("is empty")
    return data


def _opened(data: bytes, page: int) -> Card | str:
    if kind_of(data):
        return _scanned(data)
    if data.startswith(b"%PDF"):
        return _scan_in_pdf(data, page)
    if data.lstrip(b"\xef\xbb\xbf\xfe\xff \t\r\n\0").startswith(b"<"):
        return _drawn(data)
    try:
        text = data[:LARGEST_TEXT].decode("utf-8-sig")
    except UnicodeDecodeError:
        text = "\0"
    if "\0" in text or len(data) > LARGEST_TEXT:
        raise BadInput(f"is neither a picture ({KINDS}, SVG, PDF) nor a text of rows")
    return text


def _scanned(data: bytes) -> Card:
    image = open_picture(data)
    try:
        across = float(image.info.get("dpi", (0, 0))[0])
    except (TypeError, ValueError, ZeroDivisionError):
        across = 0.0
    known = 20 < across < 5000 and round(across) not in _NO_RESOLUTION
    return Card(image, across / MM_PER_INCH if known else None)


def _scan_in_pdf(data: bytes, number: int) -> Card:
    """The largest picture on a page. Its resolution is known if it covers the page, as a scan does."""
    try:
        pages = PdfDocument(data)
        if not 1 <= number <= len(pages):
            raise BadInput(f"has no page {number}; its pages are 1 to {len(pages)}")
        page = pages[number - 1]
        pictures = list(page.get_objects(filter=[FPDF_PAGEOBJ_IMAGE], max_depth=_DEEP))
        if not pictures:
            raise BadInput(f"has no scan on page {number}, only drawing: save the page as PNG or SVG")
        best = max(pictures, key=lambda picture: prod(picture.get_px_size()))
        if prod(best.get_px_size()) > MOST_PIXELS:
            raise BadInput(f"has a scan of more than {MOST_PIXELS // 10**6} million pixels: scan it coarser")
        scan = best.get_bitmap().to_pil()
        left, _, right, _ = page.get_mediabox()
    except PdfiumError:
        raise BadInput("is a damaged PDF or keeps its pages in a way that is not read: save it as PNG") from None
    width_mm = (right - left) / 72 * MM_PER_INCH
    out = io.BytesIO()
    scan.convert("RGB").save(out, "PNG")
    image = open_picture(out.getvalue())
    return Card(image, image.width / width_mm if width_mm > 0 else None)


def _drawn(data: bytes) -> Card:
    """A drawing as a picture: every shape that it prints, black on white."""
    try:
        shape, _ = read_drawing(data, _MOST_POINTS)
    except StampError as error:
        raise BadInput(str(error).replace("a stamp is a simpler drawing", "save it as PNG")) from None
    left, top, right, bottom = shape.bounds
    scale = FINEST * _FINER / max(right - left, bottom - top)
    room = 0.2 * max(right - left, bottom - top)
    size = [max(8, round((side + 2 * room) * scale)) for side in (right - left, bottom - top)]
    image = Image.new("L", (size[0], size[1]), 255)
    draw = ImageDraw.Draw(image)
    for part in sorted(shape.geoms, key=lambda part: -part.envelope.area):
        for ring, shade in ((part.exterior, 0), *((hole, 255) for hole in part.interiors)):
            draw.polygon([((x - left + room) * scale, (y - top + room) * scale) for x, y in ring.coords], fill=shade)
    return Card(image, scale * _CSS_PIXELS_PER_INCH / MM_PER_INCH)

"""Paper: pages in millimetres, text on them, and files that are the same whenever they are written.

Nothing here knows lace. Settings hold only inside `house_rules`; neither the reader's own matplotlib settings
nor the date reach a file.
"""

from __future__ import annotations

import warnings
from bisect import bisect_right
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from functools import lru_cache
from io import BytesIO
from pathlib import Path
from threading import RLock
from typing import Any

import matplotlib
from matplotlib.axes import Axes
from matplotlib.backends.backend_pdf import PdfPages
from matplotlib.figure import Figure
from matplotlib.font_manager import FontProperties
from matplotlib.text import Text
from matplotlib.textpath import text_to_path

from gallery.paper.embedding import style_sheet
from gallery.paper.faces import NAMES, SANS, SERIF, Face, file_of, letters
from gallery.paper.letters import miss
from gallery.paper.placing import place

# Width and height in millimetres, upright (ISO 216).
PAPERS = {"a4": (210.0, 297.0), "a3": (297.0, 420.0)}

MM_PER_INCH = 25.4
MM_PER_POINT = MM_PER_INCH / 72
ELLIPSIS = "\N{HORIZONTAL ELLIPSIS}"

# TrueType in PDF, text as text in SVG, and nothing that changes from run to run.
_RULES: dict[Any, Any] = {
    "pdf.fonttype": 42,
    "pdf.compression": 6,
    "svg.fonttype": "none",
    "svg.hashsalt": "stampwork",
    "path.simplify": False,
    # Letters of a picture keep the widths by which words were set: hinted ones run wider, into what stands beside.
    "text.hinting": "none",
    "font.sans-serif": [NAMES[SANS]],
    "font.serif": [NAMES[SERIF]],
}


class PageError(ValueError):
    """A picture that cannot be written as asked. The message is one clear line."""


# A thread that holds it may take it again: pages are written, and words measured, within the rules.
_ONE_AT_A_TIME = RLock()


@contextmanager
def _boxes_for_letters_it_lacks() -> Iterator[None]:
    """A name in letters that the font lacks is shown with boxes, of which `letters` hears; that is no reason to stop or
    to grumble."""
    with _ONE_AT_A_TIME, warnings.catch_warnings():
        warnings.filterwarnings("ignore", message="Glyph", category=UserWarning)
        yield


@contextmanager
def house_rules() -> Iterator[None]:
    """The settings under which pages are made and written; the reader's own come back afterwards.

    They hold for the whole process, so of several threads one draws and the others wait.
    """
    with _ONE_AT_A_TIME, matplotlib.rc_context(), _boxes_for_letters_it_lacks():
        matplotlib.rcdefaults()
        matplotlib.rcParams.update(_RULES)
        yield


def new_page(width: float, height: float, dots_per_inch: float = 200) -> tuple[Figure, Axes]:
    """A white page and an axes that covers it, in millimetres from the top left corner."""
    figure = Figure(figsize=(width / MM_PER_INCH, height / MM_PER_INCH), dpi=dots_per_inch)
    axes = figure.add_axes((0.0, 0.0, 1.0, 1.0))
    axes.set_axis_off()
    axes.set_xlim(0, width)
    axes.set_ylim(height, 0)
    return figure, axes


@dataclass(frozen=True)
class Type:
    """How text is set. size: points; family: "sans-serif" or "serif"; narrow: in letters three quarters as wide."""

    size: float
    bold: bool = False
    family: str = SANS
    colour: str = "#2a2d33"
    narrow: bool = False

    @property
    def font(self) -> FontProperties:
        return _font(self.size, self.face)

    @property
    def face(self) -> Face:
        return Face(self.family, self.bold, self.narrow)

    def lacking(self, words: str) -> str:
        """The letters of some words that the font has no sign for, each once: on paper a box stands for them."""
        if words.isascii():
            return ""  # every font has these
        held = letters(self.face)
        return "".join(letter for letter in dict.fromkeys(words) if ord(letter) not in held)

    def width(self, words: str) -> float:
        """How wide the words are, mm."""
        return _width(self, words)

    def fitted(self, words: str, room: float) -> str:
        """The words on one line, shortened at the end if they are wider than `room` mm."""
        line = " ".join(words.split())
        if self.width(line) <= room:
            return line
        # The longest beginning that fits, found by halving: words grow wider with every letter.
        kept = bisect_right(range(len(line)), room, key=lambda length: self.width(line[:length] + ELLIPSIS)) - 1
        return line[: max(0, kept)].rstrip() + ELLIPSIS


@lru_cache(maxsize=256)
def _font(size: float, face: Face) -> FontProperties:
    """Made once: to look for the file takes longer than to set a line."""
    return FontProperties(
        family=face.family, size=size, weight="bold" if face.bold else "normal",
        stretch="condensed" if face.narrow else "normal", fname=str(file_of(face)),
    )  # fmt: skip


@lru_cache(maxsize=65536)
def _width(style: Type, words: str) -> float:
    # Words are measured outside the house rules too.
    with _boxes_for_letters_it_lacks():
        width, _, _ = text_to_path.get_text_width_height_descent(words, style.font, False)
    return float(width) * MM_PER_POINT


def put_text(axes: Axes, x: float, y: float, words: str, style: Type, align: str = "left") -> Text:
    """Write words on a page, their baseline at y (mm from the top). Nothing in them is read as a formula."""
    miss(style.lacking(words))
    return axes.text(
        x, y, words, fontproperties=style.font, color=style.colour,
        horizontalalignment=align, verticalalignment="baseline", parse_math=False,
    )  # fmt: skip


def write(figures: Sequence[Figure], path: Path) -> None:
    """Write pages as PDF (all of them), PNG or SVG (the first), told apart by the name's ending.

    The file appears whole or not at all. PageError for another ending or no page; OSError if the place cannot be
    written.
    """
    ending = path.suffix.lower()
    if ending not in _WRITERS:
        raise PageError(f"{path.name}: the name must end in {', '.join(_WRITERS)}")
    if not figures:
        raise PageError(f"{path.name}: there is no page to write")
    content = BytesIO()
    with house_rules():
        _WRITERS[ending](figures, content)
    place(path, content.getvalue())


def write_pages(figures: Sequence[Figure], picture: Path) -> None:
    """Write each page as PNG, NAME.png, NAME-2.png and so on, and all of them as PDF beside. Errors as for `write`."""
    for number, figure in enumerate(figures, 1):
        write([figure], picture if number == 1 else picture.with_stem(f"{picture.stem}-{number}"))
    write(figures, picture.with_suffix(".pdf"))


def _write_pdf(figures: Sequence[Figure], file: BytesIO) -> None:
    with PdfPages(file, metadata={"Creator": "Stampwork", "Producer": None, "CreationDate": None}) as pages:
        for figure in figures:
            pages.savefig(figure)


def _write_png(figures: Sequence[Figure], file: BytesIO) -> None:
    # Lace squeezes badly: a higher level takes far longer and saves a few per cent.
    figures[0].savefig(file, format="png", metadata={"Software": None}, pil_kwargs={"compress_level": 4})


def _write_svg(figures: Sequence[Figure], file: BytesIO) -> None:
    drawn = BytesIO()
    figures[0].savefig(drawn, format="svg", metadata={"Date": None, "Creator": "Stampwork"})
    head, defs, rest = drawn.getvalue().partition(b"<defs>\n")
    faces = style_sheet(_said(figures[0]))
    file.write(head + defs + (f'  <style type="text/css">{faces}</style>\n'.encode() if faces else b"") + rest)


def _said(figure: Figure) -> Iterator[tuple[Face, str]]:
    for text in figure.findobj(Text):
        if text.get_text():
            font = text.get_fontproperties()
            bold, narrow = font.get_weight() == "bold", font.get_stretch() == "condensed"
            yield Face(font.get_family()[0], bold, narrow), text.get_text()


_WRITERS = {".pdf": _write_pdf, ".png": _write_png, ".svg": _write_svg}

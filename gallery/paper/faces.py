"""The faces of type that come with the program: Noto Sans and Noto Serif, cut to the letters of Europe's alphabets.

They lie in `fonts/` with their licence, the SIL Open Font License 1.1. No font of the machine is ever taken, not even
one of the same name: what is drawn is the same everywhere. `tests/bench/faces.py` makes the files.
"""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path
from typing import NamedTuple

from matplotlib.ft2font import FT2Font

FOLDER = Path(__file__).parent / "fonts"
SANS, SERIF = "sans-serif", "serif"
# What the families are called in files that other programs read.
NAMES = {SANS: "Noto Sans", SERIF: "Noto Serif"}


class Face(NamedTuple):
    """family: SANS or SERIF. narrow: in letters three quarters as wide."""

    family: str
    bold: bool = False
    narrow: bool = False


_FILES = {
    Face(SANS): "NotoSans-Regular.ttf",
    Face(SANS, bold=True): "NotoSans-Bold.ttf",
    Face(SANS, narrow=True): "NotoSans-Condensed.ttf",
    Face(SERIF): "NotoSerif-Regular.ttf",
    Face(SERIF, bold=True): "NotoSerif-Bold.ttf",
}
# How letters stand beside and on each other, and nothing that changes a letter unasked (OpenType feature tags).
FEATURES = ("kern", "mark", "mkmk", "ccmp", "locl")
# How high figures reach in sizes of their type: about 724 of 1000 units in all of them (table glyf). In one face all
# figures are equally wide.
FIGURE = 0.724


def file_of(face: Face) -> Path:
    """The file of a face. KeyError if there is none such."""
    return FOLDER / _FILES[face]


@lru_cache(maxsize=len(_FILES))
def letters(face: Face) -> frozenset[int]:
    """The code points that a face has, from its own character map."""
    return frozenset(FT2Font(str(file_of(face))).get_charmap())

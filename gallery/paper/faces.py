"""The faces of type that come with the program: Noto Sans and Noto Serif, cut to the letters of Europe's alphabets.

They lie in `fonts/` with their licence, the SIL Open Font License 1.1. No font of the machine is ever taken, not even
one of the same name: what is drawn is the same everywhere. `tests/bench/faces.py` makes the files.
"""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path

from matplotlib.ft2font import FT2Font

FOLDER = Path(__file__).parent / "fonts"
SANS, SERIF = "sans-serif", "serif"
# What the families are called in files that other programs read.
NAMES = {SANS: "Noto Sans", SERIF: "Noto Serif"}
# Family, bold, narrow.
_FILES = {
    (SANS, False, False): "NotoSans-Regular.ttf",
    (SANS, True, False): "NotoSans-Bold.ttf",
    (SANS, False, True): "NotoSans-Condensed.ttf",
    (SERIF, False, False): "NotoSerif-Regular.ttf",
    (SERIF, True, False): "NotoSerif-Bold.ttf",
}
# How high figures reach in sizes of their type: about 724 of 1000 units in all of them (table glyf). In one face all
# figures are equally wide.
FIGURE = 0.724


def file_of(family: str, bold: bool, narrow: bool) -> Path:
    """The file of a face. KeyError if there is none such."""
    return FOLDER / _FILES[family, bold, narrow]


@lru_cache(maxsize=len(_FILES))
def letters(file: Path) -> frozenset[int]:
    """The code points that a face has, from its own character map."""
    return frozenset(FT2Font(str(file)).get_charmap())

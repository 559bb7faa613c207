"""Type inside an SVG: of every face the letters that the file has, so that it is read as it was set on any machine."""

from __future__ import annotations

import base64
from collections.abc import Iterable
from functools import lru_cache
from io import BytesIO

from fontTools import subset
from fontTools.ttLib import TTFont

from gallery.paper.faces import FEATURES, NAMES, Face, file_of


def style_sheet(said: Iterable[tuple[Face, str]]) -> str:
    """The rules (CSS Fonts Module 4, W3C) that bring the faces of some words with nothing but their letters."""
    letters: dict[Face, set[str]] = {}
    for face, words in said:
        letters.setdefault(face, set()).update(words)
    return "".join(_rule(face, "".join(sorted(letters[face]))) for face in sorted(letters))


@lru_cache(maxsize=64)
def _rule(face: Face, letters: str) -> str:
    font = TTFont(file_of(face), recalcTimestamp=False)
    cut = subset.Subsetter(subset.Options(hinting=False, layout_features=list(FEATURES), notdef_outline=True))
    cut.populate(text=letters)
    cut.subset(font)
    held = BytesIO()
    font.save(held)
    data = base64.b64encode(held.getvalue()).decode("ascii")
    kind = f"font-weight:{'bold' if face.bold else 'normal'};font-stretch:{'condensed' if face.narrow else 'normal'}"
    source = f"src:url(data:font/ttf;base64,{data}) format('truetype')"
    return f"@font-face{{font-family:'{NAMES[face.family]}';{kind};{source}}}"

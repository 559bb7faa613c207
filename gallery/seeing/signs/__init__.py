"""Outlines of signs that nobody here drew: what a print could be taken for.

They are glyphs of the font Noto Sans Symbols 2, copyright 2022 The Noto Project Authors, under the SIL Open Font
License 1.1 (OFL.txt), each in a box of 1000 units, y down, simplified by 2 units. They are kept as they are, so that no
font's version changes what a print is known as.
"""

from __future__ import annotations

import json
from functools import lru_cache
from importlib import resources

from constraints.design import Ring


@lru_cache(maxsize=1)
def signs() -> dict[str, tuple[Ring, ...]]:
    """Of every sign, by its name, the rings, to be combined even-odd."""
    data = json.loads(resources.files(__name__).joinpath("outlines.json").read_text(encoding="utf-8"))
    return {
        name: tuple(tuple((float(x), float(y)) for x, y in ring) for ring in sign["rings"])
        for name, sign in data.items()
    }

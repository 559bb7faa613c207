"""A swatch of every stitch and filling, drawn in lace, as the squares themselves show it."""

from __future__ import annotations

import re
from functools import lru_cache

from constraints import fillings
from constraints.brief import Brief
from constraints.stitches import STITCHES

# A square that has room for one of each.
_SQUARE = Brief.of(
    symmetry="full",
    half_size=(14, 14),
    pairs=200,
    stitches=tuple(fillings.ALLOWED),
    least=dict.fromkeys(fillings.ALLOWED, 1),
    solid=(0.1, 0.5),
    count=1,
)
# How wide a swatch is seen, points.
_SEEN = 60.0


def swatch(name: str) -> bytes:
    """That of a stitch or filling, as SVG. KeyError if there is none of that name. Runs where drawing is done."""
    return _swatches()[name]


@lru_cache(maxsize=1)
def _swatches() -> dict[str, bytes]:
    import numpy as np

    from explore.search.search import search
    from gallery.sheets import legend
    from gallery.web.vector import RASTER, VectorPen

    design = next(step.design for step in search(_SQUARE, cores=1) if step.design is not None)
    words = {each.words: name for name, each in STITCHES.items()}
    words |= {each.label: name for name, each in fillings.FILLINGS.items()}
    found = {}
    for sample in legend.samples([design], with_pins=False):
        if sample.words in words:
            pen = VectorPen(_SEEN / (2 * sample.reach))
            legend.ink(pen, sample, "lace", True)
            low, high = np.round(legend.window(sample) * RASTER).astype(int).tolist()
            box = f'viewBox="{low[0]} {low[1]} {high[0] - low[0]} {high[1] - low[1]}"'
            found[words[sample.words]] = re.sub('viewBox="[^"]*"', box, pen.drawn(1).svg(), count=1).encode()
    return found

"""A swatch of every stitch and filling and of every edging, drawn in lace, as the squares themselves show it."""

from __future__ import annotations

import re
from functools import lru_cache

from constraints import edgings, fillings
from constraints.brief import Brief
from constraints.catalogue import Edging, offers
from constraints.design import Design
from constraints.forms import Strip
from constraints.piece import ACROSS
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
# A strip of such columns, its repeat of about so many rows, shows an edging; so many units of it are seen.
_COLUMNS, _ROWS, _WIDE = 16, 20, 15


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


def edge_swatch(name: str) -> bytes:
    """An edging along plain ground, as SVG. name: as `edgings.named` reads it. Runs where drawing is done."""
    from gallery.looks import lace
    from gallery.looks.bent import half_sides
    from gallery.web.vector import RASTER, VectorPen

    headside = edgings.named(name)
    rows = _ROWS if headside is None else headside.period * round(_ROWS / headside.period)
    form = Strip(_COLUMNS, rows, 2)
    plain = Design(1, form, 5.0, ACROSS, "none", 1, form.pairs(ACROSS, 1), 0, (), (), (), 1)
    edged = next(offers(plain, Edging(headside, 1))).piece
    pen = VectorPen(_SEEN / _WIDE)
    lace.ink(pen, edged, True)
    wide, high = half_sides(edged)
    left, side = round((wide - _WIDE) * RASTER), _WIDE * RASTER
    box = f'viewBox="{left} {-side // 2} {side} {side}"'
    return re.sub('viewBox="[^"]*"', box, pen.drawn(round(max(wide, high) * RASTER)).svg(), count=1).encode()

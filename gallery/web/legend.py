"""The legend of a page: what each look shows of every stitch, filling, edge and seam that occurs on it."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np

from constraints.design import Design
from gallery.looks.named import INKED
from gallery.sheets import legend
from gallery.web.vector import RASTER, VectorPen

# How wide a sample is seen, points.
_SEEN = 42.0


def legend_of(designs: Sequence[Design]) -> dict[str, list[dict[str, Any]]]:
    """Of each look the samples as plain data, each with its words and its box in raster steps: left, top, side."""
    samples = legend.samples(designs, with_pins=True)
    return {
        look: [_sample(each, look) for each in samples if look == "drawing" or each.words != "pin"] for look in INKED
    }


def _sample(sample: legend.Sample, look: str) -> dict[str, Any]:
    pen = VectorPen(_SEEN / (2 * sample.reach))
    # Lace as it is seen on the sheet, not thread by thread.
    legend.ink(pen, sample, look, None if look == "drawing" else False)
    low, high = np.round(legend.window(sample) * RASTER).astype(int).tolist()
    return {"words": sample.words, "box": [*low, high[0] - low[0]], **pen.drawn(0).data()}

"""Layers without what lies far outside a window: cutting a large drawing into many pages is quick then."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np
from matplotlib.path import Path

from gallery.paper.layers import BoxMm, Layer, Lines, Mark, Words
from gallery.paper.paths import empty

# No words of a drawing are so long, mm.
_LONG = 20.0


def nearby(layers: Sequence[Layer], window: BoxMm) -> list[Layer]:
    """The layers with the words and lines that may reach into a window, and with all other marks."""
    return [Layer(layer.name, tuple(_near(layer.marks, window))) for layer in layers]


def _near(marks: Sequence[Mark], window: BoxMm) -> list[Mark]:
    left, top, right, bottom = window
    found: list[Mark] = []
    for mark in marks:
        match mark:
            case Words():
                if left - _LONG < mark.x < right + _LONG and top - _LONG < mark.y < bottom + _LONG:
                    found.append(mark)
            case Lines():
                found.append(replace(mark, path=_reaching(mark.path, window)))
            case _:
                found.append(mark)
    return found


def _reaching(path: Path, window: BoxMm) -> Path:
    """The lines of a path whose boxes meet a window; curves lie within the box of their controls."""
    if empty(path):
        return path
    vertices, codes = np.asarray(path.vertices), np.asarray(path.codes)
    begins = np.flatnonzero(codes == Path.MOVETO)
    low, high = np.minimum.reduceat(vertices, begins), np.maximum.reduceat(vertices, begins)
    meets = ((low <= window[2:]) & (high >= window[:2])).all(axis=1)
    kept = np.repeat(meets, np.diff(np.append(begins, len(vertices))))
    return Path(vertices[kept], codes[kept])

"""Layers cut at the border of a window, for what is too large for one page or is cut from paper."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

import numpy as np
import shapely
from matplotlib.path import Path

from constraints.lattice import FloatArray
from gallery.paper.layers import Areas, Dots, Layer, Lines, Mark, Words, gathered
from gallery.paper.paths import empty, joined, lines, rings

# A wider dot is a disc with a number in it, mm: neither is shown without the other. It is whole in the next window.
_DISC = 2.0


def cut(layers: Iterable[Layer], window: shapely.Polygon) -> tuple[Layer, ...]:
    """What of the layers lies in a window (mm): dots whose centre, discs and words of which the whole lies in it, lines
    and areas up to its border."""
    shapely.prepare(window)

    def trim(mark: Mark) -> Mark | None:
        match mark:
            case Words():
                return mark if window.covers(shapely.box(*mark.box)) else None
            case Dots():
                held = window.buffer(-mark.diameter / 2) if mark.diameter > _DISC else window
                inside = shapely.intersects_xy(held, mark.centres[:, 0], mark.centres[:, 1])
                return replace(mark, centres=mark.centres[inside]) if inside.any() else None
            case Lines():
                path = _cut_lines(mark.path, window)
            case Areas():
                path = _cut_areas(mark.path, window)
        return None if empty(path) else replace(mark, path=path)

    trimmed = ((layer.name, [trim(mark) for mark in layer.marks]) for layer in layers)
    return gathered(Layer(name, tuple(mark for mark in marks if mark)) for name, marks in trimmed)


def _pieces(path: Path) -> list[FloatArray]:
    """The open or closed lines of a path, curves as many short steps."""
    if empty(path):
        return []
    whole = Path(path.vertices, path.codes)
    whole.should_simplify = False  # else long paths lose points
    return [piece for piece in map(np.array, whole.to_polygons(closed_only=False)) if len(piece) > 1]


def _cut_lines(path: Path, window: shapely.Polygon) -> Path:
    kept = []
    for piece in _pieces(path):
        line = shapely.LineString(piece)
        if window.covers(line):
            kept.append(lines(piece[None]))
        elif window.intersects(line):
            parts = shapely.get_parts(shapely.intersection(line, window))
            kept += [lines(shapely.get_coordinates(part)[None]) for part in parts if part.length]
    return joined(*kept)


def _cut_areas(path: Path, window: shapely.Polygon) -> Path:
    kept: list[FloatArray] = []
    for piece in _pieces(path):
        ring = shapely.LinearRing(piece)
        for part in shapely.get_parts(shapely.intersection(shapely.Polygon(ring), window)):
            if part.area:
                corners = shapely.get_coordinates(part.exterior)[:-1]
                # Nonzero areas live by the way their rings run: keep it.
                kept.append(corners if part.exterior.is_ccw == ring.is_ccw else corners[::-1])
    return rings(kept)

"""Drawings as lists of normalised vectors, so that two of them can be compared."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import PathPatch
from matplotlib.path import Path

from constraints.design import Design
from constraints.lattice import FloatArray
from gallery.looks.named import LOOKS, frame

Vector = tuple[str, float, float, float, float]


def drawn(design: Design, look: str, inches: float = 6.0, detailed: bool | None = None) -> Axes:
    """A square alone on an axes, in lattice units."""
    axes = Figure(figsize=(inches, inches)).add_axes((0, 0, 1, 1))
    frame(axes, design)
    LOOKS[look](axes, design, None, detailed)
    return axes


def patches(axes: Axes) -> list[PathPatch]:
    return [each for each in axes.get_children() if isinstance(each, PathPatch)]


def segments(path: Path) -> FloatArray:
    """All straight pieces of a path, shape (n, 2, 2); a curve counts from its start to its end."""
    found = []
    start = here = np.zeros(2)
    for points, code in path.iter_segments(simplify=False, curves=True):
        end = np.array(points[-2:])
        if code == Path.MOVETO:
            start = end
        elif code == Path.CLOSEPOLY:
            end = start
            found.append((here, end))
        else:
            found.append((here, end))
        here = end
    return np.array(found).reshape(-1, 2, 2)


def vectors(axes: Axes, turn: int = 0) -> Counter[Vector]:
    """Colour and ends of every piece drawn, whatever its direction, after some quarter turns (clockwise)."""
    quarter = np.linalg.matrix_power(np.array([[0, 1], [-1, 0]]), turn % 4)
    found: Counter[Vector] = Counter()
    for patch in patches(axes):
        colour = str(patch.get_edgecolor() if not patch.get_fill() else patch.get_facecolor())
        pieces = segments(patch.get_path()) @ quarter
        # A dot is a very short line; its direction means nothing.
        dot = np.abs(pieces[:, 1] - pieces[:, 0]).max(axis=1, initial=0.0) < 0.002
        pieces[dot] = pieces[dot].mean(axis=1, keepdims=True)
        for piece in np.round(pieces, 4) + 0.0:
            (ax, ay), (bx, by) = sorted(map(tuple, piece.tolist()))
            found[colour, ax, ay, bx, by] += 1
    return found


def turned(design: Design) -> Design:
    """The square turned a quarter clockwise on the page: (x, y) to (-y, x)."""

    def turn(places: tuple[tuple[int, int], ...]) -> tuple[tuple[int, int], ...]:
        return tuple(sorted(((-y, x) for x, y in places), key=lambda p: (p[1], p[0])))

    blocks = tuple(replace(block, pinholes=turn(block.pinholes)) for block in design.blocks)
    fillings = tuple(replace(filling, places=turn(filling.places)) for filling in design.fillings)
    return replace(design, blocks=blocks, fillings=fillings)

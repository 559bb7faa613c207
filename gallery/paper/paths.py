"""Geometry as matplotlib paths, and strokes whose width belongs to the lace and not to the paper.

Everything here is blind to lace: arrays of points in, compound paths out, one path for a thousand lines.
"""

from __future__ import annotations

from typing import Any, Protocol

import numpy as np
from matplotlib.axes import Axes
from matplotlib.backend_bases import RendererBase
from matplotlib.patches import PathPatch
from matplotlib.path import Path
from matplotlib.transforms import Transform

from constraints.lattice import FloatArray, IntArray

_DOT = 5e-4
NOTHING: Path = Path(np.empty((0, 2)), np.empty(0, dtype=np.uint8))


def lines(points: FloatArray) -> Path:
    """Open lines through points of shape (lines, points, 2)."""
    return _repeated(points, [Path.MOVETO] + [Path.LINETO] * (points.shape[1] - 1))


def curves(points: FloatArray) -> Path:
    """Cubic Bezier curves of shape (curves, 4, 2): start, two controls, end."""
    return _repeated(points, [Path.MOVETO] + [Path.CURVE4] * 3)


def bends(points: FloatArray) -> Path:
    """Quadratic Bezier curves of shape (curves, 3, 2): start, control, end."""
    return _repeated(points, [Path.MOVETO] + [Path.CURVE3] * 2)


def dots(centres: FloatArray) -> Path:
    """Dots at centres of shape (n, 2); stroke it with the diameter as width and round ends.

    A dot is a very short line with round ends: two vertices where a circle takes thirteen.
    """
    half = np.array([_DOT, 0.0])
    return lines(np.stack([centres - half, centres + half], axis=1))


def rings(points: list[FloatArray]) -> Path:
    """Closed outlines, each of shape (corners, 2), the first corner not repeated."""
    if not points:
        return NOTHING
    vertices = np.concatenate([np.concatenate([ring, ring[:1]]) for ring in points])
    codes = np.full(len(vertices), Path.LINETO, dtype=np.uint8)
    ends = np.cumsum([len(ring) + 1 for ring in points])
    codes[ends - 1] = Path.CLOSEPOLY
    codes[np.concatenate([[0], ends[:-1]])] = Path.MOVETO
    return Path(vertices, codes)


def joined(*paths: Path) -> Path:
    """Several paths as one."""
    kept = [path for path in paths if not empty(path)]
    if not kept:
        return NOTHING
    return Path.make_compound_path(*kept)


def empty(path: Path) -> bool:
    return np.size(path.vertices) == 0


def _repeated(points: FloatArray, codes: list[Any]) -> Path:
    if not len(points):
        return NOTHING
    return Path(points.reshape(-1, 2), np.tile(np.array(codes, dtype=np.uint8), len(points)))


def scale_of(transform: Transform) -> float:
    """How many of the target's units one unit becomes (the square root of the change of area)."""
    matrix: FloatArray = transform.get_affine().get_matrix()[:2, :2]
    return float(np.sqrt(abs(np.linalg.det(matrix))))


class Stroke(PathPatch):
    """Lines drawn `thickness` units of their own coordinates wide, at any scale and on any paper."""

    def __init__(self, path: Path, thickness: float, colour: str, **style: Any) -> None:
        # Neither simplified nor snapped to pixels: both lose dots and move fine lines.
        path.should_simplify = False
        rounded = {"capstyle": "round", "joinstyle": "round", "snap": False}
        super().__init__(path, fill=False, edgecolor=colour, **{**rounded, **style})
        self.thickness = thickness

    def draw(self, renderer: RendererBase) -> None:
        pixels_per_point = np.asarray(renderer.points_to_pixels(1.0), dtype=np.float64).item()
        self.set_linewidth(self.thickness * scale_of(self.get_transform()) / pixels_per_point)
        super().draw(renderer)


class Pen(Protocol):
    """What a look draws with, whatever the medium. Styles: `alpha`, and `capstyle` "butt" for square ends."""

    @property
    def points_per_unit(self) -> float:
        """Points on paper for one unit of the paths: how much detail the eye can see."""

    def stroke(self, path: Path, thickness: float, colour: str, **style: Any) -> None:
        """Draw the lines of a path, `thickness` units wide, with round ends."""

    def fill(self, path: Path, colour: str, **style: Any) -> None:
        """Colour the area of a path, its rings combined by the way they run (nonzero)."""


class Pencil:
    """The pen for paper: puts paths on an axes.

    to_axes: takes their coordinates to the data of the axes, if these differ.
    """

    def __init__(self, axes: Axes, to_axes: Transform | None = None) -> None:
        self.axes = axes
        self.transform = axes.transData if to_axes is None else to_axes + axes.transData
        figure = axes.get_figure(root=True)
        if figure is None:
            raise ValueError("the axes belong to no figure")
        self.points_per_unit = scale_of(self.transform) * 72 / figure.dpi

    def stroke(self, path: Path, thickness: float, colour: str, **style: Any) -> None:
        if not empty(path):
            self.axes.add_artist(Stroke(path, thickness, colour, transform=self.transform, **style))

    def fill(self, path: Path, colour: str, **style: Any) -> None:
        if not empty(path):
            patch = PathPatch(path, facecolor=colour, edgecolor="none", snap=False, transform=self.transform, **style)
            self.axes.add_artist(patch)


def merged(starts: IntArray, direction: tuple[int, int]) -> FloatArray:
    """Unit steps from integer `starts` (n, 2) along `direction`, joined end to end: shape (lines, 2, 2)."""
    if not len(starts):
        return np.empty((0, 2, 2))
    line = starts[:, 0] * direction[1] - starts[:, 1] * direction[0]
    along = starts[:, 0] * direction[0] + starts[:, 1] * direction[1]
    order = np.lexsort((along, line))
    stride = direction[0] ** 2 + direction[1] ** 2
    follows = (np.diff(line[order]) == 0) & (np.diff(along[order]) == stride)
    first = np.concatenate([[True], ~follows])
    last = np.concatenate([~follows, [True]])
    ends = starts[order][last] + np.array(direction)
    return np.stack([starts[order][first], ends], axis=1).astype(np.float64)

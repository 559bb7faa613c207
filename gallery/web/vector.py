"""Drawings as compact vectors, for pages in a browser: the second medium beside paper.

matplotlib's own SVG names every point in full, and a square would take a megabyte. Here every path becomes
one string of whole numbers on a fine raster, each step counted from the last, and strokes of one path share it.
A drawing holds no ids, so that many of them may stand on one page.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from typing import Any

import numpy as np
from matplotlib.path import Path

from constraints.design import Design
from constraints.working.work import Work
from gallery.looks import played
from gallery.looks.named import INKED, extent
from gallery.paper.layers_svg import LAYERS
from gallery.paper.paths import empty

# Steps of the raster to a lattice unit: even thirds, quarters and eighths fall on it.
RASTER = 48


@dataclass(frozen=True)
class InkedPath:
    """One inking of a path. path: which one; width: raster steps, 0 for a filled area; butt: square ends."""

    path: int
    colour: str
    width: float = 0.0
    alpha: float = 1.0
    butt: bool = False


@dataclass(frozen=True)
class Vector:
    """A drawing. reach: half its side in raster steps, its middle at 0, 0; layers lie one on the other."""

    reach: int
    paths: tuple[str, ...]
    layers: tuple[InkedPath, ...]

    def svg(self, side: float = 0.0, name: str = "", shape: tuple[float, float] = (1.0, 1.0)) -> str:
        """The drawing as an SVG document of its own. side: the longer one, mm; 0 where the page that shows it decides.
        name: of its one layer, for vector editors. shape: width and height as shares of that side."""
        drawn = "".join(f'<path d="{self.paths[layer.path]}" {_attributes(layer)}/>' for layer in self.layers)
        wide, high = (round(self.reach * share) for share in shape)
        box = f"{-wide} {-high} {2 * wide} {2 * high}"
        size = f' width="{side * wide / self.reach:g}mm" height="{side * high / self.reach:g}mm"' if side else ""
        spaces = 'xmlns="http://www.w3.org/2000/svg"'
        if name:
            spaces += f' xmlns:inkscape="{LAYERS}"'
            layer = f'id="{name}" aria-label="{name}" inkscape:groupmode="layer" inkscape:label="{name}"'
            drawn = f"<g {layer}>{drawn}</g>"
        return f'<svg {spaces}{size} viewBox="{box}">{drawn}</svg>'

    def recoloured(self, change: Callable[[str], str]) -> Vector:
        """The same in other colours. change: what each becomes."""
        return replace(self, layers=tuple(replace(layer, colour=change(layer.colour)) for layer in self.layers))

    def data(self) -> dict[str, Any]:
        """The drawing as few words of JSON, from which the page makes the same SVG; an alpha only where it is seen."""
        return {"reach": self.reach, "paths": list(self.paths), "layers": [_data(layer) for layer in self.layers]}


def vector(design: Design, look: str, points: float, detailed: bool | None = None) -> Vector:
    """A square in a look, as it is seen in a picture so many points wide. detailed: as in the look.

    KeyError if the look is unknown.
    """
    pen = VectorPen(points / (2 * extent(design)))
    INKED[look](pen, design, detailed)
    return pen.drawn(round(extent(design) * RASTER))


def vector_of_threads(work: Work, colours: Mapping[int, str], points: float) -> Vector:
    """A work in the lace look, every thread on its course, in a picture so many points wide."""
    reach = extent(work.design)
    pen = VectorPen(points / (2 * reach))
    played.ink(pen, work, colours)
    return pen.drawn(round(reach * RASTER))


class VectorPen:
    """The pen for a browser: takes down what is drawn."""

    def __init__(self, points_per_unit: float) -> None:
        self.points_per_unit = points_per_unit
        self.layers: list[InkedPath] = []
        self._said: dict[str, int] = {}
        self._last: tuple[Path | None, int] = (None, 0)

    def drawn(self, reach: int) -> Vector:
        """What was drawn so far. reach: of its picture, raster steps; 0 where that has a box of its own."""
        return Vector(reach, tuple(self.paths), tuple(self.layers))

    @property
    def paths(self) -> list[str]:
        """Every path once, in the order of `InkedPath.path`."""
        return list(self._said)

    def stroke(self, path: Path, thickness: float, colour: str, **style: Any) -> None:
        butt = style.pop("capstyle", "round") == "butt"
        self._lay(path, InkedPath(0, colour, thickness * RASTER, style.pop("alpha", 1.0), butt))
        assert not style, f"a style that this pen does not know: {style}"

    def fill(self, path: Path, colour: str, **style: Any) -> None:
        self._lay(path, InkedPath(0, colour, alpha=style.pop("alpha", 1.0)))
        assert not style, f"a style that this pen does not know: {style}"

    def _lay(self, path: Path, layer: InkedPath) -> None:
        if empty(path):
            return
        if path is not self._last[0]:  # a cord is the same path twice
            self._last = (path, self._said.setdefault(steps(path), len(self._said)))
        self.layers.append(replace(layer, path=self._last[1]))


def steps(path: Path) -> str:
    """A path as SVG path data: relative, in whole raster steps, in as few signs as the grammar allows.

    The grammar: Scalable Vector Graphics (SVG) 2, section 9.3.
    """
    points = np.round(np.asarray(path.vertices) * RASTER).astype(int).tolist()
    codes: list[int] = np.asarray(path.codes).tolist()
    said: list[str] = []
    x, y = begin = (0, 0)
    at = 0
    while at < len(points):
        code = codes[at]
        ahead = points[at : at + _LENGTHS[code]]
        at += len(ahead)
        if code == Path.CLOSEPOLY:
            said.append("z")
            x, y = begin
            continue
        said.append(_step(_LETTERS[code], [each for px, py in ahead for each in (px - x, py - y)]))
        x, y = ahead[-1]
        if code == Path.MOVETO:
            begin = (x, y)
    return "".join(said)


_LENGTHS = {int(Path.MOVETO): 1, int(Path.LINETO): 1, int(Path.CURVE3): 2, int(Path.CURVE4): 3, int(Path.CLOSEPOLY): 1}
_LETTERS = {int(Path.MOVETO): "m", int(Path.LINETO): "l", int(Path.CURVE3): "q", int(Path.CURVE4): "c"}


def _step(letter: str, numbers: list[int]) -> str:
    """A letter and its numbers; a minus parts these as well as a blank does, and level lines need but one."""
    if letter == "l" and not numbers[1]:
        return f"h{numbers[0]}"
    if letter == "l" and not numbers[0]:
        return f"v{numbers[1]}"
    first, *others = numbers
    return f"{letter}{first}" + "".join(f"{a}" if a < 0 else f" {a}" for a in others)


def _data(layer: InkedPath) -> list[Any]:
    """A layer as a list: an alpha stands only where it is seen."""
    alpha = [layer.alpha] if layer.alpha < 1 else []
    return [layer.path, layer.colour, round(layer.width, 2), int(layer.butt), *alpha]


def _attributes(layer: InkedPath) -> str:
    alpha = "" if layer.alpha == 1 else f' opacity="{layer.alpha:g}"'
    if not layer.width:
        return f'fill="{layer.colour}"{alpha}'
    ends = "" if layer.butt else ' stroke-linecap="round"'
    width = f'stroke-width="{layer.width:.2f}"'
    return f'fill="none" stroke="{layer.colour}" {width}{ends} stroke-linejoin="round"{alpha}'

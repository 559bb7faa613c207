"""A small picture of a piece with its start and the numbers of its blocks, for the order of work."""

from __future__ import annotations

import numpy as np
import shapely
from matplotlib.axes import Axes
from matplotlib.patheffects import AbstractPathEffect, withStroke
from matplotlib.transforms import Affine2D

from constraints.design import Design
from constraints.edgings.outer_side import curved
from constraints.lattice import FloatArray
from constraints.piece import ROUND
from constraints.working.ends import start_line
from constraints.working.steps import steps_of
from constraints.working.work import Work
from gallery.looks import drawing
from gallery.looks.bent import half_sides, middle
from gallery.looks.excerpt import excerpt
from gallery.looks.excerpt import shown as what_is_shown
from gallery.order.called import block_numbers
from gallery.paper.page import MM_PER_POINT, Type, put_text
from gallery.paper.paths import Pencil, lines

_TALL = 3.0  # a strip on the map, of its width
_START = "#b35a00"
_SMALL = Type(7.5, colour="#5d626c")
_HALO = 1.4  # points round a number
_READ = 4.0  # points: smaller numbers are not read


class BlockMap:
    """A map at most so wide and high, mm, its middle at a place of the page. mirrored: left and right change places."""

    def __init__(self, work: Work, mirrored: bool, room: tuple[float, float], at: tuple[float, float]) -> None:
        self._work, self._at = work, at
        self._shown: Design = excerpt(work.design, _TALL)
        halves = half_sides(self._shown)
        self.scale = float(min(np.array(room) / 2 / halves))
        self.below = at[1] + self.scale * float(halves[1]) + 4.0
        self._to_page = Affine2D().scale(-self.scale if mirrored else self.scale, self.scale).translate(*at)
        self._type = Type(min(6.5, max(3.5, 1.6 * self.scale / MM_PER_POINT)), bold=True)
        self._numbers = self._placed()

    @property
    def crowded(self) -> bool:
        """Whether numbers of blocks would be too small to read, or stand one on the other."""
        high = self._type.size * MM_PER_POINT
        boxes = [
            shapely.box(x - wide / 2, y - high / 2, x + wide / 2, y + high / 2)
            for text, (x, y) in self._numbers
            for wide in (self._type.width(text),)
        ]
        if not boxes or self._type.size < _READ:
            return bool(boxes)
        near = shapely.STRtree(boxes).query(boxes, predicate="intersects")
        return bool((near[0] != near[1]).any())

    def _placed(self) -> list[tuple[str, tuple[float, float]]]:
        """The numbers of the blocks that are drawn, and where on the page each stands."""
        piece, found = self._work.layout.piece, []
        for block, number in block_numbers(steps_of(self._work)).items():
            places = np.array(self._work.design.blocks[block].pinholes, dtype=np.float64)
            place = places[np.argmin(np.abs(places - places.mean(axis=0)).sum(axis=1))]
            if place[1] > self._shown.form.box[3]:
                continue  # beyond the repeats that are drawn
            moved: FloatArray = curved(piece, place[None])[0] - middle(self._shown)
            x, y = self._to_page.transform(moved).tolist()
            found.append((str(number), (x, y)))
        return found

    def draw(self, axes: Axes, numbered: bool = True, words: str = "") -> None:
        """Draw it. numbered: with the numbers of the blocks. words: below it in place of what it usually tells."""
        drawing.draw(axes, self._shown, self._to_page, False)
        if self._work.design.worked == ROUND:
            points = start_line(self._work)
            parts = lines(np.stack([points[:-1], points[1:]], axis=1))
            Pencil(axes, self._to_page).stroke(parts, 0.55 / self.scale, _START)
        halo: list[AbstractPathEffect] = [withStroke(linewidth=_HALO, foreground="white")]
        for told, (x, y) in self._numbers if numbered else ():
            text = put_text(axes, x, y + 0.35 * self._type.size * MM_PER_POINT, told, self._type, "center")
            text.set_path_effects(halo)
        put_text(axes, self._at[0], self.below, words or self._words(), _SMALL, "center")

    def _words(self) -> str:
        design = self._work.design
        start = "; the thick line is the start" if design.worked == ROUND else ""
        blocks = "Numbers of the blocks" if self._numbers else f"The {design.form.name}"
        part = f"; {words}" if (words := what_is_shown(design, _TALL)) else ""
        return blocks + start + part

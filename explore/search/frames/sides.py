"""Places of a frame or rectangle told along its sides: how far in, how far from the corner."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from constraints.forms import Oblong
from constraints.lattice import FloatArray, IntArray
from constraints.piece import ROUND


@dataclass(frozen=True)
class Sides:
    """span: the least and the greatest distance from the outer edge, units, at which a block may lie. end: the least
    from the top and the bottom, where no fans stand on those of a rectangle."""

    form: Oblong
    span: tuple[int, int]
    end: int

    @property
    def middle(self) -> float:
        """How far in the middle of the span lies."""
        return (self.span[0] + self.span[1]) / 2

    @property
    def width(self) -> int:
        """Units across the span."""
        return self.span[1] - self.span[0]

    def inwards(self, points: IntArray | FloatArray) -> FloatArray:
        """(n,) units from the nearest outer edge, as if fans stood on all of them."""
        sides = np.array([self.form.half_width, self.form.half_height + self.span[0] - self.end], dtype=np.float64)
        found: FloatArray = (sides - np.abs(points)).min(axis=1)
        return found

    def from_corner(self, points: IntArray) -> FloatArray:
        """(n,) units along the nearest side to its nearer corner."""
        sides = np.array([self.form.half_width, self.form.half_height], dtype=np.float64)
        found: FloatArray = (sides - np.abs(points)).max(axis=1)
        return found


def sides_of(form: Oblong, margin: int) -> Sides:
    """The span of a form between a margin at either edge, fans aside."""
    fan = 0 if form.headside is None else form.headside.depth + 1
    far = form.deep - (margin if form.has_opening else 0)
    near = max(fan, margin)
    # Beside a headside no margin is less than 2.
    return Sides(form, (near, far), min(near, max(margin, 2)) if ROUND not in form.edged else near)

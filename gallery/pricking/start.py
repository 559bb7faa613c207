"""Where the work begins, on a pricking: the start line, and the word outside the footside where it ends."""

from __future__ import annotations

from functools import cached_property

import numpy as np
import shapely

from constraints.flow import corner_signs
from constraints.lattice import FloatArray
from constraints.piece import ROUND
from constraints.working.ends import start_line
from constraints.working.work import Work
from gallery.paper.layers import Words
from gallery.paper.page import Type
from gallery.pricking.parts import PiecePart, box

WORD = Type(7)


class Start:
    """The start of one work."""

    def __init__(self, work: Work) -> None:
        self._work, self._design = work, work.design

    @cached_property
    def _corner(self) -> FloatArray:
        x, y = corner_signs(self._design.start) if self._design.worked == ROUND else (-1, -1)
        (left, top), _, (right, bottom), _ = box(self._design).tolist()
        return np.array([right if x > 0 else left, bottom if y > 0 else top])

    @cached_property
    def line(self) -> FloatArray:
        """(s, 2, 2) the start line from the footside inwards, in straight parts; worked across, the top edge."""
        if self._design.worked != ROUND:
            return np.stack([box(self._design)[1], self._corner])[None]
        points = start_line(self._work)
        if self._work.start_row is None:
            points[0] = self._corner
        return np.stack([points[:-1], points[1:]], axis=1)

    def words(self, part: PiecePart, matrix: FloatArray) -> tuple[Words, ...]:
        """A word outside the footside where the start line ends, if the part has that place."""
        if self._work.start_row is not None:
            return self._beside_line(part, matrix)
        if not (part.shape == self._corner).all(axis=1).any():
            return ()
        x, y = (self._corner @ matrix).tolist()
        return (Words(x, y + (5.5 if y > 0 else -3.2), "start", WORD, "left" if x < 0 else "right"),)

    def _beside_line(self, part: PiecePart, matrix: FloatArray) -> tuple[Words, ...]:
        """The word at a horizontal start line, at its height outside the edge."""
        outer, inner = self.line[0]
        if not shapely.Polygon(part.shape).buffer(1e-6).covers(shapely.Point(outer)):
            return ()
        x, y = (outer @ matrix).tolist()
        out_x, out_y = (2.0 * np.sign(np.round((outer - inner) @ matrix, 6))).tolist()
        side = {-1: "right", 0: "center", 1: "left"}[int(np.sign(out_x))]
        return (Words(x + out_x, y + out_y + (0.9 if out_x else max(0.0, out_y)), "start", WORD, side),)

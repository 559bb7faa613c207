"""Where the pairs are hung on in a working diagram: the start line, and the numbers of the pairs along it in discs."""

from __future__ import annotations

from collections.abc import Callable
from functools import cached_property

import numpy as np

from constraints.edgings.outer_side import curved
from constraints.flow import START_LINES
from constraints.lattice import FloatArray, IntArray
from constraints.piece import ROUND
from constraints.working.ends import ends_of, start_line
from gallery.diagram.pairlines import PairLines
from gallery.paper import paths
from gallery.paper.layers import Dots, Layer, Lines, Words
from gallery.paper.page import MM_PER_POINT, Type

START = "#b35a00"
# Half the width of a disc, and how far apart they stand, units.
DISC, _APART = 0.27, 0.8
# Width of the line from a disc to its pair, mm.
HELD = 0.2
# So far from a pin a disc must stand.
_BESIDE = 0.5


class StartDiscs:
    """The start of one work, all in lattice units."""

    def __init__(self, lines: PairLines) -> None:
        self._lines, self._work, self._piece = lines, lines.work, lines.work.layout.piece

    @cached_property
    def outwards(self) -> FloatArray:
        """(2,) the direction along the start line to the footside."""
        line = start_line(self._work)
        direction: FloatArray = np.sign(np.round(line[0] - line[1], 6))
        return direction

    @cached_property
    def hung(self) -> list[int]:
        """The segments of the pairs as they are hung, from the footside inwards; across, from the left edge."""
        return [segment for held in ends_of(self._work).hung for segment in held.segments]

    @property
    def _first(self) -> FloatArray:
        """(n, 2) where the pairs hang, headsides curved."""
        return curved(self._piece, self._lines.first[self.hung])

    def layer(self, mm: Callable[[FloatArray], FloatArray], unit: float) -> Layer:
        """The start line, and along it the numbers of the pairs hung on.

        mm: takes lattice units, gives places on paper. unit: mm of one.
        """
        at = self.discs
        marks: list[Lines | Dots | Words] = []
        if self._work.design.worked == ROUND:
            line = start_line(self._work)[::-1]
            beyond = (at[0] - line[-1]) @ self.outwards / np.abs(self.outwards).sum() + 0.6
            line[-1] += beyond * self.outwards
            ends = np.stack([line[:-1], line[1:]], axis=1)
            marks.append(Lines(paths.lines(mm(ends)), 0.3, START, (2.2, 1.0)))
        else:
            ends = np.stack([self._first, at], axis=1)
            marks.append(Lines(paths.lines(mm(ends)), HELD, START))
        disc = 2 * DISC * unit
        marks += [Dots(mm(at), disc, START), Dots(mm(at), disc - 0.5, "#ffffff")]
        style = Type(DISC * unit * (2.1 if len(at) < 100 else 1.7) / MM_PER_POINT / 1.5, colour="#6a3500")
        for number, (x, y) in enumerate(mm(at).tolist(), 1):
            marks.append(Words(x, y + 0.36 * style.size * MM_PER_POINT, str(number), style, "center"))
        return Layer("start", tuple(marks))

    @cached_property
    def discs(self) -> FloatArray:
        """(n, 2) where the discs of the pairs stand; pushed outwards where they would touch."""
        at = self._first
        if self._work.design.worked != ROUND:
            if self._piece.headside is not None:
                at[:, 1] = at[:, 1].min()  # above its outer pins
            return at - _levels(at[:, 0])[:, None] * (0.0, _APART)
        corner = self.outwards
        steps = np.abs(corner).sum()
        far = (at * corner).sum(axis=1) / steps
        gap = _APART / np.sqrt(steps)
        place = np.arange(len(far))[::-1]
        pushed: FloatArray = (np.maximum.accumulate((far - gap * place)[::-1]) + gap * np.arange(len(far)))[::-1]
        at += (pushed - far)[:, None] * corner
        # Where a pair hangs on a true pin its disc stands beside it, before the start.
        pins = np.array([pin.place for pin in self._work.pins])
        covered = (np.hypot(*(at[:, None] - pins).transpose(2, 0, 1)) < _BESIDE).any(axis=1)
        at[covered] -= _BESIDE * self._over_start
        return at

    @property
    def _over_start(self) -> FloatArray:
        """(2,) the unit direction in which pairs run over the start line."""
        before, first = (self._piece.directions[zone] for zone in START_LINES[self._work.design.start])
        over: FloatArray = (before + first if self._work.start_row is None else 2 * first) / 2
        return over / float(np.hypot(*over))


def _levels(across: FloatArray) -> IntArray:
    """(n,) rows of discs one above the other, so that none touches the next of its row."""
    last: list[float] = []
    found = []
    for place in across.tolist():
        level = next((i for i, each in enumerate(last) if place - each >= 2.1 * DISC), len(last))
        last[level : level + 1] = [place]
        found.append(level)
    return np.array(found, dtype=np.int64)

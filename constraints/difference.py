"""The difference of two pieces: the one measure of how unlike they are, wherever the program says that they differ.

It is the least share of pinholes that are not worked alike, over all turns and reflections that keep the way of
working; two strips are moved along and turned over, repeat on repeat. Two pinholes are worked alike if both lie in
blocks of whatever stitch, both in whatever figures of one filling, both in one ground, or both in plain
ground. Of two sizes of square the larger is laid on the smaller, centre on centre, and the share is of the pinholes
of the smaller. Where what has *changed* is told, every pinhole is held against the one at its own place instead.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from constraints.design import Design
from constraints.forms import Form, Strip
from constraints.lattice import Grid, IntArray
from constraints.layout import lay
from constraints.piece import ROUND
from constraints.places import map_places, sort_places
from constraints.repeats import repeat_of


def comparable(first: Design, second: Design) -> bool:
    """Whether two pieces can lie on each other: squares of any sizes, strips of one repeat and edges, others of one
    outline."""
    return first.form.comparable(second.form)


def difference(first: Design, second: Design) -> float:
    """The difference of two pieces, from 0 to 1; 1 for pieces that cannot lie on each other."""
    return Compared.of(first).difference(Compared.of(second))


@dataclass(frozen=True, eq=False)
class Compared:
    """A piece as the difference sees it. sorts: (h, w) by y, then x, -1 off its pinholes; of a strip's repeat (n,)."""

    form: Form
    worked: str
    sorts: IntArray

    @staticmethod
    def of(design: Design) -> Compared:
        """Of a finished piece."""
        if design.form.repeating:
            return Compared(design.form, design.worked, sort_places(map_places(repeat_of(design))))
        layout = lay(design)
        left, top, right, bottom = design.form.box
        grid = np.full((bottom - top + 1, right - left + 1), -1)
        x, y = layout.piece.pinholes.T
        grid[y - top, x - left] = sort_places(map_places(layout))
        return Compared(design.form, design.worked, grid)

    def difference(self, other: Compared) -> float:
        """The difference of two pieces."""
        if not self.form.comparable(other.form):
            return 1.0
        if strip := self.form.repeating:
            moved = self.sorts[strip_images(strip.columns, strip.rows)]
            return float((moved != other.sorts).mean(axis=1).min())
        small, large = sorted((self.sorts, other.sorts), key=len)
        rim = (len(large) - len(small)) // 2
        middle = large[rim : len(large) - rim, rim : large.shape[1] - rim]
        quarter = self.worked == other.worked == ROUND and small.shape[0] == small.shape[1]
        turned = (np.rot90(each, turns) for each in (small, small[::-1]) for turns in range(0, 4, 1 if quarter else 2))
        return float(min((each != middle).sum() for each in turned) / (small >= 0).sum())


@lru_cache(maxsize=16)
def strip_images(columns: int, rows: int) -> IntArray:
    """(k, n) every way to lay one repeat of a strip on itself: moved along, turned over, or both."""
    piece = Strip(columns, rows, 2).repeat()
    grid = Grid.of(piece.pinholes)
    x, y = piece.pinholes.T
    found = []
    for shift in range(rows):
        for sideways in (x, columns - 1 - x):
            for along in (y, -y):
                moved = grid.at(np.stack([sideways, (along + shift) % rows], axis=1))
                if (moved >= 0).all():
                    found.append(moved)
    return np.array(found)

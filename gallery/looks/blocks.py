"""Blocks as areas and as rows: outlines, and the rows in which a worker crosses them.

Rows run across the working direction of their zone. A row goes from pin to pin; where a corner line cuts it
(the block goes on in the next quarter) it runs one unit further, to the corner line itself.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from constraints.lattice import BoolArray, FloatArray, IntArray
from constraints.layout import Layout, holes_below

# Corners of a cell (the diamond |dx| + |dy| <= 1), and the step of lattice.STEPS that crosses each side.
_CORNERS = np.array([(0, -1), (1, 0), (0, 1), (-1, 0)])
_BEYOND = np.array([3, 0, 1, 2])


def outlines(centres: IntArray, neighbours: IntArray, member: IntArray) -> list[FloatArray]:
    """The borders of groups of cells as closed rings, shape (corners, 2) each, lattice units.

    centres: (n, 2); neighbours: (n, 4) along lattice.STEPS; member: (n,) the group of each cell, -1 for none.
    Outer borders run clockwise on the page, holes the other way, so that the areas add up; cells that touch
    in a point only get separate corners.
    """
    groups = np.append(member, -1)
    beside = neighbours[:, _BEYOND]
    same = (groups[beside] == member[:, None]) & (member >= 0)[:, None]
    border = ~same & (member >= 0)[:, None]
    cell, side = np.nonzero(border)
    after = (side + 1) % 4
    # The next side is of the same cell; or of the cell beyond that side; or of the one beyond both.
    turn = same[cell, after]
    inner = beside[cell, after]
    further = turn & same[inner, side]
    next_cell = np.where(further, beside[inner, side], np.where(turn, inner, cell))
    next_side = np.where(further, (side - 1) % 4, np.where(turn, side, after))
    number = np.full((len(centres), 4), -1)
    number[cell, side] = np.arange(len(cell))
    follow = number[next_cell, next_side]
    corner = (next_side != side)[_inverse(follow)]
    begins = centres[cell] + _CORNERS[side]
    return [begins[ring][corner[ring]].astype(np.float64) for ring in _cycles(follow)]


def _inverse(permutation: IntArray) -> IntArray:
    inverse = np.empty_like(permutation)
    inverse[permutation] = np.arange(len(permutation))
    return inverse


def _cycles(follow: IntArray) -> list[IntArray]:
    """The cycles of a permutation, each from its least member."""
    rest = follow.tolist()
    cycles = []
    for start in range(len(rest)):
        cycle = []
        place = start
        while rest[place] >= 0:
            cycle.append(place)
            rest[place], place = -1, rest[place]
        if cycle:
            cycles.append(np.array(cycle))
    return cycles


def block_outlines(layout: Layout, which: BoolArray) -> list[FloatArray]:
    """Borders of the blocks whose places are in the mask `which` (n,): two square units for every place."""
    member = np.where(which, layout.block, -1)
    return outlines(layout.piece.pinholes, layout.piece.neighbours, member)


@dataclass(frozen=True, eq=False)
class Rows:
    """Rows of a block's places, and the strips of cloth between one row and the next.

    along, across: (strips, 2) unit vectors, from row to row and from the low to the high end of a row.
    line: (strips,) where the first of the strip's two rows lies on `along`; height: (strips,) 1, or 0 for a
    row that has no next and stands as a strip of its own. ends: (strips, 4) low and high end of the first
    row, low and high end of the second, on `across`.
    """

    along: IntArray
    across: IntArray
    line: IntArray
    height: IntArray
    ends: FloatArray

    def side(self, high: bool, share: float) -> FloatArray:
        """(strips, 2) points `share` of the way along the low or high side of every strip."""
        first, second = self.ends[:, int(high)], self.ends[:, 2 + int(high)]
        return self.place(self.line + share * self.height, first + share * (second - first))

    def place(self, line: FloatArray, across: FloatArray) -> FloatArray:
        """Points at places on the two vectors, shape (..., 2)."""
        return line[..., None] * self.along + across[..., None] * self.across

    def lines(self, low: float, high: float) -> FloatArray:
        """(strips, 2, 2) a line through every strip, from a share of its low side to one of its high side."""
        return np.stack([self.side(False, low), self.side(True, high)], axis=1)


@dataclass(frozen=True, eq=False)
class _Runs:
    """Unbroken rows of places. of: (n + 1,) the run of each pinhole, -1 for none; first, last: (runs,) its ends.

    line, place: (n,) where each pinhole lies along and across the working direction of its zone.
    """

    of: IntArray
    first: IntArray
    last: IntArray
    line: IntArray
    place: IntArray


def rows(layout: Layout, which: BoolArray) -> Rows:
    """The rows of the places in the mask `which` (n,), strip by strip."""
    along = layout.piece.directions[layout.piece.zone]
    across = np.stack([along[:, 1], -along[:, 0]], axis=1)
    runs = _runs(layout, which & layout.inside, along, across)
    upper, lower = _linked(layout, runs)
    lone = np.setdiff1d(np.arange(len(runs.first)), np.concatenate([upper, lower]))
    height = np.repeat([1, 0], [len(upper), len(lone)])
    upper, lower = np.append(upper, lone), np.append(lower, lone)
    low, high = runs.place[runs.first], runs.place[runs.last]
    # Of a row that meets two rows, each strip takes the part that lies before or beyond its own.
    own = np.stack([low[upper], high[upper], low[lower], high[lower]], axis=1)
    met = own[:, [2, 3, 0, 1]] + np.array([-1, 1, -1, 1])
    ends = np.where(np.array([True, False] * 2), np.maximum(own, met), np.minimum(own, met))
    cut_low, cut_high = _cut(layout, runs.first, -across), _cut(layout, runs.last, across)
    cut = np.stack([cut_low[upper], cut_high[upper], cut_low[lower], cut_high[lower]], axis=1)
    ends = ends + np.array([-1, 1, -1, 1]) * (cut & (ends == own))
    strip = runs.first[upper]
    return Rows(along[strip], across[strip], runs.line[strip], height, ends.astype(np.float64))


def _runs(layout: Layout, which: BoolArray, along: IntArray, across: IntArray) -> _Runs:
    pinholes, zone, block = layout.piece.pinholes, layout.piece.zone, layout.block
    line, place = (pinholes * along).sum(axis=1), (pinholes * across).sum(axis=1)
    chosen = np.flatnonzero(which)
    order = chosen[np.lexsort((place[chosen], line[chosen], zone[chosen], block[chosen]))]
    keys = np.stack([block[order], zone[order], line[order]])
    begins = np.ones(len(order), dtype=np.bool_)
    begins[1:] = (np.diff(keys) != 0).any(axis=0) | (np.diff(place[order]) != 2)
    first = np.flatnonzero(begins)
    last = np.append(first[1:], len(order)) - 1 if len(order) else first
    of = np.full(len(pinholes) + 1, -1)
    of[order] = np.cumsum(begins) - 1
    return _Runs(of, order[first], order[last], line, place)


def _linked(layout: Layout, runs: _Runs) -> tuple[IntArray, IntArray]:
    """Pairs of runs that are neighbours, one line apart, in one block and one zone: upper and lower."""
    beside = layout.piece.neighbours
    block, zone = np.append(layout.block, -1), np.append(layout.piece.zone, -1)
    same = (runs.of[beside] >= 0) & (runs.of[:-1, None] >= 0)
    same &= np.append(runs.line, 0)[beside] == runs.line[:, None] + 1
    same &= (block[beside] == block[:-1, None]) & (zone[beside] == zone[:-1, None])
    place, step = np.nonzero(same)
    pairs = np.unique(np.stack([runs.of[place], runs.of[beside[place, step]]], axis=1), axis=0)
    return pairs[:, 0], pairs[:, 1]


def _cut(layout: Layout, ends: IntArray, direction: IntArray) -> BoolArray:
    """Whether the block goes on beyond each place of `ends`, across a corner line, in the direction given there.

    A run that ends although the whole hole beyond its end lies in the block is cut by a corner line.
    """
    full = whole_holes(layout)
    hole_beyond = np.zeros((len(layout.piece), 4), dtype=np.bool_)
    hole_beyond[full, np.arange(4)] = True
    # From its top pinhole a hole lies downwards, from its right one to the left, and so on.
    inward = -_CORNERS
    side = (direction[ends][:, None, :] == inward).all(axis=2).argmax(axis=1)
    beyond: BoolArray = hole_beyond[ends, side]
    return beyond


def whole_holes(layout: Layout) -> IntArray:
    """(k, 4) the holes whose four pinholes lie in one block: top, right, bottom, left."""
    around = holes_below(layout.piece)
    block = np.append(layout.block, -1)[around]
    whole: IntArray = around[(block[:, 0] >= 0) & (block == block[:, :1]).all(axis=1)]
    return whole

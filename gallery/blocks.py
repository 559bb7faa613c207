"""Blocks as areas and as rows: outlines, and the rows in which a worker crosses them.

Rows run across the working direction of their zone. A row goes from pin to pin; where a corner line cuts it
(the block goes on in the next quarter) it runs one unit further, to the corner line itself.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from constraints.lattice import BoolArray, FloatArray, IntArray
from constraints.layout import Layout
from gallery.marks import whole_holes

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
    line: (strips,) where the first of the strip's two rows lies on `along`; ends: (strips, 4) low and high
    end of the first row, low and high end of the second, on `across`.
    """

    along: IntArray
    across: IntArray
    line: IntArray
    ends: FloatArray

    def side(self, high: bool, share: float) -> FloatArray:
        """(strips, 2) points `share` of the way along the low or high side of every strip."""
        first, second = self.ends[:, int(high)], self.ends[:, 2 + int(high)]
        return self.place(self.line.astype(np.float64) + share, first + share * (second - first))

    def place(self, line: FloatArray, across: FloatArray) -> FloatArray:
        """Points at places on the two vectors, shape (..., 2)."""
        return line[..., None] * self.along + across[..., None] * self.across

    def lines(self, low: float, high: float) -> FloatArray:
        """(strips, 2, 2) a line through every strip, from a share of its low side to one of its high side."""
        return np.stack([self.side(False, low), self.side(True, high)], axis=1)


def rows(layout: Layout, which: BoolArray, lengthwise: bool = False) -> Rows:
    """The rows of the places in the mask `which` (n,), strip by strip.

    lengthwise: take the columns that run with the working direction, as passives do, instead of the rows.
    """
    piece = layout.piece
    direction = piece.directions[piece.zone]
    sideways = np.stack([direction[:, 1], -direction[:, 0]], axis=1)
    along, across = (sideways, direction) if lengthwise else (direction, sideways)
    line, place = (piece.pinholes * along).sum(axis=1), (piece.pinholes * across).sum(axis=1)
    chosen = np.flatnonzero(which & layout.inside)
    order = chosen[np.lexsort((place[chosen], line[chosen], piece.zone[chosen], layout.block[chosen]))]
    keys = np.stack([layout.block[order], piece.zone[order], line[order], place[order]])
    begins = np.ones(len(order), dtype=np.bool_)
    begins[1:] = (np.diff(keys[:3]) != 0).any(axis=0) | (np.diff(keys[3]) != 2)
    first = np.flatnonzero(begins)
    last = np.append(first[1:], len(order)) - 1 if len(order) else first
    run = np.full(len(piece) + 1, -1)
    run[order] = np.cumsum(begins) - 1
    upper, lower = _linked(layout, run, line)
    low, high = place[order[first]], place[order[last]]
    lower_low, upper_low = low[lower], low[upper]
    ends = np.stack(
        [
            np.maximum(upper_low, lower_low - 1),
            np.minimum(high[upper], high[lower] + 1),
            np.maximum(lower_low, upper_low - 1),
            np.minimum(high[lower], high[upper] + 1),
        ],
        axis=1,
    )
    cut_low, cut_high = _cut(layout, order[first], -across), _cut(layout, order[last], across)
    reach = np.stack([cut_low[upper], cut_high[upper], cut_low[lower], cut_high[lower]], axis=1)
    full = ends == np.stack([upper_low, high[upper], lower_low, high[lower]], axis=1)
    ends = ends + np.array([-1, 1, -1, 1]) * (reach & full)
    strip = order[first[upper]]
    return Rows(along[strip], across[strip], line[strip], ends.astype(np.float64))


def _linked(layout: Layout, run: IntArray, line: IntArray) -> tuple[IntArray, IntArray]:
    """Pairs of runs that are neighbours, one line apart, in one block and one zone: upper and lower."""
    piece = layout.piece
    beside = piece.neighbours
    block, zone = np.append(layout.block, -1), np.append(piece.zone, -1)
    next_line = np.append(line, 0)[beside] == line[:, None] + 1
    same = (run[beside] >= 0) & (run[:-1, None] >= 0) & next_line
    same &= (block[beside] == layout.block[:, None]) & (zone[beside] == piece.zone[:, None])
    place, step = np.nonzero(same)
    pairs = np.unique(np.stack([run[place], run[beside[place, step]]], axis=1), axis=0)
    return pairs[:, 0], pairs[:, 1]


def _cut(layout: Layout, ends: IntArray, way: IntArray) -> BoolArray:
    """Whether the block goes on beyond each place of `ends`, across a corner line, the way given there.

    A run that ends although the whole hole beyond its end lies in the block is cut by a corner line.
    """
    full = whole_holes(layout)
    hole_beyond = np.zeros((len(layout.piece), 4), dtype=np.bool_)
    hole_beyond[full, np.arange(4)] = True
    # From its top pinhole a hole lies downwards, from its right one to the left, and so on.
    inward = -_CORNERS
    side = (way[ends][:, None, :] == inward).all(axis=2).argmax(axis=1)
    beyond: BoolArray = hole_beyond[ends, side]
    return beyond

"""The arcs of the pairs from pinhole to pinhole, with their sides: what comes from the left and what from the right.

Left and right are the lacemaker's, with the work running towards her.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterable
from functools import cached_property
from typing import NamedTuple

import numpy as np

from constraints.fillings import NUMBERS, Unit
from constraints.flow import over_start, pair_arcs
from constraints.lattice import STEPS, BoolArray, IntArray
from constraints.layout import Layout, locate
from constraints.piece import LEFT_EDGE, Piece

OUTSIDE = -1


class CrossOver(NamedTuple):
    """Two arcs that cross, the left one first, and the figure at a corner of which they do."""

    left: int
    right: int
    unit: Unit


class Arcs:
    """The arcs of one piece, numbered: first those of `flow.pair_arcs`, then the pairs hung on or finished
    at an edge.

    tail, head: (w,) pinholes, OUTSIDE at an edge. row_tail, row_head: (w,) pinholes in whose rows an arc begins and
    ends: the same, but that the edge pair works in every row of a fan. edge: (w,) whether it is the edge pair's.
    over: (w,) whether the start line cuts it. start_row: of a horizontal start, see `flow.over_start`. from_side,
    to_side: (w,) where it comes into its head and leaves its tail: the lower, the further left; the edge pair lies
    outside all others.
    """

    def __init__(self, piece: Piece, start: str, row: int | None = None) -> None:
        self.piece, self.start_row = piece, row
        own = pair_arcs(piece)
        steps = int((piece.runs_out & (piece.neighbours >= 0)).sum())
        edge = np.arange(len(own)) >= steps
        sideways = _sideways(piece)
        rim = np.where(piece.edge == LEFT_EDGE, -2, 2)
        between = piece.pinholes[own[:, 1]] - piece.pinholes[own[:, 0]]
        to_side = np.where(edge, rim[own[:, 0]], (between * sideways[own[:, 0]]).sum(axis=1))
        from_side = np.where(edge, rim[own[:, 1]], -(between * sideways[own[:, 1]]).sum(axis=1))
        over = over_start(piece, own, start, row)
        hung, hung_side = self._missing(own[:, 1], from_side)
        done, done_side = self._missing(own[:, 0], to_side)
        outside = np.full(len(hung), OUTSIDE), np.full(len(done), OUTSIDE)
        self.tail: IntArray = np.concatenate([own[:, 0], outside[0], done])
        self.head: IntArray = np.concatenate([own[:, 1], hung, outside[1]])
        more = np.zeros(len(hung) + len(done), dtype=np.bool_)
        self.edge: BoolArray = np.concatenate([edge, more])
        self.over: BoolArray = np.concatenate([over, more])
        self.from_side: IntArray = np.concatenate([from_side, hung_side, 0 * done_side])
        self.to_side: IntArray = np.concatenate([to_side, 0 * hung_side, done_side])
        self.row_head, self.row_tail = self._rows_of_headside()

    def __len__(self) -> int:
        return len(self.tail)

    def _missing(self, at: IntArray, side: IntArray) -> tuple[IntArray, IntArray]:
        """Pinholes that lack a pair, once for each, and the side on which it lies: the one still free."""
        count = np.bincount(at, minlength=len(self.piece))
        held = np.bincount(at, weights=side, minlength=len(self.piece))
        lacking = np.repeat(np.arange(len(self.piece)), 2 - count)
        again = np.append(False, lacking[1:] == lacking[:-1])
        only = np.where(held[lacking] > 0, -1, 1)
        return lacking, np.where(count[lacking] == 0, np.where(again, 1, -1), only).astype(np.int64)

    def _rows_of_headside(self) -> tuple[IntArray, IntArray]:
        """Heads and tails, where an edge pair comes into a fan or leaves it those of the row before or after."""
        fan = np.append(self.piece.fan, False)
        moved = []
        for near, far, back in ((self.head, self.tail, -1), (self.tail, self.head, 1)):
            found = near.copy()
            own = (self.edge | (far == OUTSIDE)) & fan[near] & ~fan[far]
            for arc in np.flatnonzero(own).tolist():
                beside = self._in_next_row(int(near[arc]), back)
                if beside >= 0 and fan[beside]:
                    found[arc] = beside
            moved.append(found)
        return moved[0], moved[1]

    def _in_next_row(self, pinhole: int, back: int) -> int:
        """The neighbour of an edge pin in the row before or after it."""
        direction = self.piece.directions[self.piece.zone[pinhole]]
        steps = np.flatnonzero(back * (STEPS @ direction) > 0)
        return int(self.piece.neighbours[pinhole, steps].max())

    def ordered(self, arcs: Iterable[int], coming: bool) -> list[int]:
        """Arcs from left to right as they come into their heads, or leave their tails; all of one zone."""
        pinhole, side = (self.head, self.from_side) if coming else (self.tail, self.to_side)
        return sorted(arcs, key=lambda arc: (self.across(int(pinhole[arc])), int(side[arc])))

    def across(self, pinhole: int) -> int:
        """How far right a pinhole lies in its zone, units from the middle of the piece."""
        return self._across[pinhole]

    @cached_property
    def _across(self) -> list[int]:
        found: list[int] = (self.piece.pinholes * _sideways(self.piece)).sum(axis=1).tolist()
        return found

    def into(self, number: IntArray, count: int) -> list[list[int]]:
        """For each of `count` groups the arcs that come into it. number: (n,) group of each pinhole."""
        return _grouped(np.append(number, OUTSIDE)[self.row_head], count)

    def out_of(self, number: IntArray, count: int) -> list[list[int]]:
        """For each of `count` groups the arcs that leave it. number: (n,) group of each pinhole."""
        return _grouped(np.append(number, OUTSIDE)[self.row_tail], count)

    def crossing_over(self, layout: Layout) -> dict[int, CrossOver]:
        """For each arc through a cross-over the two that cross there.

        Two arcs run side by side past a hole at a corner of a figure that has cross-overs, from two of its pinholes to
        the two others.
        """
        over = [placed for placed in layout.units if placed.unit.cross_over]
        holes = [placed.centres + step for placed in over for step in STEPS]
        if not holes:
            return {}
        centres = np.unique(np.concatenate(holes), axis=0)
        number = {(a, b): arc for arc, (a, b) in enumerate(zip(self.tail.tolist(), self.head.tolist(), strict=True))}
        top, right, bottom, left = (
            locate(self.piece, centres + np.array(at)).tolist() for at in ((0, -1), (1, 0), (0, 1), (-1, 0))
        )
        units = {number: figure.unit for number, figure in enumerate(layout.figures) if figure.unit.cross_over}
        found: dict[int, CrossOver] = {}
        for corners in zip(top, right, bottom, left, strict=True):
            self._cross_over(corners, number, layout.unit_of, units, found)
        return found

    def _cross_over(
        self,
        corners: tuple[int, int, int, int],
        number: dict[tuple[int, int], int],
        unit_of: IntArray,
        units: dict[int, Unit],
        found: dict[int, CrossOver],
    ) -> None:
        top, right, bottom, left = corners
        for first, second in (((top, right), (left, bottom)), ((top, left), (right, bottom))):
            pair = [number.get(each, number.get(each[::-1], -1)) for each in (first, second)]
            # Between two pins a pair crosses over once, though figures of two fields may want it on both its sides.
            if min(pair) < 0 or min(corners) < 0 or pair[0] in found or pair[1] in found:
                continue
            # Of the two directions past a hole, a figure's corner is passed along one: out of it or into it.
            ends = [{int(unit_of[pinhole]) for pinhole in end} for end in zip(first, second, strict=True)]
            passed = [units[end.pop()] for end in ends if len(end) == 1 and end <= units.keys()]
            if passed:
                unit = min(passed, key=lambda each: NUMBERS[each.filling])
                left_one, right_one = self.ordered(pair, coming=True)
                found[pair[0]] = found[pair[1]] = CrossOver(left_one, right_one, unit)


def _sideways(piece: Piece) -> IntArray:
    """(n, 2) the step to the lacemaker's right at each pinhole."""
    direction = piece.directions[piece.zone]
    return np.stack([direction[:, 1], -direction[:, 0]], axis=1)


def _grouped(number: IntArray, count: int) -> list[list[int]]:
    order = np.argsort(number, kind="stable")
    starts = np.searchsorted(number[order], np.arange(count + 1))
    return [order[a:b].tolist() for a, b in itertools.pairwise(starts)]

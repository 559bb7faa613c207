"""Blocks of one worker each, laid one after the other where they are worth most: a first answer for the solver.

Within a zone such a block is a run of rows along one diagonal, each a stretch of pinholes whose two ends never fall
back (the parallelogram polyominoes of `one_worker`). The one worth most is found exactly, row by row. One after the
other is laid off those before, then each is laid anew among the others until nothing is gained.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from constraints.lattice import BoolArray, FloatArray, IntArray
from constraints.piece import Piece

# Worth of a place that is closed, and from where a sum holds such a place.
_CLOSED, _NO = -1e9, -5e8
# Blocks of one zone, and rounds of laying each anew.
_MOST, _ROUNDS = 12, 2


def hulls(piece: Piece, worth: IntArray, places: BoolArray, least: float) -> BoolArray:
    """(n,) blocks without a split, under the piece's symmetry, that are worth much; they mostly keep the block rules.

    worth: (n,) of a block at each pinhole. places: (n,) where blocks may lie. least: that a block must be worth.
    """
    block = np.zeros(len(piece), dtype=np.bool_)
    own = piece.representatives
    for zone in np.unique(piece.zone[own[places[own]]]).tolist():
        here = np.flatnonzero(places & (piece.zone == zone))
        row, column = _rows(piece.pinholes[here], piece.directions[zone])
        table = np.full((int(row.max()) + 1, int(column.max()) + 1), _CLOSED)
        table[row, column] = worth[here]
        for each in _laid(table, least):
            block[here] |= each[row, column]
    of_orbit = np.zeros(len(own), dtype=np.bool_)
    np.logical_or.at(of_orbit, piece.orbit, block)
    spread: BoolArray = of_orbit[piece.orbit]
    return spread


def _rows(pinholes: IntArray, direction: IntArray) -> tuple[IntArray, IntArray]:
    """Row and column of pinholes (k, 2) along the diagonals, so that the ends of a block's rows never fall back."""
    x, y = pinholes.T
    column, row = (x + y) // 2, (y - x) // 2
    if direction[0]:
        row = -row
    return row - row.min(), column - column.min()


def _laid(table: FloatArray, least: float) -> list[BoolArray]:
    """Blocks, each (rows, columns), laid on a table of worth."""
    blocks: list[BoolArray] = []
    reached = 0.0
    for _ in range(1 + _ROUNDS):
        number = 0
        while number < len(blocks):
            anew = _one_more(table, blocks[:number] + blocks[number + 1 :], least)
            blocks[number : number + 1] = [] if anew is None else [anew]
            number += anew is not None
        while len(blocks) < _MOST and (further := _one_more(table, blocks, least)) is not None:
            blocks.append(further)
        worth = float(sum(table[each].sum() for each in blocks))
        if worth <= reached:
            break
        reached = worth
    return blocks


def _one_more(table: FloatArray, others: list[BoolArray], least: float) -> BoolArray | None:
    """The block worth most that keeps off the others; None if none is worth enough."""
    free = table.copy()
    for other in others:
        free[_about(other)] = _CLOSED
    rows, columns = np.nonzero(free > 0)
    if not len(rows):
        return None
    top, left = max(0, int(rows.min()) - 1), max(0, int(columns.min()) - 1)
    found = best_run(free[top : int(rows.max()) + 2, left : int(columns.max()) + 2])
    if found is None:
        return None
    block = np.zeros(table.shape, dtype=np.bool_)
    for run in found.untorn():
        piece = np.zeros_like(block)
        for row, first, last in run:
            piece[top + row, left + first : left + last + 1] = True
        if table[piece].sum() > table[block].sum():
            block = piece
    return block if table[block].sum() >= least else None


def _about(block: BoolArray) -> BoolArray:
    """The block and what lies one or two steps from it along a row or column: ground between two is that wide."""
    wide = np.pad(block, 2)
    about = wide.copy()
    for steps in (1, 2, -1, -2):
        about |= np.roll(wide, steps, axis=0) | np.roll(wide, steps, axis=1)
    kept: BoolArray = about[2:-2, 2:-2]
    return kept


@dataclass(frozen=True)
class Staircase:
    """rows: row, first and last column of each, top down."""

    rows: list[tuple[int, int, int]]

    def untorn(self) -> list[list[tuple[int, int, int]]]:
        """The staircase, broken where a row's overlaps with the rows beside it leave pinholes in no square of two."""
        runs = [[self.rows[0]]]
        for before, (row, first, last), after in zip(
            self.rows[:-1], self.rows[1:], [*self.rows[2:], None], strict=True
        ):
            if after is None or after[1] <= before[2] + 1:
                runs[-1].append((row, first, last))
            else:
                runs[-1].append((row, first, before[2]))
                runs.append([(row, after[1], last)])
        return runs


def best_run(worth: FloatArray) -> Staircase | None:
    """The run of two rows or more, each overlapping the next by two pinholes or more, that is worth most.

    For every row, first and last pinhole the most that a run down to there is worth follows from the row before: the
    same steps as for a shortest path.
    """
    rows, columns = worth.shape
    if rows < 2 or columns < 2:
        return None
    first, last = np.indices((columns, columns))
    wide = last > first
    sums = np.concatenate([np.zeros((rows, 1)), np.cumsum(worth, axis=1)], axis=1)
    begun, grown = np.full((2, rows, columns, columns), _CLOSED)
    most, end = 0.0, (0, 0, 0)
    for row in range(rows):
        own = np.where(wide, sums[row][None, 1:] - sums[row][:-1, None], _CLOSED)
        own[own < _NO] = _CLOSED
        begun[row] = own
        if row == 0:
            continue
        # The first row ends on its left as the second does, the last on its right as the one before.
        before = np.maximum(np.maximum.accumulate(grown[row - 1], axis=0), begun[row - 1])
        before[~wide] = _CLOSED
        ended = own + before
        if (highest := float(ended.max())) > most:
            most, end = highest, (row, *divmod(int(ended.argmax()), columns))
        grown[row] = own + np.maximum.accumulate(before, axis=1)
        grown[row][grown[row] < _NO] = _CLOSED
    return None if most <= 0 else Staircase(_back(begun, grown, end, wide, first, last))


def _back(
    begun: FloatArray, grown: FloatArray, end: tuple[int, int, int], wide: BoolArray, first: IntArray, last: IntArray
) -> list[tuple[int, int, int]]:
    """The rows of the run that ends there, top down."""
    row, left, right = end
    rows = [end]
    ends = last == right
    while True:
        row -= 1
        fits = wide & (last > left) & ends
        on = np.where(fits & (first <= left), grown[row], _CLOSED)
        start = np.where(fits & (first == left), begun[row], _CLOSED)
        begins = start.max() >= on.max()
        left, right = divmod(int((start if begins else on).argmax()), wide.shape[1])
        rows.append((row, left, right))
        if begins:
            return rows[::-1]
        ends = last <= right

"""What is worked in one go: the pinholes of a piece gathered into rows of blocks, figures and single pinholes."""

from __future__ import annotations

from functools import lru_cache

import numpy as np

from constraints.flow import PIN, ROW, UNIT
from constraints.lattice import STEPS, IntArray, walk
from constraints.layout import Layout
from constraints.piece import Piece
from constraints.swings import uncut


def nodes_of(layout: Layout, start_row: int | None = None) -> IntArray:
    """Gather rows of blocks and the pinholes of units, in the form that `flow_of` takes. start_row: that of a
    horizontal start, see `flow.over_start`."""
    piece = layout.piece
    here, last, between = _rows(piece)
    # Places of one row touch if the block also holds a pinhole between them, before or after.
    same = layout.inside[here] & (last >= 0) & (layout.block[last] == layout.block[here])
    touching = (layout.block[between] == layout.block[here][:, None]) & (between >= 0)
    joined = same & touching.any(axis=1)
    gathered = np.empty(len(piece), dtype=np.int64)
    gathered[here] = 3 * np.cumsum(~joined) + np.where(layout.inside[here], ROW, PIN)
    first = 2 * len(piece) + 1
    for swing in uncut(layout, start_row):
        gathered[swing.places] = 3 * (first + swing.row) + ROW
        first += len(swing.outer)
    units = layout.unit_of
    return np.where(units >= 0, 3 * (units + len(piece) + 1) + UNIT, gathered)


@lru_cache(maxsize=16)
def _rows(piece: Piece) -> tuple[IntArray, IntArray, IntArray]:
    """Pinholes row by row, shape (n,); the one before each in its row, (n,); the two between them, (n, 2).

    -1 where there is none. A row lies in one zone, across its working direction.
    """
    direction = piece.directions[piece.zone]
    sideways = np.stack([direction[:, 1], -direction[:, 0]], axis=1)
    place = (piece.pinholes * sideways).sum(axis=1)
    along = (piece.pinholes * direction).sum(axis=1)
    here = np.lexsort([place, along, piece.zone])
    back = direction @ STEPS.T < 0
    towards = sideways @ STEPS.T < 0
    after = np.argmax(towards & ~back, axis=1)
    before = np.argmax(towards & back, axis=1)
    later = piece.neighbours[np.arange(len(piece)), after]
    earlier = piece.neighbours[np.arange(len(piece)), before]
    last = np.maximum(walk(piece.neighbours, later, before), walk(piece.neighbours, earlier, after))
    last = np.where((last >= 0) & (piece.zone[last] == piece.zone), last, -1)
    return here, last[here], np.stack([later, earlier], axis=1)[here]

"""What the grids of several forms have in common."""

from __future__ import annotations

import numpy as np

from constraints.lattice import BoolArray, Grid, IntArray, neighbour_table
from constraints.piece import ACROSS, ACROSS_DIRECTIONS, LEFT_EDGE, NO_EDGE, RIGHT_EDGE, Piece
from constraints.symmetry import Setting


def points(columns: tuple[int, int], rows: tuple[int, int], parity: int) -> IntArray:
    """All points of one parity between two columns and two rows, both counted, sorted by y, then x."""
    y, x = np.meshgrid(np.arange(rows[0], rows[1] + 1), np.arange(columns[0], columns[1] + 1), indexing="ij")
    keep = (x + y) % 2 == parity
    return np.stack([x[keep], y[keep]], axis=1)


def across(pinholes: IntArray, depth: IntArray, free: BoolArray, symmetry: str, setting: Setting) -> Piece:
    """A piece worked down in one zone, its edge pairs along the first column and the last one."""
    x = pinholes[:, 0]
    edge = np.where(x == x.min(), LEFT_EDGE, np.where(x == x.max(), RIGHT_EDGE, NO_EDGE))
    ahead = Grid.of(pinholes).at(setting.wrap.fold(pinholes + np.array([0, 2])))
    return Piece(
        worked=ACROSS,
        symmetry=symmetry,
        parity=int(pinholes[0].sum() % 2),
        pinholes=pinholes,
        neighbours=neighbour_table(pinholes, setting.wrap),
        depth=depth,
        zone=np.zeros(len(pinholes), dtype=np.int64),
        directions=ACROSS_DIRECTIONS,
        edge=edge,
        edge_next=np.where(edge != NO_EDGE, ahead, -1),
        free=free,
        fan=np.zeros(len(pinholes), dtype=np.bool_),
        held=np.zeros(len(pinholes), dtype=np.bool_),
        setting=setting,
    )

"""The pieces that are no squares: rectangles, strips and their repeats, frames round an opening."""

from __future__ import annotations

from functools import lru_cache

import numpy as np

from constraints.edging import Headside
from constraints.headside import dressed
from constraints.lattice import STEPS, BoolArray, Grid, IntArray, Wrap, neighbour_table
from constraints.piece import (
    ACROSS,
    ACROSS_DIRECTIONS,
    LEFT_EDGE,
    NO_EDGE,
    RIGHT_EDGE,
    ROUND,
    ROUND_DIRECTIONS,
    Piece,
    quarters,
)
from constraints.symmetry import CENTRED, Setting


@lru_cache(maxsize=16)
def rectangle(half_width: int, half_height: int, symmetry: str = "none") -> Piece:
    """A rectangle of half-sides A and B worked across; its four corner points are no pinholes."""
    pinholes = _points((-half_width, half_width), (-half_height, half_height), (half_width + half_height + 1) % 2)
    depth = np.array([half_width, half_height]) - np.abs(pinholes)
    return _across(pinholes, depth.min(axis=1), depth.min(axis=1) == 0, symmetry, CENTRED)


@lru_cache(maxsize=16)
def strip(columns: int, rows: int, headside: Headside | None = None, both: bool = False) -> Piece:
    """A strip from row 0 to its last one; pairs are hung on and finished at both."""
    pinholes = _points((0, columns - 1), (0, rows - 1), 1)
    x, y = pinholes.T
    depth = np.minimum(x, columns - 1 - x)
    # The first edge pin of an edge may stand in row 1, the last one in the last row but one.
    from_end = np.minimum(y, rows - 1 - y)
    plain = _across(pinholes, depth, (from_end == 0) | ((from_end == 1) & (depth == 0)), "none", CENTRED)
    return dressed(plain, headside, _headside_edges(both))


@lru_cache(maxsize=16)
def repeat(
    columns: int, rows: int, symmetry: str = "none", headside: Headside | None = None, both: bool = False
) -> Piece:
    """One repeat of a strip, its last row above its first one. ValueError if the rows are odd or the symmetry
    asks for other columns or rows."""
    if rows % 2:
        raise ValueError(f"a repeat of {rows} rows does not meet itself: their number is even")
    pinholes = _points((0, columns - 1), (0, rows - 1), 1)
    # A half-turn of an even number of columns must turn about a point between two rows, a level mirror lies in a
    # valley of the headside.
    turn = int(symmetry == "half-turn" and columns % 2 == 0)
    middle = (columns - 1, turn if headside is None else 2 * headside.first + turn)
    depth = np.minimum(pinholes[:, 0], columns - 1 - pinholes[:, 0])
    nowhere = np.zeros(len(pinholes), dtype=np.bool_)
    plain = _across(pinholes, depth, nowhere, symmetry, Setting(middle, Wrap(rows)))
    return dressed(plain, headside, _headside_edges(both))


@lru_cache(maxsize=16)
def frame(
    half_width: int, half_height: int, band: int, symmetry: str = "none", headside: Headside | None = None
) -> Piece:
    """A frame of half-sides A and B worked round, its band so many units wide from edge pin to edge pin.

    x + y has the parity opposite to A + B, so that no pinhole lies on a corner line; only then do the corners
    balance. The corner lines run from the outer corners inwards. At an inner corner the edge pair takes one of
    the steps across the corner line.
    """
    parity = (half_width + half_height + 1) % 2
    pinholes = _points((-half_width, half_width), (-half_height, half_height), parity)
    sides = np.array([half_width, half_height])
    from_outside = (sides - np.abs(pinholes)).min(axis=1)
    pinholes, from_outside = pinholes[from_outside <= band], from_outside[from_outside <= band]
    zone = quarters(pinholes, half_width, half_height)
    edge = np.where(from_outside == 0, LEFT_EDGE, np.where(from_outside == band, RIGHT_EDGE, NO_EDGE))
    neighbours, grid, forward = neighbour_table(pinholes), Grid.of(pinholes), ROUND_DIRECTIONS[zone]
    # An edge pin that lacks one of its two steps forward passes that pair on along the edge: two units on, or past an
    # outer corner one unit on and one in. The last pin before an inner corner has both steps.
    lacking = ((neighbours < 0) & (forward @ STEPS.T > 0)).any(axis=1)
    ahead = grid.at(pinholes + 2 * forward)
    inward = -np.sign(pinholes) * np.abs(forward[:, ::-1])
    ahead = np.where(ahead < 0, grid.at(pinholes + forward + inward), ahead)
    plain = Piece(
        worked=ROUND,
        symmetry=symmetry,
        parity=parity,
        pinholes=pinholes,
        neighbours=neighbours,
        depth=np.minimum(from_outside, band - from_outside),
        zone=zone,
        directions=ROUND_DIRECTIONS,
        edge=edge,
        edge_next=np.where(lacking, ahead, -1),
        free=np.zeros(len(pinholes), dtype=np.bool_),
        fan=np.zeros(len(pinholes), dtype=np.bool_),
        held=np.zeros(len(pinholes), dtype=np.bool_),
    )
    return dressed(plain, headside, (LEFT_EDGE,))


def _headside_edges(both: bool) -> tuple[int, ...]:
    return (LEFT_EDGE, RIGHT_EDGE) if both else (RIGHT_EDGE,)


def _points(columns: tuple[int, int], rows: tuple[int, int], parity: int) -> IntArray:
    """All points of one parity between two columns and two rows, both counted, sorted by y, then x."""
    y, x = np.meshgrid(np.arange(rows[0], rows[1] + 1), np.arange(columns[0], columns[1] + 1), indexing="ij")
    keep = (x + y) % 2 == parity
    return np.stack([x[keep], y[keep]], axis=1)


def _across(pinholes: IntArray, depth: IntArray, free: BoolArray, symmetry: str, setting: Setting) -> Piece:
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

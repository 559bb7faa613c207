"""What the grids of several forms have in common."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache

import numpy as np

from constraints.edgings import Headside, dressing
from constraints.lattice import STEPS, BoolArray, Grid, IntArray, neighbour_table
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


@lru_cache(maxsize=16)
def in_rows(half_width: int, half_height: int, symmetry: str) -> Piece:
    """A piece of half-sides A and B laid about a middle, worked across; its four corner points are no pinholes."""
    pinholes = _about_middle(half_width, half_height)
    depth = (np.array([half_width, half_height]) - np.abs(pinholes)).min(axis=1)
    return across(pinholes, depth, depth == 0, symmetry, CENTRED)


@lru_cache(maxsize=16)
def in_quarters(half_width: int, half_height: int, band: int, symmetry: str) -> Piece:
    """A piece of half-sides A and B worked round, its band so many units wide from edge pin to edge pin; a band as wide
    as the piece leaves no opening.

    The corner lines run from the outer corners inwards. At an inner corner the edge pair takes one of the steps across
    the corner line.
    """
    pinholes = _about_middle(half_width, half_height)
    from_outside = (np.array([half_width, half_height]) - np.abs(pinholes)).min(axis=1)
    pinholes, from_outside = pinholes[from_outside <= band], from_outside[from_outside <= band]
    zone = quarters(pinholes, half_width, half_height)
    edge = np.where(from_outside == 0, LEFT_EDGE, np.where(from_outside == band, RIGHT_EDGE, NO_EDGE))
    neighbours, grid, forward = neighbour_table(pinholes), Grid.of(pinholes), ROUND_DIRECTIONS[zone]
    # An edge pin that lacks one of its two steps forward passes that pair on along the edge: two units on, or past an
    # outer corner, where it turns inwards with the pillow, one unit on and one in. The last pin before an inner corner
    # has both steps.
    lacking = ((neighbours < 0) & (forward @ STEPS.T > 0)).any(axis=1)
    ahead = grid.at(pinholes + 2 * forward)
    inward = -np.sign(pinholes) * np.abs(forward[:, ::-1])
    ahead = np.where(ahead < 0, grid.at(pinholes + forward + inward), ahead)
    nowhere = np.zeros(len(pinholes), dtype=np.bool_)
    return Piece(
        worked=ROUND,
        symmetry=symmetry,
        parity=int(pinholes[0].sum() % 2),
        pinholes=pinholes,
        neighbours=neighbours,
        depth=np.minimum(from_outside, band - from_outside),
        zone=zone,
        directions=ROUND_DIRECTIONS,
        edge=edge,
        edge_next=np.where(lacking, ahead, -1),
        free=nowhere,
        fan=nowhere,
        held=nowhere,
    )


@lru_cache(maxsize=16)
def dressed_outside(plain: Piece, headside: Headside | None) -> Piece:
    """The piece with a headside along its outer edge."""
    return dressing.dressed(plain, headside, (LEFT_EDGE,))


@lru_cache(maxsize=16)
def dressed_beside(plain: Piece, headside: Headside | None) -> Piece:
    """The piece worked across with a headside along its left edge and its right one. Pairs are hung on and finished at
    its top and its bottom alone."""
    if headside is None:
        return plain
    y = plain.pinholes[:, 1]
    from_end = y.max() - np.abs(y)
    free = (from_end == 0) | ((from_end == 1) & (plain.edge != NO_EDGE))
    return dressing.dressed(replace(plain, free=free), headside, (LEFT_EDGE, RIGHT_EDGE), headside.first)


def _about_middle(half_width: int, half_height: int) -> IntArray:
    """(n, 2) |x| <= A and |y| <= B, x + y of the parity opposite to A + B: so no pinhole lies on a corner line.

    Only then do the corners balance.
    """
    rows, columns = (-half_height, half_height), (-half_width, half_width)
    return points(columns, rows, (half_width + half_height + 1) % 2)

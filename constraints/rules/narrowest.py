"""Narrowest: every block place lies in an all-block lattice square of the given size."""

from __future__ import annotations

import numpy as np

from constraints.formula import FALSE
from constraints.lattice import IntArray
from constraints.variables import Model

NAME = "narrowest"


def narrowest(model: Model) -> None:
    """A trail is nowhere narrower than the brief asks (trails of 3 or 4: common practice, no source)."""
    size = model.rules.narrowest
    if size < 2:
        return
    squares = model.piece.lattice_squares(size)
    if model.rules.corners:
        # Either half of a block is a block of its own.
        squares = squares[model.piece.one_zone(squares)]
    full = model.formula.all_of(NAME, model.block[squares])
    own = np.flatnonzero(~model.piece.fan)
    model.formula.clause(NAME, ~model.block[own], covering(squares, full, len(model.piece))[own])


def covering(squares: IntArray, literal: IntArray, pinholes: int) -> IntArray:
    """For each pinhole the literals of the squares that hold it, padded with FALSE: (pinholes, width)."""
    flat = squares.reshape(-1)
    order = np.argsort(flat, kind="stable")
    owner = flat[order]
    value = np.repeat(literal, squares.shape[1])[order]
    count = np.bincount(owner, minlength=pinholes)
    column = np.arange(len(owner)) - np.repeat(np.cumsum(count) - count, count)
    table = np.full((pinholes, int(count.max(initial=0))), FALSE)
    table[owner, column] = value
    return table

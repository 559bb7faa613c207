"""Narrowest: every block place lies in an all-block lattice square of the given size."""

from __future__ import annotations

import numpy as np

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
    model.formula.clause(NAME, ~model.block[own], model.covering(squares, full)[own])

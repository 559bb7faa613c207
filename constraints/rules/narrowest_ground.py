"""Narrowest ground: every open pinhole inside the edge lies in an all-open lattice square of the given size.

Common practice, no source.
"""

from __future__ import annotations

import numpy as np

from constraints.variables import Model

NAME = "narrowest ground"


def narrowest_ground(model: Model) -> None:
    """With size 2 no open pinhole is squeezed between blocks; with 1 single rows of holes are allowed."""
    size = model.rules.narrowest_ground
    if size < 2:
        return
    if size == 2:  # the squares are the holes, whose openness has its variable already
        squares, clear = model.piece.holes, model.open_hole
    else:
        squares = model.piece.lattice_squares(size)
        clear = model.formula.all_of(NAME, ~model.block[squares])
    inside = np.flatnonzero(model.piece.depth >= 1)
    model.formula.clause(NAME, model.block[inside], model.covering(squares, clear)[inside])

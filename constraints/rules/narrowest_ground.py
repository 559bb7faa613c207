"""Narrowest ground: every open pinhole inside the edge lies in an all-open lattice square of the given size.

Common practice, no source.
"""

from __future__ import annotations

import numpy as np

from constraints.rules.narrowest import covering
from constraints.variables import Model

NAME = "narrowest ground"


def narrowest_ground(lace: Model) -> None:
    """With size 2 no open pinhole is squeezed between blocks; with 1 single rows of holes are allowed."""
    size = lace.brief.narrowest_ground
    if size < 2:
        return
    if size == 2:  # the squares are the holes, whose openness has its variable already
        squares, clear = lace.piece.holes, lace.open_hole
    else:
        squares = lace.piece.lattice_squares(size)
        clear = lace.formula.all_of(NAME, ~lace.block[squares])
    inside = np.flatnonzero(lace.piece.depth >= 1)
    lace.formula.clause(NAME, lace.block[inside], covering(squares, clear, len(lace.piece))[inside])

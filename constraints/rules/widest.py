"""Widest: no all-block lattice square larger than the given size."""

from __future__ import annotations

import numpy as np

from constraints import symmetry as symmetries
from constraints.variables import Model

NAME = "widest"


def widest(lace: Model) -> None:
    """A wide block wants many passives and dense cloth pulls the ground: the brief may cap its width."""
    size = lace.brief.widest + 1
    squares = lace.piece.lattice_squares(size)
    squares = squares[~lace.piece.fan[squares].any(axis=1)]
    if lace.brief.corners:
        squares = squares[lace.piece.one_zone(squares)]
    if not len(squares):
        return
    # One of each orbit says it all, and these are the longest clauses of the formula.
    centres = lace.piece.setting.wrap.fold(lace.piece.pinholes[squares[:, 0]] + np.array([0, size - 1]))
    _, representatives = symmetries.orbits(lace.piece.images_of(centres))
    lace.formula.clause(NAME, ~lace.block[squares[representatives]])

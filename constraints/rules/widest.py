"""Widest: no all-block lattice square larger than the given size."""

from __future__ import annotations

import numpy as np

from constraints import symmetry as symmetries
from constraints.variables import Model

NAME = "widest"


def widest(model: Model) -> None:
    """A wide block wants many passives and dense cloth pulls the ground: the brief may cap its width."""
    size = model.rules.widest + 1
    squares = model.piece.lattice_squares(size)
    squares = squares[~model.piece.fan[squares].any(axis=1)]
    if model.rules.corners:
        squares = squares[model.piece.one_zone(squares)]
    if not len(squares):
        return
    # One of each orbit says it all, and these are the longest clauses of the formula.
    centres = model.piece.setting.wrap.fold(model.piece.pinholes[squares[:, 0]] + np.array([0, size - 1]))
    _, representatives = symmetries.orbits(model.piece.images_of(centres))
    model.formula.clause(NAME, ~model.block[squares[representatives]])

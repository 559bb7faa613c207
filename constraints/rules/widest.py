"""Widest: no all-block lattice square larger than the given size."""

from __future__ import annotations

from constraints.variables import Lace

NAME = "widest"


def widest(lace: Lace) -> None:
    """A wide block wants many passives and dense cloth pulls the ground: the brief may cap its width."""
    squares = lace.piece.lattice_squares(lace.brief.widest + 1)
    lace.formula.clause(NAME, ~lace.block[squares])

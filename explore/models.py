"""What every search does with the models of a piece: the block rules for composing, and a composition settled."""

from __future__ import annotations

from dataclasses import replace

from constraints import rulebook
from constraints.brief import Brief
from constraints.formula import Linear
from constraints.lattice import BoolArray
from constraints.piece import Piece
from constraints.solver import Solver
from constraints.variables import Model

# Deterministic time for the whole model, starting from a composed hint.
_SOLVE_EFFORT = 0.5


def block_rules(piece: Piece, brief: Brief) -> Model:
    """The block rules alone, in one stitch: for composing."""
    stitch = next(name for name in ("cloth", "half", "whole") if name in brief.stitches)
    plain = replace(brief, stitches=(stitch,), least={}, solid=(0.0, 1.0))
    return rulebook.build(piece, plain, rulebook.BLOCK_RULES)


def settled(model: Model, solver: Solver, values: BoolArray, extra: Linear | None) -> tuple[BoolArray | None, str]:
    """The composition itself if it keeps every rule, else the solution that the solver reaches from it, and its status.

    solver: of all rules of the lace. extra: one more constraint.
    """
    formula = model.formula
    values = formula.complete(values)
    matched = extra is None or extra.least <= int(extra.weights @ values[extra.variables])
    if matched and not formula.broken(values):
        return values, ""
    answer = solver.solve(values, _SOLVE_EFFORT * model.brief.effort, extra)
    return answer.values, answer.status.value

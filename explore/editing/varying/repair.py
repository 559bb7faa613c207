"""Mending a composition that breaks a rule: the solver's square near it, with everything kept fixed."""

from __future__ import annotations

import copy

import numpy as np

from constraints.fillings import GROUNDS
from constraints.formula import FALSE, TRUE, Linear, linear, variable_of
from constraints.lattice import BoolArray, IntArray
from constraints.places import BLOCK, OPEN, sort_of
from constraints.restricting import restrict
from constraints.solver import Solver
from explore.editing.varying.setting import VaryingContext

# Deterministic time of one mending.
_EFFORT = 0.25


def mended(setting: VaryingContext, change: tuple[float, float], hint: BoolArray) -> BoolArray | None:
    """Values near the hint whose share of changed pinholes lies in `change`. None if not found in the effort."""
    model = setting.context.model
    formula = copy.copy(model.formula)
    formula.linears = [*formula.linears, _change_asked(setting, change)]
    small, kept = restrict(formula, setting.values, _free(setting))
    answer = Solver(small).solve(hint[kept], _EFFORT * setting.brief.run.effort)
    if answer.values is None:
        return None
    values = setting.values.copy()
    values[kept] = answer.values
    return model.formula.complete(values)


def _free(setting: VaryingContext) -> BoolArray:
    """(size,) the variables that nothing kept depends on."""
    model = setting.context.model
    free = np.ones(model.formula.size, dtype=np.bool_)
    for literals in model.stitch.values():
        _fix(free, literals[setting.old.fixed])
    for sites in model.sites.values():
        _fix(free, sites.chosen[setting.kept_fillings[sites.pinholes].any(axis=1)])
    touched = setting.kept_fillings[model.piece.holes].any(axis=1)
    if GROUNDS.keys() & model.labels.codes.keys():
        for bits in model.labels.bits:
            _fix(free, bits[touched])
    return free


def _change_asked(setting: VaryingContext, change: tuple[float, float]) -> Linear:
    """The share that differs, as a sum of literals. Grounds count as they do in the chosen square."""
    model, n = setting.context.model, len(setting.context.piece)
    literals, weights = [model.block], [np.where(setting.sorts == BLOCK, -1, np.where(setting.sorts == OPEN, 1, 0))]
    constant = int((setting.sorts != OPEN).sum())
    for sites in model.sites.values():
        if not len(sites.chosen):
            continue
        own = sort_of(sites.unit.name)
        each = np.where(setting.sorts == own, -1, np.where(setting.sorts == OPEN, 1, 0))
        literals.append(sites.chosen)
        weights.append(each[sites.pinholes].sum(axis=1))
    low, high = int(np.ceil(change[0] * n)) - constant, int(change[1] * n) - constant
    return linear("change", np.concatenate(literals), np.concatenate(weights), low, high)


def _fix(free: BoolArray, literals: IntArray) -> None:
    real = literals[(literals != TRUE) & (literals != FALSE)]
    free[variable_of(real)] = False

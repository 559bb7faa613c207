"""A good answer bettered in one place after the other: what lies outside a window stays as it is.

A large print has too many pinholes for one solve to come to anything, a window of it has not; and what goes wrong goes
wrong in one place or another.
"""

from __future__ import annotations

import numpy as np

from constraints.formula import TRUE, Formula, variable_of
from constraints.lattice import BoolArray, IntArray
from constraints.restricting import restrict
from constraints.solver import Solver

# How far a window reaches from its middle, units: about 300 pinholes (measured on 12 blockings of 20 and 24 pitches).
REACH = 12
# Middles lie so far apart at the least, units, until something changes near them.
_APART = 5
# Deterministic time for one window, and how near to its best it need be.
_EFFORT, _WITHIN = 0.05, 0.002


def bettered(
    formula: Formula,
    terms: tuple[IntArray, IntArray],
    places: IntArray,
    values: BoolArray,
    least: int,
    effort: float,
    looked_at: BoolArray | None = None,
    reach: int = REACH,
) -> BoolArray:
    """Values that break nothing either and are worth no less, by a sum over variables.

    terms: variables (k,), and what each is worth (k,); all others only say something of these. places: (k, 2) where
    each lies, lattice units. values: (size,) of the formula, breaking nothing. least: the loss, in worth, that makes a
    place worth looking at. effort: deterministic time. looked_at: (k,) whose loss is looked at, if not that of all.
    reach: of a window from its middle, units.
    """
    variables, worth = terms
    away = np.abs(places[:, None] - places[None]).max(axis=2)
    within, beside = away <= reach, away < _APART
    tried = np.zeros(len(variables), dtype=np.bool_)
    lasting = np.zeros(len(variables), dtype=np.bool_) if looked_at is None else ~looked_at
    while effort > 0:
        loss = np.where(values[variables], -worth, worth).clip(min=0)
        loss[lasting] = 0
        about = np.where(tried, 0, within @ loss)
        middle = int(about.argmax())
        if about[middle] < least:
            break
        here = variables[within[middle]]
        small, kept = restrict(formula, values, _with_others(formula, variables, here))
        # Worth counts wherever it may change: what is defined by something here may lie beside the window.
        mine = np.isin(variables, kept)
        own = np.searchsorted(kept, variables[mine]), worth[mine]
        answer = Solver(small).maximise(*own, values[kept], min(_EFFORT, effort), within=_WITHIN)
        effort -= answer.spent
        if answer.values is not None and own[1] @ answer.values[own[0]] > own[1] @ values[variables[mine]]:
            changed = answer.values[own[0]] != values[variables[mine]]
            tried &= ~within[mine][changed].any(axis=0)
            values = values.copy()
            values[kept] = answer.values
        tried |= beside[middle]
    return values


def _with_others(formula: Formula, every: IntArray, here: IntArray) -> BoolArray:
    """(size,) the variables that are free in a window: those here, and of the others than every one of these sums
    those that say something of them."""
    chosen = np.zeros(formula.size, dtype=np.bool_)
    chosen[here] = True
    free = chosen.copy()
    for table in formula.clauses:
        clauses = variable_of(table.rows)
        free[clauses[chosen[clauses].any(axis=1)]] = True
    free[every] = chosen[every]
    free[TRUE] = False
    return free

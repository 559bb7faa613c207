"""Splits and merges of a large print's blocks, where they are worth most to the eye.

Where a print needs its last split for a hole to close, no window of it sees that the splits spent elsewhere are the
obstacle. So none is forbidden, each has a price that rises until no more are left than the rules allow: the Lagrangian
relaxation of that one sum (A. M. Geoffrion, Lagrangean relaxation for integer programming, 1974; from memory).
"""

from __future__ import annotations

import numpy as np

from constraints.formula import Formula, Linear, variable_of
from constraints.lattice import BoolArray, IntArray
from constraints.restricting import without
from explore.search.laying.windows import bettered

# Prices of a split, in worth: from one at which nearly every split pays to one at which none does (measured on 21
# prints of 20 and 24 pitches: a dearer beginning leaves the slots that the first answer has instead of splits).
_PRICES = (40, 120, 210, 370, 650, 1140, 2000)
# How far a window reaches from its middle here, units: what a split takes lies near it.
_REACH = 8


def bought(
    formula: Formula,
    rule: str,
    terms: tuple[IntArray, IntArray],
    places: IntArray,
    values: BoolArray,
    least: int,
    effort: float,
) -> BoolArray:
    """Values that break nothing either, bettered with splits where these are worth most. rule: whose one sum counts
    them; the others as in `bettered`. The values given, where that leads to none."""
    total = next(each for each in formula.linears if each.rule == rule)
    free = without(formula, rule)
    there, splits, times = _places(formula, rule, total, terms[0], places)
    everywhere = np.concatenate([places, there])
    variables = np.concatenate([terms[0], splits])
    best = values
    for number, price in enumerate(_PRICES):
        worth = np.concatenate([terms[1], -price * times])
        # Once the first price has bought all that it can, a dearer one only takes away.
        looked_at = None if number == 0 else np.arange(len(variables)) >= len(terms[0])
        best = bettered(free, (variables, worth), everywhere, best, least, effort, looked_at, _REACH)
        if total.least <= total.weights @ best[total.variables] <= total.most:
            return bettered(formula, terms, places, best, least, effort)
    return values


def _places(
    formula: Formula, rule: str, total: Linear, variables: IntArray, places: IntArray
) -> tuple[IntArray, IntArray, IntArray]:
    """(k, 2) where splits lie, at a pinhole of a block that each speaks of; their variables (k,) and as how many each
    counts (k,)."""
    number = np.full(formula.size, -1)
    number[variables] = np.arange(len(variables))
    counted = np.zeros(formula.size, dtype=np.bool_)
    counted[total.variables] = True
    found: dict[int, IntArray] = {}
    for table in formula.clauses:
        if table.rule != rule:
            continue
        rows = variable_of(table.rows)
        for row in rows[counted[rows].any(axis=1)]:
            beside = number[row]
            if (beside >= 0).any():
                found.setdefault(int(row[counted[row]][0]), places[int(beside[beside >= 0][0])])
    times = np.zeros(formula.size, dtype=np.int64)
    times[total.variables] = total.weights
    splits = np.array([*found], dtype=np.int64)
    return np.array([*found.values()]).reshape(-1, 2), splits, times[splits]

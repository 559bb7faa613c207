"""A formula with most of its variables fixed: the small one of what is left free."""

from __future__ import annotations

from copy import copy

import numpy as np

from constraints.formula import FALSE, TRUE, Formula, truth, variable_of
from constraints.lattice import BoolArray, IntArray


def restrict(formula: Formula, values: BoolArray, free: BoolArray) -> tuple[Formula, IntArray]:
    """The formula with every variable but the free ones fixed at its value.

    The fixed values by themselves must break nothing. Returns the smaller formula and the old numbers of its
    variables, (smaller size,), TRUE first. Defined variables are free as soon as one of their row is.
    """
    free = free.copy()
    free[TRUE] = False
    for variables, rows in formula.definitions:
        free[variables] = free[variable_of(rows)].any(axis=1)
    kept = np.concatenate([[TRUE], np.flatnonzero(free)])
    new = np.zeros(formula.size, dtype=np.int64)
    new[kept] = np.arange(len(kept))

    def renamed(rows: IntArray) -> IntArray:
        variable = variable_of(rows)
        inside = np.where(rows < 0, ~new[variable], new[variable])
        return np.where(free[variable], inside, np.where(truth(values, rows), TRUE, FALSE))

    small = Formula()
    small.variables(len(kept) - 1)
    for table in formula.clauses:
        touched = free[variable_of(table.rows)].any(axis=1)
        small.clause(table.rule, renamed(table.rows[touched]))
    for table in formula.groups:
        touched = free[variable_of(table.rows)].any(axis=1)
        rows = renamed(table.rows[touched])
        taken = (rows == TRUE).any(axis=1)
        for row in rows[taken]:
            small.clause(table.rule, ~row[(row != TRUE) & (row != FALSE)].reshape(-1, 1))
        small.at_most_one(table.rule, np.where(rows == TRUE, FALSE, rows)[~taken])
    for sum_of in formula.linears:
        small.linear(sum_of.rule, renamed(sum_of.variables), sum_of.weights, sum_of.least, sum_of.most)
    return small, kept


def without(formula: Formula, rule: str) -> Formula:
    """The formula without the sums of a rule; its clauses stay."""
    rest = copy(formula)
    rest.linears = [each for each in formula.linears if each.rule != rule]
    return rest

"""A large answer bettered window by window: never worse, nothing broken, and of one window the best there is."""

import numpy as np
import pytest
from pysat.examples.rc2 import RC2
from pysat.formula import WCNF

from constraints.formula import Formula
from constraints.lattice import BoolArray, IntArray
from explore.search.laying.windows import bettered

RULE = "beside"


def row_of_places(count: int, far: int) -> tuple[Formula, IntArray, IntArray]:
    """Places in a row, of two beside each other not both: a formula, its variables, and where they lie."""
    formula = Formula()
    variables = formula.variables(count)
    formula.clause(RULE, ~variables[:-1], ~variables[1:])
    return formula, variables, np.stack([far * np.arange(count), np.zeros(count, dtype=int)], axis=1)


def most_by_maxsat(worth: IntArray) -> int:
    clauses = WCNF()
    for number in range(1, len(worth)):
        clauses.append([-number, -number - 1])
    for number, own in enumerate(worth.tolist(), 1):
        clauses.append([number], weight=own)
    with RC2(clauses) as solver:
        assert solver.compute() is not None
        return int(worth.sum() - solver.cost)


def nothing(formula: Formula) -> BoolArray:
    values = np.zeros(formula.size, dtype=bool)
    values[0] = True
    return values


@pytest.mark.parametrize("seed", range(4))
def test_what_lies_within_one_window_comes_out_the_best(seed: int) -> None:
    """The most by another solver: RC2 (Ignatiev, Morgado and Marques-Silva, 2019, in python-sat)."""
    formula, variables, places = row_of_places(12, 1)
    worth = np.random.default_rng(seed).integers(10, 99, size=12)
    values = bettered(formula, (variables, worth), places, nothing(formula), 1, 1.0)
    assert not formula.broken(values)
    assert int(worth @ values[variables]) == most_by_maxsat(worth)


@pytest.mark.parametrize("seed", range(4))
def test_window_by_window_a_long_row_is_filled_and_keeps_its_rule(seed: int) -> None:
    formula, variables, places = row_of_places(60, 3)
    worth = np.random.default_rng(seed).integers(10, 99, size=60)
    values = bettered(formula, (variables, worth), places, nothing(formula), 1, 1.0)
    assert not formula.broken(values)
    assert int(worth @ values[variables]) >= 0.97 * most_by_maxsat(worth)


def test_what_others_say_of_a_window_goes_with_it() -> None:
    """A sum of defined variables holds the whole: two pairs of places at the most."""
    formula = Formula()
    variables = formula.variables(20)
    both = formula.all_of("both", np.stack([variables[:-1], variables[1:]], axis=1))
    formula.linear("both", both, np.ones(19, dtype=np.int64), 0, 2)
    places = np.stack([4 * np.arange(20), np.zeros(20, dtype=int)], axis=1)
    worth = np.ones(20, dtype=np.int64)
    values = bettered(formula, (variables, worth), places, nothing(formula), 1, 1.0)
    assert not formula.broken(values)
    # Of twenty in a row, with two pairs side by side, eleven.
    assert int(values[variables].sum()) == 11


def test_nothing_is_looked_at_where_too_little_is_lost() -> None:
    formula, variables, places = row_of_places(12, 1)
    worth = np.full(12, 2)
    values = nothing(formula)
    assert bettered(formula, (variables, worth), places, values, 25, 1.0) is values
    assert bettered(formula, (variables, worth), places, values, 1, 0.0) is values

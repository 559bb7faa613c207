"""The formula says what it promises: checked against plain truth tables over every assignment."""

from __future__ import annotations

from itertools import product

import numpy as np
from formulas import Told, array, told_formulas
from hypothesis import given, settings
from hypothesis import strategies as st

from constraints.formula import FALSE, TRUE, Formula, gathered, truth, variable_of
from constraints.restricting import restrict

QUICK = settings(max_examples=150, deadline=None)


def rows(*literals: list[int]) -> np.ndarray:
    return np.array(literals, dtype=np.int64)


@given(told_formulas())
@QUICK
def test_what_is_broken_is_what_a_truth_table_says(told: Told) -> None:
    for values in told.assignments():
        found = told.formula.broken(array(values))
        # A rule may be written in clauses, groups and linear forms: only the names are promised an order.
        assert sorted(found) == sorted(told.broken(values))
        for name, _ in told.named:
            assert told.formula.broken(array(values), [name]) == [name] * (name in found)


@given(told_formulas())
@QUICK
def test_defined_variables_are_completed_and_a_wrong_one_is_told(told: Told) -> None:
    for values in told.assignments():
        hidden = array(values)
        hidden[[number for number, _ in told.defined]] = False
        hidden[TRUE] = False
        complete = told.formula.complete(hidden)
        assert complete.tolist() == values
        for number, _ in told.defined:
            wrong = complete.copy()
            wrong[number] = not wrong[number]
            assert any(name.startswith("definition") for name in told.formula.broken(wrong))


@given(told_formulas(), st.data())
@QUICK
def test_a_restricted_formula_has_the_solutions_that_keep_the_fixed_values(told: Told, data: st.DataObject) -> None:
    solutions = told.solutions()
    if not solutions:
        return
    base = data.draw(st.sampled_from(solutions))
    free = data.draw(st.sets(st.sampled_from(told.free)))
    mask = np.zeros(told.formula.size, dtype=bool)
    mask[list(free)] = True
    small, kept = restrict(told.formula, array(base), mask)
    assert kept[0] == TRUE
    assert set(kept.tolist()) >= free
    expected = {
        tuple(values[k] for k in kept.tolist())
        for values in solutions
        if all(values[n] == base[n] for n in told.free if n not in free)
    }
    found = {
        (True, *chosen)
        for chosen in product((False, True), repeat=small.size - 1)
        if not small.broken(array([True, *chosen]))
    }
    assert found == expected


def test_where_one_of_a_group_is_fixed_the_free_ones_are_not() -> None:
    formula = Formula()
    a, b, c = formula.variables(3).tolist()
    formula.at_most_one("group", rows([a, b, c]))
    small, kept = restrict(formula, array([True, True, False, False]), array([False, False, True, True]))
    assert kept.tolist() == [TRUE, b, c]
    ways = [chosen for chosen in product((False, True), repeat=2) if not small.broken(array([True, *chosen]))]
    assert ways == [(False, False)]


def test_equal_rows_share_one_variable_and_constants_take_none() -> None:
    formula = Formula()
    a, b = formula.variables(2).tolist()
    both = formula.all_of("both", rows([a, b], [b, a], [TRUE, TRUE], [a, FALSE]))
    assert both.tolist() == [both[0], both[0], TRUE, FALSE]
    assert formula.size == 4
    assert formula.any_of("either", rows([a, TRUE], [FALSE, FALSE])).tolist() == [TRUE, FALSE]
    assert formula.size == 4


def test_clauses_that_hold_anyway_are_not_kept_and_equal_ones_once() -> None:
    formula = Formula()
    a, b = formula.variables(2).tolist()
    formula.clause("idle", rows([a, TRUE], [a, ~a]))
    assert formula.clauses == []
    formula.clause("once", rows([a, b], [b, a], [a, b]))
    assert [table.rows.shape for table in formula.clauses] == [(1, 2)]


def test_columns_of_a_clause_go_together_whatever_their_shape() -> None:
    formula = Formula()
    a, b, c, d = formula.variables(4).tolist()
    formula.clause("mixed", ~np.array(d), np.array([a, b]), rows([c, FALSE], [b, c]))
    # d -> a or c; d -> b or c
    for chosen in product((False, True), repeat=4):
        va, vb, vc, vd = chosen
        broken = vd and not ((va or vc) and (vb or vc))
        assert formula.broken(array([True, *chosen])) == ["mixed"] * broken


def test_an_implication_asks_for_every_column() -> None:
    formula = Formula()
    a, b, c = formula.variables(3).tolist()
    formula.implies("all", np.array([a]), rows([b, ~c]))
    for chosen in product((False, True), repeat=3):
        va, vb, vc = chosen
        assert formula.broken(array([True, *chosen])) == ["all"] * (va and not (vb and not vc))


def test_a_negated_literal_has_the_other_truth() -> None:
    values = np.array([True, False, True])
    literals = rows([TRUE, 1, 2], [FALSE, ~1, ~2])
    assert truth(values, literals).tolist() == [[True, False, True], [False, True, False]]


@given(st.lists(st.tuples(st.integers(0, 4), st.integers(-6, 6))))
def test_what_names_an_owner_stands_in_its_row_and_nothing_else(named: list[tuple[int, int]]) -> None:
    owner, literal = (np.array([each[part] for each in named], dtype=np.int64) for part in (0, 1))
    rows = gathered(owner, literal, 5).tolist()
    for number, row in enumerate(rows):
        own = [each for of, each in named if of == number]
        assert row == own + [FALSE] * (len(row) - len(own))


def test_a_literal_and_its_negation_are_of_one_variable() -> None:
    assert variable_of(np.array([TRUE, FALSE, 3, ~3])).tolist() == [0, 0, 3, 3]

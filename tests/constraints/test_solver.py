"""What the solver says is so: statuses against brute force, the hint, and the same answer every time."""

from __future__ import annotations

import subprocess
import sys

import numpy as np
import pytest
from formulas import Told, array, told_formulas
from hypothesis import given, settings
from hypothesis import strategies as st
from ortools.sat.python import cp_model_helper

from constraints.formula import TRUE, Formula, linear
from constraints.solver import Answer, Solver, Status

QUICK = settings(max_examples=60, deadline=None)
EFFORT = 1.0


def same(one: Answer, other: Answer) -> bool:
    if (one.values is None) != (other.values is None):
        return False
    alike = one.values is None or np.array_equal(one.values, other.values)
    return alike and one.status == other.status and one.spent == other.spent


def pigeons(holes: int) -> Formula:
    """One pigeon more than holes: impossible, and long to prove."""
    formula = Formula()
    seat = formula.variables((holes + 1) * holes).reshape(holes + 1, holes)
    formula.clause("a hole for every pigeon", seat)
    for one in range(holes + 1):
        for other in range(one):
            formula.clause("no two in one hole", ~seat[one], ~seat[other])
    return formula


@given(told_formulas())
@QUICK
def test_found_is_a_solution_and_impossible_means_that_there_is_none(told: Told) -> None:
    answer = Solver(told.formula).solve(None, EFFORT)
    if told.solutions():
        assert answer.status in (Status.FOUND, Status.BEST)
        assert answer.values is not None
        assert told.broken(answer.values.tolist()) == []
    else:
        assert answer.status is Status.IMPOSSIBLE
        assert answer.values is None


@given(told_formulas(), st.data())
@QUICK
def test_the_best_is_the_best_of_all_solutions(told: Told, data: st.DataObject) -> None:
    literals = [n if data.draw(st.booleans()) else ~n for n in told.free]
    weights = [data.draw(st.integers(-5, 5)) for _ in told.free]

    def worth(values: list[bool]) -> int:
        return sum(w for w, k in zip(weights, literals, strict=True) if (values[k] if k >= 0 else not values[~k]))

    solver = Solver(told.formula)
    answer = solver.maximise(np.array(literals), np.array(weights), None, EFFORT)
    solutions = told.solutions()
    if not solutions:
        assert answer.status is Status.IMPOSSIBLE
        return
    assert answer.status is Status.BEST
    assert answer.values is not None
    assert told.broken(answer.values.tolist()) == []
    assert worth(answer.values.tolist()) == max(map(worth, solutions))
    # The aim is gone afterwards: a plain solve is content with a first solution.
    assert solver.solve(None, EFFORT).values is not None


@given(told_formulas(), st.data())
@QUICK
def test_a_hint_that_is_a_solution_is_the_answer(told: Told, data: st.DataObject) -> None:
    solutions = told.solutions()
    if solutions:
        wanted = array(data.draw(st.sampled_from(solutions)))
        answer = Solver(told.formula).solve(wanted, EFFORT)
        assert answer.values is not None
        assert answer.values.tolist() == wanted.tolist()


@given(told_formulas(), st.data())
@QUICK
def test_the_same_call_gives_the_same_answer_whatever_was_asked_before(told: Told, data: st.DataObject) -> None:
    hint = array([True, *(data.draw(st.booleans()) for _ in range(told.formula.size - 1))])
    fresh = Solver(told.formula).solve(hint, EFFORT)
    used = Solver(told.formula)
    used.maximise(np.array(told.free), np.ones(len(told.free), dtype=np.int64), None, EFFORT)
    used.solve(None, EFFORT, (linear("never", np.array(told.free), np.ones(len(told.free), dtype=np.int64), -9, -1),))
    assert same(used.solve(hint, EFFORT), fresh)
    assert same(used.solve(hint, EFFORT), fresh)


def test_no_effort_is_not_found_and_not_impossible() -> None:
    for formula in (pigeons(4), _one_of_two()):
        answer = Solver(formula).solve(None, 0.0)
        assert answer.status is Status.NOT_FOUND
        assert answer.values is None


def test_little_effort_proves_nothing_of_a_hard_question() -> None:
    assert Solver(pigeons(9)).solve(None, 0.01).status is Status.NOT_FOUND
    assert Solver(pigeons(4)).solve(None, EFFORT).status is Status.IMPOSSIBLE


def test_further_constraints_are_exchanged_not_added() -> None:
    solver = Solver(_one_of_two())
    first, second = np.array([1]), np.array([2])
    only = [linear("only", literal, np.array([1]), 1, 1) for literal in (first, second)]
    assert solver.solve(None, EFFORT, [only[0]]).values.tolist() == [True, True, False]
    assert solver.solve(None, EFFORT, [only[1]]).values.tolist() == [True, False, True]
    assert solver.solve(None, EFFORT, only).status is Status.IMPOSSIBLE
    assert solver.solve(None, EFFORT, [only[0], only[0]]).values.tolist() == [True, True, False]
    neither = linear("neither", np.array([1, 2]), np.array([1, 1]), 0, 0)
    assert solver.solve(None, EFFORT, [neither]).status is Status.IMPOSSIBLE
    assert solver.solve(None, EFFORT).values is not None


@pytest.mark.parametrize(("least", "most"), [(2, 1), (5, 9), (-3, -1)])
def test_bounds_that_no_sum_meets_are_impossible_and_no_error(least: int, most: int) -> None:
    formula = _one_of_two()
    formula.linear("bounds", np.array([1, 2]), np.array([1, 1]), least, most)
    assert Solver(formula).solve(None, EFFORT).status is Status.IMPOSSIBLE


def test_a_sum_of_nothing_is_nothing() -> None:
    for least, expected in ((0, True), (1, False)):
        formula = _one_of_two()
        formula.linear("nothing", np.array([TRUE]), np.array([0]), least, 2)
        answer = Solver(formula).solve(None, EFFORT)
        assert (answer.status is not Status.IMPOSSIBLE) == expected


def _one_of_two() -> Formula:
    formula = Formula()
    a, b = formula.variables(2)
    formula.clause("one", a, b)
    formula.at_most_one("one", np.array([[a, b]]))
    return formula


def test_every_question_is_asked_of_one_worker(monkeypatch: pytest.MonkeyPatch) -> None:
    """Several workers of CP-SAT share what they learn as it comes, and need not answer the same twice (OR-tools, notes
    on the parameter num_workers); nor may the cores of a machine change what is found."""
    workers = []

    class Watched(cp_model_helper.SolveWrapper):
        def set_parameters(self, asked: cp_model_helper.SatParameters) -> None:
            workers.append(asked.num_workers)
            super().set_parameters(asked)

    monkeypatch.setattr(cp_model_helper, "SolveWrapper", Watched)
    solver = Solver(_one_of_two())
    solver.solve(None, EFFORT)
    solver.maximise(np.array([1, 2]), np.array([1, 1]), None, EFFORT)
    solver.prove(EFFORT)
    assert workers == [1, 1, 1]


def test_to_load_the_solver_loads_no_tables_of_data() -> None:
    """The face of CP-SAT that is meant for models typed by hand loads pandas."""
    loaded = "import sys, constraints.solver; print('pandas' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", loaded], capture_output=True, check=True).stdout.split() == [b"False"]

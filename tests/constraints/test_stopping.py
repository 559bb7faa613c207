"""What nobody waits for ends amid a solve, and leaves nothing behind."""

from __future__ import annotations

import threading
from collections.abc import Callable
from typing import Any

import numpy as np
import pytest
from formulas import sum_free
from ortools.sat.python import cp_model_helper

from constraints.solver import Answer, Solver, Status
from constraints.stopping import Stopped, look, stopped_once

# Its colours of the numbers to 161 took fourteen years of processors to refuse (M. Heule, Schur Number Five, 2018): no
# solve of it ends by itself before the effort does, and that is a minute.
LONG = sum_free(161, 5)
EFFORT = 50.0
SUM = np.arange(2, 100), np.ones(98, dtype=int)
NOTHING = np.zeros(LONG.size, dtype=bool)


def first(solver: Solver) -> Answer:
    return solver.solve(NOTHING, EFFORT)


def best(solver: Solver) -> Answer:
    return solver.maximise(*SUM, NOTHING, EFFORT)


def best_by_bound(solver: Solver) -> Answer:
    return solver.maximise(*SUM, NOTHING, EFFORT, within=0.01)


def proof(solver: Solver) -> Answer:
    return solver.prove(EFFORT)


@pytest.mark.parametrize("ask", [first, best, best_by_bound, proof])
def test_a_solve_under_way_ends_and_the_solver_answers_on_as_if_it_had_not_been_asked(
    ask: Callable[[Solver], Answer], monkeypatch: pytest.MonkeyPatch
) -> None:
    spent = []

    class Watched(cp_model_helper.SolveWrapper):
        def solve(self, proto: Any) -> Any:
            response = super().solve(proto)
            spent.append(response.deterministic_time)
            return response

    monkeypatch.setattr(cp_model_helper, "SolveWrapper", Watched)
    solver, unwanted = Solver(LONG), threading.Event()
    threading.Timer(0.2, unwanted.set).start()
    with stopped_once(unwanted.is_set), pytest.raises(Stopped):
        ask(solver)
    assert max(spent) < 0.5 * EFFORT
    later, fresh = solver.maximise(*SUM, NOTHING, 0.01), Solver(LONG).maximise(*SUM, NOTHING, 0.01)
    assert later.status is fresh.status
    assert later.spent == fresh.spent
    assert later.most == fresh.most


def test_no_solve_begins_for_what_nobody_waits_for() -> None:
    with stopped_once(lambda: True):
        with pytest.raises(Stopped):
            first(Solver(LONG))
        with pytest.raises(Stopped):
            look()
    look()


def test_a_solve_that_is_wanted_is_the_same_watched_or_not() -> None:
    """The numbers to 13 in three colours: the last that can be (I. Schur, 1916)."""
    for numbers, status in ((13, Status.BEST), (14, Status.IMPOSSIBLE)):
        formula = sum_free(numbers, 3)
        with stopped_once(lambda: False):
            watched = Solver(formula).prove(EFFORT)
        alone = Solver(formula).prove(EFFORT)
        assert watched.status is alone.status is status
        assert watched.spent == alone.spent

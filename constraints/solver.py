"""CP-SAT behind a small face: a formula and a hint go in, values and an honest status come out.

Every solve is single-threaded and limited in CP-SAT's deterministic time, so the same call gives the same
answer on any machine and any number of cores.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from enum import Enum
from threading import Lock
from typing import Any

import numpy as np

# What cp_model itself calls. That one also loads pandas, which takes a third of every start and is needed for nothing.
from ortools.sat.python import cp_model_helper as cp_sat

from constraints import stopping
from constraints.formula import FALSE, TRUE, Formula, Linear, Table, variable_of
from constraints.lattice import BoolArray, IntArray

_SOLVED = cp_sat.CpSolverStatus


class Status(Enum):
    """What a solve has shown."""

    FOUND = "found"
    BEST = "best"  # found, and no better one exists
    IMPOSSIBLE = "impossible"  # proven
    NOT_FOUND = "not found"  # in the effort given: nothing is proven


@dataclass(frozen=True, eq=False)
class Answer:
    """values: truth of every variable of the formula, (size,), or None. spent: deterministic time. most: where
    `maximise` has found something, the sum that nothing exceeds, as is proven."""

    status: Status
    values: BoolArray | None
    spent: float
    most: int = 0


class Solver:
    """A formula loaded once and solved many times, each time with other hints and other further constraints; asked from
    several threads it answers one after the other. Within `stopping.stopped_once` all of it raises Stopped."""

    def __init__(self, formula: Formula) -> None:
        self._formula = formula
        self._asked = Lock()
        self._proto: Any = cp_sat.CpModelProto()
        either = cp_sat.IntegerVariableProto()
        either.domain.extend((0, 1))
        self._proto.variables.add().domain.extend((1, 1))  # TRUE
        self._proto.variables.extend([either] * (formula.size - 1))
        add = self._proto.constraints.add
        self._further: Any = add()  # the slot of the first further constraint
        _fill(self._further, None)
        for table in formula.clauses:
            for row in _unpadded(table):
                add().bool_or.literals.extend(row)
        for table in formula.groups:
            for row in _unpadded(table):
                add().at_most_one.literals.extend(row)
        for linear in formula.linears:
            _fill(self._proto.constraints.add(), linear)

    def solve(self, hint: BoolArray | None, effort: float, further: Sequence[Linear] = ()) -> Answer:
        """The first solution from the hint, keeping as close to it as the conflicts on the way allow.

        further: constraints of this solve alone.
        """
        with self._asked:
            _fill(self._further, further[0] if further else None)
            self._hint(hint)
            return self._run(_first_solution(effort), further[1:])

    def maximise(
        self,
        literals: IntArray,
        weights: IntArray,
        hint: BoolArray | None,
        effort: float,
        seed: int = 0,
        within: float | None = None,
        further: Sequence[Linear] = (),
    ) -> Answer:
        """The best solution within the effort by a weighted sum of literals.

        within: begin with the linear relaxation, whose bound leads the search, and end as soon as the sum is proven to
        be within this share of the most there is; for sums over many pinholes. further: constraints of this solve
        alone.
        """
        negative = literals < 0
        with self._asked:
            _fill(self._further, further[0] if further else None)
            self._hint(hint)
            objective = self._proto.objective
            objective.vars.extend(variable_of(literals).tolist())
            # CP-SAT minimises; a negated literal counts as one minus its variable.
            objective.coeffs.extend(np.where(negative, weights, -weights).tolist())
            parameters = _from_hint(effort, seed) if within is None else _relaxed(effort, seed, within)
            try:
                answer = self._run(parameters, further[1:])
            finally:
                self._proto.clear_objective()
        return replace(answer, most=int(weights[negative].sum()) + answer.most)

    def prove(self, effort: float) -> Answer:
        """A solution or a proof that there is none: with presolve and linear reasoning, without a hint."""
        with self._asked:
            _fill(self._further, None)
            self._hint(None)
            return self._run(_proof(effort))

    def _hint(self, hint: BoolArray | None) -> None:
        self._proto.clear_solution_hint()
        if hint is not None:
            self._proto.solution_hint.vars.extend(range(len(hint)))
            self._proto.solution_hint.values.extend(hint.astype(int).tolist())

    def _run(self, parameters: dict[str, Any], others: Sequence[Linear] = ()) -> Answer:
        proto = self._proto
        if others:
            # A copy: what is asked once leaves nothing behind that could lead a later answer elsewhere.
            proto = cp_sat.CpModelProto()
            proto.copy_from(self._proto)
            for linear in others:
                _fill(proto.constraints.add(), linear)
        asked = cp_sat.SatParameters()
        for name, value in parameters.items():
            setattr(asked, name, value)
        solving: Any = cp_sat.SolveWrapper()
        solving.set_parameters(asked)
        response = stopping.solved(solving, proto)
        code, spent = response.status, float(response.deterministic_time)
        if code in (_SOLVED.OPTIMAL, _SOLVED.FEASIBLE):
            values = np.array(response.solution, dtype=bool)
            # A sum that is near enough to its bound counts as the best to CP-SAT.
            gap = response.objective_value - response.best_objective_bound
            status = Status.BEST if code == _SOLVED.OPTIMAL and gap < 0.5 else Status.FOUND
            # Of whole numbers the bound is whole; it comes as a float.
            return Answer(status, values, spent, most=-round(response.best_objective_bound))
        if code == _SOLVED.INFEASIBLE:
            return Answer(Status.IMPOSSIBLE, None, spent)
        if code == _SOLVED.MODEL_INVALID:
            raise ValueError(f"the model is not valid: {cp_sat.CpSatHelper.validate_model(proto)}")
        return Answer(Status.NOT_FOUND, None, spent)


def _from_hint(effort: float, seed: int) -> dict[str, Any]:
    """For a hint near the answer: measured on 48 stamps, presolve and linear relaxation only cost time."""
    return {
        "num_workers": 1,
        "max_deterministic_time": effort,
        "cp_model_presolve": False,
        "linearization_level": 0,
        "symmetry_level": 0,
        "random_seed": seed,
    }


def _relaxed(effort: float, seed: int, within: float) -> dict[str, Any]:
    """With one round of presolve: further ones cost more than they gain (measured on 24 blockings of 4 prints)."""
    return {
        "num_workers": 1,
        "max_deterministic_time": effort,
        "max_presolve_iterations": 1,
        "linearization_level": 2,
        "symmetry_level": 0,
        "relative_gap_limit": within,
        "random_seed": seed,
    }


def _first_solution(effort: float) -> dict[str, Any]:
    return {
        **_from_hint(effort, 0),
        "hint_conflict_limit": 1_000_000,
        "stop_after_first_solution": True,
    }


def _proof(effort: float) -> dict[str, Any]:
    return {
        "num_workers": 1,
        "max_deterministic_time": effort,
        "linearization_level": 2,
        "stop_after_first_solution": True,
        "random_seed": 0,
    }


def _unpadded(table: Table) -> list[list[int]]:
    rows = table.rows.tolist()
    if not (table.rows == FALSE).any():
        return list(rows)
    return [[literal for literal in row if literal != FALSE] for row in rows]


def _fill(constraint: Any, linear: Linear | None) -> None:
    target = constraint.linear
    target.vars.clear()
    target.coeffs.clear()
    target.domain.clear()
    if linear is None or linear.least > linear.most:
        # TRUE is 1; bounds that no sum meets ask it to be 0, since CP-SAT takes no empty domain.
        target.vars.append(TRUE)
        target.coeffs.append(1)
        target.domain.extend((1, 1) if linear is None else (0, 0))
    else:
        target.vars.extend(linear.variables.tolist())
        target.coeffs.extend(linear.weights.tolist())
        target.domain.extend((linear.least, linear.most))

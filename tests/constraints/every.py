"""Every solution of a formula, from the CP-SAT model itself."""

from __future__ import annotations

import numpy as np
from ortools.sat.python import cp_model

from constraints.formula import truth
from constraints.lattice import BoolArray, IntArray
from constraints.solver import Solver


class Every(Solver):
    """The solver's own model, asked for all its solutions."""

    def solutions(self) -> BoolArray:
        """(solutions, size) every one of them, proven to be all."""
        seen = _Seen()
        solver = cp_model.CpSolver()
        solver.parameters.num_workers = 1
        solver.parameters.enumerate_all_solutions = True
        code = solver.solve(self._model, seen)
        assert code in (cp_model.OPTIMAL, cp_model.INFEASIBLE)
        return np.array(seen.found, dtype=bool).reshape(len(seen.found), self._formula.size)

    def ways(self, literals: IntArray) -> BoolArray:
        """(ways, n) every way in which these literals come out in a solution, each once."""
        ways: BoolArray = np.unique([truth(each, literals) for each in self.solutions()], axis=0)
        return ways


class _Seen(cp_model.CpSolverSolutionCallback):
    def __init__(self) -> None:
        super().__init__()
        self.found: list[list[int]] = []

    def on_solution_callback(self) -> None:
        self.found.append(list(self.response_proto.solution))

"""Every solution of a formula, from the CP-SAT model itself, and every lace of a brief told as in `answer_sets`."""

from __future__ import annotations

from typing import Any

import numpy as np
from answer_sets import Told
from ortools.sat.python import cp_model

from constraints.formula import TRUE, truth
from constraints.lattice import BoolArray, IntArray
from constraints.rules.grounds import ground_pinholes
from constraints.solver import Solver
from constraints.variables import Model


class Every(Solver):
    """The solver's own model, asked for all its solutions."""

    def solutions(self) -> BoolArray:
        """(solutions, size) every one of them, proven to be all."""
        seen = _Seen()
        solver = cp_model.CpSolver()
        solver.parameters.num_workers = 1
        solver.parameters.enumerate_all_solutions = True
        model = cp_model.CpModel()
        model.proto.copy_from(self._proto)
        code = solver.solve(model, seen)
        assert code in (cp_model.OPTIMAL, cp_model.INFEASIBLE)
        return np.array(seen.found, dtype=bool).reshape(len(seen.found), self._formula.size)

    def ways(self, literals: IntArray) -> BoolArray:
        """(ways, n) every way in which these literals come out in a solution, each once."""
        ways: BoolArray = np.unique([truth(each, literals) for each in self.solutions()], axis=0)
        return ways


def laces(model: Model) -> set[Told]:
    """Every lace that the formula allows, each once; what a headside brings with it is not told."""
    names: list[tuple[Any, ...]] = []
    literals = []
    for stitch, literal in model.stitch.items():
        names += [(stitch, *place) for place in model.piece.index]
        literals.append(literal)
    for kind, sites in model.sites.items():
        names += [(kind, x, y) for x, y in sites.centres.tolist()]
        literals.append(sites.chosen)
    names += [("double", *place) for place in model.piece.index]
    literals.append(ground_pinholes(model, "double-ground"))
    _settled(model)
    return {_named(model, names, way) for way in Every(model.formula).ways(np.concatenate(literals))}


def _settled(model: Model) -> None:
    """Where roses would stand in a field without them is false, so that a lace does not come out once for each way."""
    for even in (model.labels.even_u, model.labels.even_v):
        real = np.flatnonzero(even > TRUE)
        for kind in model.aligned:
            model.formula.implies("settled", even[real], model.labels.literals(kind, real))


def _named(model: Model, names: list[tuple[Any, ...]], way: np.ndarray) -> Told:
    there = [name for name, chosen in zip(names, way.tolist(), strict=True) if chosen]
    figures = frozenset(each for each in there if each[0] in model.sites)
    points = list(model.piece.index)
    taken = {
        points[place]
        for kind, sites in model.sites.items()
        for centre, places in zip(sites.centres.tolist(), sites.pinholes.tolist(), strict=True)
        if (kind, *centre) in figures
        for place in places
    }
    return (
        frozenset((x, y, kind) for kind, x, y in there if kind in model.stitch),
        figures,
        frozenset((x, y) for kind, x, y in there if kind == "double") - taken,
    )


class _Seen(cp_model.CpSolverSolutionCallback):
    def __init__(self) -> None:
        super().__init__()
        self.found: list[list[int]] = []

    def on_solution_callback(self) -> None:
        self.found.append(list(self.response_proto.solution))

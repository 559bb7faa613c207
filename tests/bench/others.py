"""A formula solved by other families of solvers: CaDiCaL by way of python-sat, and clingo.

Both keep the formula and take a hint and one exchangeable linear constraint for each question, as
constraints.solver does. `solve` returns the values, or None, and the seconds that solving alone took.
"""

from __future__ import annotations

from collections.abc import Callable
from itertools import combinations
from time import perf_counter
from typing import Protocol

import clingo
import numpy as np
from pysat.solvers import Cadical153

from constraints.formula import FALSE, TRUE, Formula, Linear
from constraints.lattice import BoolArray
from constraints.solver import Solver

Found = tuple[BoolArray | None, float]
Clause = list[int]


class Asked(Protocol):
    """A solver that answers one question after another."""

    def solve(self, hint: BoolArray, extra: Linear) -> Found: ...


class CpSat:
    """The project's own way, for comparison. Time counts from the call, CP-SAT's loading of the model with it."""

    def __init__(self, formula: Formula, effort: float) -> None:
        self._solver = Solver(formula)
        self._effort = effort

    def solve(self, hint: BoolArray, extra: Linear) -> Found:
        start = perf_counter()
        values = self._solver.solve(hint, self._effort, [extra]).values
        return values, perf_counter() - start


class Sat:
    """CaDiCaL 1.5.3, incremental; the hint sets the phases. Sums become decision diagrams."""

    def __init__(self, formula: Formula) -> None:
        self._solver = Cadical153()
        self._size = formula.size
        self._last = formula.size
        self._solver.add_clause([_dimacs(TRUE)])
        for table in formula.clauses:
            for row in table.rows.tolist():
                self._solver.add_clause([_dimacs(literal) for literal in row if literal != FALSE])
        for table in formula.groups:
            for row in table.rows.tolist():
                for one, other in combinations([literal for literal in row if literal != FALSE], 2):
                    self._solver.add_clause([-_dimacs(one), -_dimacs(other)])
        for linear in formula.linears:
            self._add_sum(linear, [])

    def solve(self, hint: BoolArray, extra: Linear) -> Found:
        switch = self._new()
        self._add_sum(extra, [-switch])
        numbers = np.arange(1, self._size + 1)
        start = perf_counter()
        self._solver.set_phases(np.where(hint, numbers, -numbers).tolist())
        done = self._solver.solve(assumptions=[switch])
        took = perf_counter() - start
        values = np.array(self._solver.get_model()[: self._size]) > 0 if done else None
        self._solver.add_clause([-switch])
        return values, took

    def _new(self) -> int:
        self._last += 1
        return self._last

    def _add_sum(self, linear: Linear, unless: Clause) -> None:
        variables = [_dimacs(number) for number in linear.variables.tolist()]
        weights = linear.weights.tolist()
        for sign, bound in ((1, linear.most), (-1, -linear.least)):
            self._solver_clauses(at_most(variables, [sign * w for w in weights], bound, self._new), unless)

    def _solver_clauses(self, clauses: list[Clause], unless: Clause) -> None:
        for clause in clauses:
            self._solver.add_clause(clause + unless)


def at_most(variables: list[int], weights: list[int], bound: int, new: Callable[[], int]) -> list[Clause]:
    """Clauses for sum of weights x variables <= bound, by a decision diagram (Een and Soerensson 2006).

    A node says that the rest of the sum stays within what is left. Weights may be negative.
    """
    terms = []
    for variable, weight in zip(variables, weights, strict=True):
        bound -= min(weight, 0)  # a negative weight counts the negation instead
        terms.append((variable if weight > 0 else -variable, abs(weight)))
    common = int(np.gcd.reduce([weight for _, weight in terms])) if terms else 1
    terms = sorted(((literal, weight // common) for literal, weight in terms), key=lambda t: -t[1])
    bound //= common
    rest = np.cumsum([0] + [weight for _, weight in reversed(terms)])[::-1].tolist()
    clauses: list[Clause] = []
    layer: dict[int, int] = {bound: new()}  # what is left before a term: node
    clauses.append([layer[bound]])
    for place, (literal, weight) in enumerate(terms):
        below: dict[int, int] = {}
        for left, node in layer.items():
            for spent, condition in ((weight, [-literal]), (0, [])):
                after = left - spent
                if after < 0:
                    clauses.append([-node, *condition])
                elif after < rest[place + 1]:
                    if after not in below:
                        below[after] = new()
                    clauses.append([-node, *condition, below[after]])
        layer = below
    if bound < 0:
        clauses.append([])
    return clauses


class AnswerSets:
    """clingo, multi-shot; the hint is a heuristic on the sign of every variable."""

    def __init__(self, formula: Formula) -> None:
        self._control = clingo.Control(["--heuristic=Domain", "--warn=none"])
        self._size = formula.size
        self._asked = 0
        program = "{ x(I) } :- I = 0..size-1. :- not x(0). #external hint(I) : I = 0..size-1."
        program += " #heuristic x(I) : hint(I). [1,sign] #heuristic x(I) : not hint(I), I = 0..size-1. [-1,sign]"
        self._control.add("base", ["size"], program + " #show.")
        self._control.ground([("base", [clingo.Number(formula.size)])])
        atoms = self._control.symbolic_atoms
        self._x = [atoms[clingo.Function("x", [clingo.Number(i)])].literal for i in range(formula.size)]
        self._hint = [atoms[clingo.Function("hint", [clingo.Number(i)])].literal for i in range(formula.size)]
        with self._control.backend() as backend:
            for table in formula.clauses:
                for row in table.rows.tolist():
                    backend.add_rule([], [-self._of(literal) for literal in row if literal != FALSE])
            for table in formula.groups:
                for row in table.rows.tolist():
                    body = [(self._of(literal), 1) for literal in row if literal != FALSE]
                    self._forbid(backend, 2, body, [])
            for linear in formula.linears:
                self._add_sum(backend, linear, [])

    def solve(self, hint: BoolArray, extra: Linear) -> Found:
        with self._control.backend() as backend:
            switch = backend.add_atom()
            backend.add_external(switch, clingo.TruthValue.Free)
            self._add_sum(backend, extra, [switch])
        start = perf_counter()
        for atom, truth in zip(self._hint, hint.tolist(), strict=True):
            self._control.assign_external(atom, truth)
        values: BoolArray | None = None
        with self._control.solve(assumptions=[switch], yield_=True) as handle:
            found = next(iter(handle), None)
            took = perf_counter() - start
            if found is not None:
                values = np.zeros(self._size, dtype=bool)
                values[[s.arguments[0].number for s in found.symbols(atoms=True) if s.name == "x"]] = True
        self._control.release_external(switch)
        return values, took

    def _of(self, literal: int) -> int:
        return self._x[literal] if literal >= 0 else -self._x[~literal]

    def _add_sum(self, backend: clingo.Backend, linear: Linear, when: list[int]) -> None:
        literals = [self._x[number] for number in linear.variables.tolist()]
        weights = linear.weights.tolist()
        for sign, bound in ((1, linear.most + 1), (-1, 1 - linear.least)):
            body = []
            for literal, weight in zip(literals, weights, strict=True):
                signed = sign * weight
                bound -= min(signed, 0)  # a negative weight counts the negation instead
                body.append((literal if signed > 0 else -literal, abs(weight)))
            self._forbid(backend, bound, body, when)

    def _forbid(self, backend: clingo.Backend, bound: int, body: list[tuple[int, int]], when: list[int]) -> None:
        """No sum of weights of true literals that reaches the bound, while `when` holds."""
        reached = backend.add_atom()
        backend.add_weight_rule([reached], bound, body)
        backend.add_rule([], [reached, *when])


def _dimacs(literal: int) -> int:
    return literal + 1 if literal >= 0 else -(~literal + 1)

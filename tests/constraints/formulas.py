"""Small random formulas with their meaning told a second time, in plain Python, for brute force.

Literals follow the formula's convention (variable i is i, its negation ~i); every truth is worked out here
one assignment at a time, with nothing of constraints.formula but the calls that build it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from itertools import product

import numpy as np
from hypothesis import strategies as st

from constraints.formula import FALSE, TRUE, Formula

Meaning = Callable[[list[bool]], bool]


def holds(literal: int, values: list[bool]) -> bool:
    return values[literal] if literal >= 0 else not values[~literal]


@dataclass
class Told:
    """A formula and what it means. named: rule and truth; defined: variable and truth, in order."""

    formula: Formula = field(default_factory=Formula)
    free: list[int] = field(default_factory=list)
    named: list[tuple[str, Meaning]] = field(default_factory=list)
    defined: list[tuple[int, Meaning]] = field(default_factory=list)

    def assignments(self) -> Iterator[list[bool]]:
        """Every assignment of the free variables, with the defined ones as they are defined."""
        for chosen in product((False, True), repeat=len(self.free)):
            yield self.completed(dict(zip(self.free, chosen, strict=True)))

    def completed(self, chosen: dict[int, bool]) -> list[bool]:
        values = [True] + [chosen.get(number, False) for number in range(1, self.formula.size)]
        for number, meaning in self.defined:
            values[number] = meaning(values)
        return values

    def broken(self, values: list[bool]) -> list[str]:
        """Names of the rules that these values break, in the order in which they were first written."""
        return list(dict.fromkeys(name for name, meaning in self.named if not meaning(values)))

    def solutions(self) -> list[list[bool]]:
        return [values for values in self.assignments() if not self.broken(values)]


def array(values: list[bool]) -> np.ndarray:
    return np.array(values, dtype=bool)


@st.composite
def told_formulas(draw: st.DrawFn) -> Told:
    """A formula of a few variables, definitions and constraints of every kind."""
    told = Told()
    told.free = told.formula.variables(draw(st.integers(2, 6))).tolist()
    pool = [TRUE, *told.free]
    for number in range(draw(st.integers(0, 2))):
        pool += _define(told, draw(st.booleans()), _rows(draw, pool), f"definition {number}")
    for number in range(draw(st.integers(0, 4))):
        kind = draw(st.sampled_from((_clause, _group, _linear)))
        kind(draw, told, pool, f"rule {number}")
    return told


def _literal(draw: st.DrawFn, pool: list[int]) -> int:
    variable = draw(st.sampled_from(pool))
    return ~variable if draw(st.booleans()) else variable


def _rows(draw: st.DrawFn, pool: list[int]) -> list[list[int]]:
    height, width = draw(st.integers(1, 2)), draw(st.integers(1, 4))
    return [[_literal(draw, pool) for _ in range(width)] for _ in range(height)]


def _define(told: Told, every: bool, rows: list[list[int]], name: str) -> list[int]:
    """Write a definition; returns the variables that are new. Its own clauses are told as a rule too."""
    literals = (told.formula.all_of if every else told.formula.any_of)(name, np.array(rows)).tolist()
    fresh = []
    for row, literal in zip(rows, literals, strict=True):
        truth = _all(row) if every else _any(row)
        variable, turned = (~literal, True) if literal < 0 else (literal, False)
        if variable == TRUE:  # the formula says it is constant: it must be so in every assignment
            told.named.append((name, lambda v, t=truth, k=literal: t(v) == holds(k, v)))
            continue
        told.named.append((name, lambda v, t=truth, k=literal: t(v) == holds(k, v)))
        if variable not in fresh:
            told.defined.append((variable, lambda v, t=truth, n=turned: t(v) != n))
            fresh.append(variable)
    return fresh


def _all(row: list[int]) -> Meaning:
    return lambda values: all(holds(literal, values) for literal in row)


def _any(row: list[int]) -> Meaning:
    return lambda values: any(holds(literal, values) for literal in row)


def _clause(draw: st.DrawFn, told: Told, pool: list[int], name: str) -> None:
    rows = _rows(draw, pool)
    told.formula.clause(name, np.array(rows))
    told.named += [(name, _any(row)) for row in rows]


def _group(draw: st.DrawFn, told: Told, pool: list[int], name: str) -> None:
    rows = _rows(draw, pool)
    told.formula.at_most_one(name, np.array(rows))
    # A repeated literal counts once, FALSE is padding.
    told.named += [(name, lambda v, row=row: sum(holds(k, v) for k in set(row) - {FALSE}) <= 1) for row in rows]


def _linear(draw: st.DrawFn, told: Told, pool: list[int], name: str) -> None:
    row = _rows(draw, pool)[0]
    weights = [draw(st.integers(-3, 3)) for _ in row]
    least, most = draw(st.integers(-4, 4)), draw(st.integers(-4, 6))
    told.formula.linear(name, np.array(row), np.array(weights), least, most)

    def meaning(values: list[bool]) -> bool:
        return least <= sum(w for w, k in zip(weights, row, strict=True) if holds(k, values)) <= most

    told.named.append((name, meaning))


def sum_free(numbers: int, colours: int) -> Formula:
    """Numbers from 1 on, each of a colour, none the sum of two of its own (I. Schur's question, 1916)."""
    formula = Formula()
    coloured = formula.variables(numbers * colours).reshape(numbers, colours)
    formula.clause("a colour for every number", coloured)
    for total in range(2, numbers + 1):
        for one in range(1, total // 2 + 1):
            formula.clause("no sum", ~coloured[one - 1], ~coloured[total - one - 1], ~coloured[total - 1])
    return formula

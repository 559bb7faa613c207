"""A sweep: the order in which the variables of a formula are fixed, and what each one does to the states.

A state is the set of clauses begun but not yet kept, each told by the literals it still has to come. So two
ways to begin that ask the same of the rest are one state, and each state is a row of bits.
"""

from __future__ import annotations

import math
from collections import Counter, defaultdict
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from constraints.formula import FALSE, TRUE, Formula
from constraints.lattice import IntArray, Point

Clause = tuple[int, ...]
Pair = tuple[int, int]

# In which order the points of a piece may be swept; the one that keeps the fewest clauses open is taken.
_ORDERS: tuple[Callable[[Point], tuple[float, ...]], ...] = (
    lambda point: (point[1], point[0]),
    lambda point: (point[0], point[1]),
    lambda point: (point[0] + point[1], point[0] - point[1]),
    lambda point: (point[0] - point[1], point[0] + point[1]),
    lambda point: (-max(abs(point[0]), abs(point[1])), math.atan2(point[1], point[0])),
    lambda point: (math.atan2(point[1], point[0]), max(abs(point[0]), abs(point[1]))),
)


# A defined variable comes when so many of the variables that define it are fixed: a little before it must, so
# that what cannot be finished is seen earlier. Measured: a third fewer states than after all of them.
_EARLY = 0.75
# Rests of clauses with more literals are not compared with others: they hardly ever outdo one.
_LONG = 12


@dataclass(frozen=True)
class Branch:
    """What one value of a variable does to the bits. kill: bits that must not be set; sets: bits that it sets.

    moves: (from, to) the clause goes on with one literal less. never: the value breaks a clause at once.
    """

    kill: tuple[int, ...]
    sets: tuple[int, ...]
    moves: tuple[Pair, ...]
    never: bool


@dataclass(frozen=True)
class SweepStep:
    """One variable: its two choices, the bits that end with it, and how the bits are tidied after it.

    opposed: pairs of bits that ask for a literal and its negation. idle: (a, b) bit b asks for less than a.
    begun: (bit, literals) how many literals stand behind each bit that begins here.
    """

    variable: int
    choices: tuple[Branch, Branch]
    ends: tuple[int, ...]
    opposed: tuple[Pair, ...]
    idle: tuple[Pair, ...]
    begun: tuple[Pair, ...]


@dataclass(frozen=True)
class Sweep:
    """The steps in order, and how many bits a state has."""

    steps: tuple[SweepStep, ...]
    bits: int


def sweep(formula: Formula, places: IntArray, images: IntArray, pinholes: IntArray) -> Sweep:
    """The sweep of a formula whose free variables stand for places.

    places: (n,) the literal of each pinhole, a variable or FALSE. images: (order, n) and pinholes: (n, 2) as
    in a Piece. All other variables must be defined by these (`Formula.all_of`).
    """
    rows = [row for each in formula.clauses for row in each.rows.tolist()]
    defined = _defined(formula)
    clauses = _needed({tuple(literal for literal in row if literal != FALSE) for row in rows}, defined, formula)
    free = [int(literal) for literal in np.unique(places[places > TRUE])]
    where = {int(literal): pinhole for pinhole, literal in reversed(list(enumerate(places.tolist()))) if literal > TRUE}
    orbit = {literal: [(x, y) for x, y in pinholes[images[:, where[literal]]].tolist()] for literal in free}
    orders = [_order(orbit, defined, chosen, along) for chosen in _ORDERS[:3] for along in _ORDERS]
    return _compiled(min(orders, key=lambda order: _open_clauses(order, clauses)), clauses)


def _variable(literal: int) -> int:
    return literal if literal >= 0 else ~literal


def _defined(formula: Formula) -> dict[int, list[int]]:
    """Every defined variable with the variables that define it."""
    return {
        variable: sorted({_variable(literal) for literal in row} - {TRUE})
        for variables, rows in formula.definitions
        for variable, row in zip(variables.tolist(), rows.tolist(), strict=True)
    }


def _needed(clauses: set[Clause], defined: dict[int, list[int]], formula: Formula) -> list[Clause]:
    """The clauses without those that only say what a variable is that nothing asks for; it goes from `defined`."""
    summed = {variable for each in formula.linears for variable in each.variables.tolist()}
    while True:
        found = Counter(_variable(literal) for clause in clauses for literal in clause)
        idle = {v for v, row in defined.items() if v not in summed and found[v] <= len(row) + 1}
        if not idle:
            return sorted(clauses)
        clauses = {clause for clause in clauses if not any(_variable(literal) in idle for literal in clause)}
        for variable in idle:
            del defined[variable]


def _order(
    orbit: dict[int, list[Point]],
    defined: dict[int, list[int]],
    chosen: Callable[[Point], tuple[float, ...]],
    along: Callable[[Point], tuple[float, ...]],
) -> list[int]:
    """Variables in the order of one point of their orbit, each defined one behind most of what defines it."""
    point = {variable: min(points, key=chosen) for variable, points in orbit.items()}
    fixed = sorted(orbit, key=lambda v: along(point[v]))
    rank: dict[int, tuple[int, ...]] = {variable: (number,) for number, variable in enumerate(fixed)}

    def ranked(variable: int) -> tuple[int, ...]:
        if variable not in rank:
            inputs = sorted(ranked(other) for other in defined[variable])
            rank[variable] = (*inputs[math.ceil(_EARLY * len(inputs)) - 1], variable)
        return rank[variable]

    for variable in defined:
        ranked(variable)
    return sorted(rank, key=lambda variable: rank[variable])


def _open_clauses(order: Sequence[int], clauses: Sequence[Clause]) -> Pair:
    """The most clauses that are begun and not ended at any time, and their sum over all times."""
    at = {variable: number for number, variable in enumerate(order)}
    change = [0] * (len(order) + 1)
    for clause in clauses:
        places = [at[_variable(literal)] for literal in clause]
        change[min(places)] += 1
        change[max(places)] -= 1
    held = np.cumsum(change)
    return int(held.max()), int(held.sum())


def _compiled(order: Sequence[int], clauses: Sequence[Clause]) -> Sweep:
    at = {variable: number for number, variable in enumerate(order)}
    begun = defaultdict(list)
    for clause in clauses:
        ordered = tuple(sorted(clause, key=lambda literal: at[_variable(literal)]))
        begun[_variable(ordered[0])].append(ordered)
    bits = _Bits()
    return Sweep(tuple(bits.step(variable, begun[variable]) for variable in order), bits.count)


class _Bits:
    """Which bit stands for which rest of a clause; a bit is used again when its rest has come to its turn."""

    def __init__(self) -> None:
        self.count = 0
        self._bit: dict[Clause, int] = {}
        self._spare: list[int] = []
        self._next: defaultdict[int, list[Clause]] = defaultdict(list)
        self._holding: defaultdict[int, set[Clause]] = defaultdict(set)

    def step(self, variable: int, begun: Sequence[Clause]) -> SweepStep:
        turn = self._next.pop(variable, [])
        touched: set[Clause] = set()
        choices = tuple(self._choice(value, turn, begun, touched) for value in (False, True))
        ends = [self._bit.pop(rest) for rest in turn]
        for rest in turn:
            for literal in rest[:_LONG]:
                self._holding[literal].discard(rest)
        self._spare += ends
        opposed, idle = self._tidied(touched)
        lengths = sorted((self._bit[rest], len(rest)) for rest in touched)
        return SweepStep(variable, (choices[0], choices[1]), tuple(ends), opposed, idle, tuple(lengths))

    def _choice(self, value: bool, turn: Sequence[Clause], begun: Sequence[Clause], touched: set[Clause]) -> Branch:
        open_ones = [rest for rest in turn if (rest[0] >= 0) != value]
        fresh = [clause[1:] for clause in begun if (clause[0] >= 0) != value]
        rests = [rest[1:] for rest in open_ones if len(rest) > 1]
        touched.update(rests, (rest for rest in fresh if rest))
        return Branch(
            kill=tuple(self._bit[rest] for rest in open_ones if len(rest) == 1),
            sets=tuple(sorted({self._of(rest) for rest in fresh if rest})),
            moves=tuple((self._bit[rest], self._of(rest[1:])) for rest in open_ones if len(rest) > 1),
            never=not all(fresh),
        )

    def _of(self, rest: Clause) -> int:
        if rest not in self._bit:
            if not self._spare:
                self._spare.append(self.count)
                self.count += 1
            self._bit[rest] = self._spare.pop()
            self._next[_variable(rest[0])].append(rest)
            for literal in rest if len(rest) <= _LONG else ():
                self._holding[literal].add(rest)
        return self._bit[rest]

    def _tidied(self, touched: set[Clause]) -> tuple[tuple[Pair, ...], tuple[Pair, ...]]:
        """Only what this step has touched can oppose or outdo another now."""
        opposed, idle = set(), set()
        for rest in touched:
            if len(rest) > _LONG:
                continue
            own = set(rest)
            if len(rest) == 1 and (~rest[0],) in self._bit:
                opposed.add((self._bit[rest], self._bit[(~rest[0],)]))
            beside = self._holding[rest[0]].union(*(self._holding[literal] for literal in rest[1:]))
            for other in beside - {rest}:
                if own < set(other):
                    idle.add((self._bit[rest], self._bit[other]))
                elif own > set(other):
                    idle.add((self._bit[other], self._bit[rest]))
        return tuple(sorted(opposed)), tuple(sorted(idle))

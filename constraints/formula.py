"""A formula over 0/1 variables, kept as numpy tables until a solver wants it.

A literal is an integer: variable i is i, its negation is ~i (the convention of CP-SAT, so `~` negates a
whole array). Variable 0 is always true, which makes TRUE and FALSE ordinary literals and lets a rule be
written for every pinhole alike: clauses that hold anyway disappear, FALSE serves as padding.

Tables stay small because equal rows are kept once: under a symmetry all images of a clause are one row.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from constraints.lattice import BoolArray, IntArray, places_in_groups

TRUE, FALSE = 0, ~0


@dataclass(frozen=True, eq=False)
class Table:
    """Rows of literals, padded with FALSE: clauses (at least one true), or groups (at most one true)."""

    rule: str
    rows: IntArray


@dataclass(frozen=True, eq=False)
class Linear:
    """least <= sum of weights x literals <= most. `literals` are distinct variables, none negated."""

    rule: str
    variables: IntArray
    weights: IntArray
    least: int
    most: int


@dataclass(frozen=True, eq=False)
class _Definition:
    """Variables that are true when all literals of their row are."""

    variables: IntArray
    rows: IntArray


class Formula:
    """Clauses, at-most-one groups and linear constraints, each under the name of its rule."""

    def __init__(self) -> None:
        self.size = 1  # variable 0 is TRUE
        self.clauses: list[Table] = []
        self.groups: list[Table] = []
        self.linears: list[Linear] = []
        self._definitions: list[_Definition] = []

    def variables(self, count: int) -> IntArray:
        """New variables, as literals: shape (count,)."""
        first = self.size
        self.size += count
        return np.arange(first, self.size)

    def clause(self, rule: str, *columns: npt.ArrayLike) -> None:
        """For every row: at least one of the columns is true. Columns are literals, (n,), (n, w) or one."""
        rows = _join(columns)
        rows = rows[~_tautologies(rows)]
        if len(rows):
            self.clauses.append(Table(rule, _tidy(rows)))

    def implies(self, rule: str, condition: npt.ArrayLike, *columns: npt.ArrayLike) -> None:
        """For every row: if the condition is true, so is every one of the columns."""
        when = ~np.asarray(condition)
        for column in columns:
            block = np.asarray(column)
            if block.ndim < 2:
                self.clause(rule, when, block)
                continue
            for each in block.T:
                self.clause(rule, when, each)

    def at_most_one(self, rule: str, rows: IntArray) -> None:
        """For every row: at most one literal is true. Repeats of one literal count once; pad with FALSE."""
        rows = _tidy(rows)
        single = (rows != FALSE).sum(axis=1) < 2
        rows = rows[~single]
        if len(rows):
            self.groups.append(Table(rule, rows))

    def one_each(self, rule: str, owner: IntArray, literal: IntArray) -> None:
        """At most one of the literals that name the same owner is true; one that names it twice is false.

        owner, literal: (k,) the owners by number, and what names each.
        """
        if not len(owner):
            return
        order = np.lexsort((literal, owner))
        owner, literal = owner[order], literal[order]
        twice = (owner[1:] == owner[:-1]) & (literal[1:] == literal[:-1])
        if twice.any():
            self.clause(rule, ~np.unique(literal[1:][twice]))
        self.at_most_one(rule, gathered(owner, literal, int(owner[-1]) + 1))

    def all_of(self, rule: str, rows: IntArray) -> IntArray:
        """Literals that are true exactly when all of their row are; equal rows share one variable."""
        rows = _tidy_all(rows)
        value = np.full(len(rows), TRUE)
        value[(rows == FALSE).any(axis=1)] = FALSE
        real = (rows != TRUE).any(axis=1) & (value == TRUE)
        if not real.any():
            return value
        unique, back = np.unique(rows[real], axis=0, return_inverse=True)
        fresh = self.variables(len(unique))
        self._definitions.append(_Definition(fresh, unique))
        self.implies(rule, fresh, unique)
        self.clause(rule, fresh, ~unique)
        value[real] = fresh[back.reshape(-1)]
        return value

    def any_of(self, rule: str, rows: IntArray) -> IntArray:
        """Literals that are true exactly when at least one of their row is."""
        return ~self.all_of(rule, ~rows)

    def linear(self, rule: str, literals: IntArray, weights: IntArray, least: int, most: int) -> None:
        """least <= sum of weights x literals <= most; literals may be negated or repeated."""
        self.linears.append(linear(rule, literals, weights, least, most))

    @property
    def definitions(self) -> list[tuple[IntArray, IntArray]]:
        """The defined variables (n,) and the literals (n, w) that must all be true for each, table by table."""
        return [(each.variables, each.rows) for each in self._definitions]

    def complete(self, values: BoolArray) -> BoolArray:
        """The values with every defined variable set to what its definition says: shape (size,)."""
        either = literal_truth(values)
        either[TRUE], either[FALSE] = True, False
        for each in self._definitions:
            value = either[each.rows].all(axis=1)
            either[each.variables], either[~each.variables] = value, ~value
        return either[: len(values)].copy()

    def broken(self, values: BoolArray, rules: Iterable[str] | None = None) -> list[str]:
        """The rules that an assignment of all variables breaks, each once, in order."""
        wanted = None if rules is None else set(rules)
        names: dict[str, None] = {}
        either = literal_truth(values)
        for table in self.clauses:
            if (wanted is None or table.rule in wanted) and not either[table.rows].any(axis=1).all():
                names[table.rule] = None
        for table in self.groups:
            if (wanted is None or table.rule in wanted) and (either[table.rows].sum(axis=1) > 1).any():
                names[table.rule] = None
        for each in self.linears:
            if wanted is None or each.rule in wanted:
                total = int(each.weights @ values[each.variables])
                if not each.least <= total <= each.most:
                    names[each.rule] = None
        return list(names)


def variable_of(literals: IntArray) -> IntArray:
    """The variable of each literal, negated or not; same shape."""
    return np.where(literals < 0, ~literals, literals)


def truth(values: BoolArray, literals: IntArray) -> BoolArray:
    """The truth of each literal under an assignment of the variables; same shape as `literals`."""
    result: BoolArray = literal_truth(values)[literals]
    return result


def literal_truth(values: BoolArray) -> BoolArray:
    """An array that gives the truth of every literal used as its index: a negation counts from the end."""
    return np.concatenate([values, ~values[::-1]])


def gathered(owner: IntArray, literal: IntArray, count: int) -> IntArray:
    """(count, width) for each owner the literals that name it, in their order, padded with FALSE.

    owner, literal: (k,) the owners by number, and what names each.
    """
    order = np.argsort(owner, kind="stable")
    owner, own = owner[order], np.bincount(owner, minlength=count)
    table = np.full((count, int(own.max(initial=0))), FALSE)
    table[owner, places_in_groups(own)] = literal[order]
    return table


def linear(rule: str, literals: IntArray, weights: IntArray, least: int, most: int) -> Linear:
    """A linear constraint with literals made positive, repeats added up and zeros left out."""
    literals, weights = np.asarray(literals), np.asarray(weights)
    negative = literals < 0
    constant = int(weights[negative].sum())
    weights = np.where(negative, -weights, weights)
    variables, back = np.unique(variable_of(literals), return_inverse=True)
    total = np.bincount(back, weights=weights, minlength=len(variables)).astype(np.int64)
    if len(variables) and variables[0] == TRUE:
        constant += int(total[0])
        total[0] = 0
    keep = total != 0
    return Linear(rule, variables[keep], total[keep], least - constant, most - constant)


def _join(columns: tuple[npt.ArrayLike, ...]) -> IntArray:
    arrays = [np.asarray(column) for column in columns]
    length = max((len(array) for array in arrays if array.ndim), default=1)
    blocks = [
        np.broadcast_to(array.reshape(-1, 1) if array.ndim == 1 else array, (length, 1)) if array.ndim < 2 else array
        for array in arrays
    ]
    return np.concatenate(blocks, axis=1)


def _tautologies(rows: IntArray) -> BoolArray:
    """Rows that hold TRUE, or a literal together with its negation."""
    # The two literals of a variable have neighbouring keys that differ in the last bit alone.
    keys = np.sort(np.where(rows < 0, 2 * ~rows + 1, 2 * rows), axis=1)
    certain: BoolArray = keys[:, 0] == 0  # TRUE has the least
    for column in range(1, keys.shape[1]):
        certain |= (keys[:, column] ^ keys[:, column - 1]) == 1
    return certain


def _tidy(rows: IntArray) -> IntArray:
    """Rows sorted, repeats within a row replaced by FALSE, equal rows kept once."""
    rows = np.sort(rows, axis=1)
    repeat = rows[:, 1:] == rows[:, :-1]
    if repeat.any():
        rows[:, 1:][repeat] = FALSE
        rows = np.sort(rows, axis=1)
    return _unique(rows)


def _tidy_all(rows: IntArray) -> IntArray:
    """Rows sorted with repeats replaced by TRUE: the padding of a conjunction."""
    rows = np.sort(rows, axis=1)
    repeat = rows[:, 1:] == rows[:, :-1]
    rows[:, 1:][repeat] = TRUE
    return np.sort(rows, axis=1)


def _unique(rows: IntArray) -> IntArray:
    """Equal rows once, by way of one sort over all columns (np.unique on rows compares bytes, slowly)."""
    order = np.lexsort(rows.T[::-1])
    rows = rows[order]
    fresh = np.ones(len(rows), dtype=bool)
    fresh[1:] = rows[1:, 0] != rows[:-1, 0]
    for column in range(1, rows.shape[1]):
        fresh[1:] |= rows[1:, column] != rows[:-1, column]
    return rows[fresh]

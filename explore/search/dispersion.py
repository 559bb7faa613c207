"""Choosing so many of a pool that the two most alike are as different as can be: max-min dispersion.

The greedy choice is that of Gonzalez 1985, "Clustering to minimize the maximum intercluster distance"
(Theoretical Computer Science 38); Ravi, Rosenkrantz and Tayi 1994, "Heuristic and special case algorithms for
dispersion problems" (Operations Research 42), show that it reaches half of the best where differences obey the
triangle inequality. The best itself is found by halving among the differences there are: for each, the solver is
asked for a choice in which no two are more alike. Nothing here knows lace.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from constraints.formula import Formula
from constraints.lattice import BoolArray, FloatArray, IntArray
from constraints.solver import Solver, Status

# Deterministic time for one question; the pools of a series take a small part of it.
EFFORT = 2.0


@dataclass(frozen=True, eq=False)
class Bounds:
    """How many members each class of the pool may give. of: (k,) class of each; least, most: (classes,)."""

    of: IntArray
    least: IntArray
    most: IntArray

    def hold(self, members: Sequence[int]) -> bool:
        counts = np.bincount(self.of[list(members)], minlength=len(self.least))
        return bool((counts >= self.least).all() and (counts <= self.most).all())


@dataclass(frozen=True)
class Selection:
    """members: rising indices into the pool. least, total: of their differences, but for those of two given
    ones, which no choice can change. proven: no allowed choice has a larger least difference; if it is not, none has
    that differs in one member."""

    members: tuple[int, ...]
    least: float
    total: float
    proven: bool


def free(size: int) -> Bounds:
    """Bounds that allow every choice of a pool of that size."""
    return Bounds(np.zeros(size, dtype=np.int64), np.zeros(1, dtype=np.int64), np.full(1, size))


def worth(table: FloatArray, given: Sequence[int], members: Sequence[int]) -> tuple[float, float]:
    """The least and the sum of the differences of the members, those of two given ones apart; 0, 0 for none."""
    pick = np.ix_(sorted(members), sorted(members))
    found = table[pick][np.tril(_counts(len(table), given)[pick])]
    return (float(found.min()), float(found.sum())) if len(found) else (0.0, 0.0)


def farthest(table: FloatArray, given: Sequence[int], count: int) -> tuple[int, ...]:
    """Greedily, again and again the one that is farthest from all taken so far; the first in ties."""
    taken = list(given) or [0]
    while len(taken) < count:
        near = table[taken].min(axis=0)
        near[taken] = -1.0
        taken.append(int(near.argmax()))
    return tuple(sorted(taken))


def most_different(
    table: FloatArray,
    given: Sequence[int],
    count: int,
    bounds: Bounds,
    effort: float = EFFORT,
) -> Selection | None:
    """The choice of `count`, the given ones among them, whose least difference is largest, then its sum by swaps.

    table: (k, k) symmetric differences. None if no choice keeps the bounds, or none is found.
    """
    counted = _counts(len(table), given)
    steps = np.unique(np.append(table[counted], 0.0))
    found = _choice(np.zeros_like(counted), given, count, bounds, effort)[1]
    if found is None:
        return None
    low, high, proven = 0, len(steps), True  # steps[low] is reached, steps[high] is not
    greedy = farthest(table, given, count)
    if bounds.hold(greedy):
        found, low = greedy, int(np.searchsorted(steps, worth(table, given, greedy)[0]))
    while high - low > 1:
        middle = (low + high) // 2
        status, better = _choice((table < steps[middle]) & counted, given, count, bounds, effort)
        if better is None:
            high, proven = middle, status is Status.IMPOSSIBLE
        else:
            found, low = better, middle
    starts = [found]
    closed = (table < steps[low]) & counted
    if bounds.hold(greedy) and not closed[np.ix_(greedy, greedy)].any():
        starts.append(greedy)
    ended = [_swapped(table, given, start, bounds, closed) for start in starts]
    members = max(ended, key=lambda each: worth(table, given, each))
    if not proven:
        members = _climbed(table, given, members, bounds)
    return Selection(members, *worth(table, given, members), proven=proven)


def _counts(size: int, given: Sequence[int]) -> BoolArray:
    """(k, k) the pairs that a choice is judged by: all but those of two given ones."""
    counted = ~np.eye(size, dtype=np.bool_)
    counted[np.ix_(list(given), list(given))] = False
    return counted


def _choice(
    barred: BoolArray, given: Sequence[int], count: int, bounds: Bounds, effort: float
) -> tuple[Status, tuple[int, ...] | None]:
    """A choice without a barred pair, or None and whether that is proven."""
    formula = Formula()
    taken = formula.variables(len(barred))
    formula.clause("given", taken[list(given)])
    first, second = np.nonzero(np.triu(barred, 1))
    if len(first):
        formula.clause("alike", ~taken[first], ~taken[second])
    formula.linear("count", taken, np.ones(len(taken), dtype=np.int64), count, count)
    for number, (least, most) in enumerate(zip(bounds.least.tolist(), bounds.most.tolist(), strict=True)):
        members = taken[bounds.of == number]
        if len(members):
            formula.linear("class", members, np.ones(len(members), dtype=np.int64), least, most)
        elif least > 0:
            return Status.IMPOSSIBLE, None
    answer = Solver(formula).prove(effort)
    if answer.values is None:
        return answer.status, None
    return answer.status, tuple(np.flatnonzero(answer.values[taken]).tolist())


def _climbed(table: FloatArray, given: Sequence[int], start: Sequence[int], bounds: Bounds) -> tuple[int, ...]:
    """The choice after swaps of one member, each to the most different that a swap can reach."""
    best = tuple(start)
    while True:
        out = sorted(set(range(len(table))) - set(best))
        swaps = ((leaving, coming) for leaving in sorted(set(best) - set(given)) for coming in out)
        trials = [tuple(sorted({*best, coming} - {leaving})) for leaving, coming in swaps]
        better = max(filter(bounds.hold, trials), key=lambda each: worth(table, given, each), default=best)
        if worth(table, given, better) <= worth(table, given, best):
            return best
        best = better


def _swapped(
    table: FloatArray, given: Sequence[int], start: Sequence[int], bounds: Bounds, closed: BoolArray
) -> tuple[int, ...]:
    """The choice after the swaps of one member that raise the sum most and bring no closed pair together."""
    members = tuple(start)
    while True:
        best, total = members, worth(table, given, members)[1] + 1e-9
        for leaving in sorted(set(members) - set(given)):
            rest = [each for each in members if each != leaving]
            allowed = ~closed[rest].any(axis=0)
            for coming in np.flatnonzero(allowed).tolist():
                trial = tuple(sorted([*rest, coming]))
                if coming not in members and bounds.hold(trial) and worth(table, given, trial)[1] > total:
                    best, total = trial, worth(table, given, trial)[1]
        if best == members:
            return tuple(sorted(members))
        members = best

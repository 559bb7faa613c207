"""Counts along a sweep: exact ones, and what is certain if only some states are followed."""

from __future__ import annotations

from dataclasses import dataclass
from math import gcd

import numpy as np
import numpy.typing as npt

from constraints.counting.states import Hope, Stride, Walk, drawn
from constraints.counting.sweep import Sweep
from constraints.formula import Linear
from constraints.lattice import FloatArray

Whole = npt.NDArray[np.object_]


@dataclass(frozen=True)
class Problem:
    """What is to be counted: the ways through a sweep that keep the sums.

    share: the sum that is tallied amount by amount; others: sums that are few enough to stand in the states.
    """

    sweep: Sweep
    share: Linear
    others: tuple[Linear, ...]


@dataclass(frozen=True)
class Tally:
    """count: exact, or of the followed states alone. states: the most at once. visited: states in all."""

    count: int
    states: int
    visited: int


@dataclass(frozen=True)
class Reach:
    """How far a sweep goes within a limit. ways: about how many ways there are at any share, 0 if `over`."""

    over: bool
    ways: float
    states: int
    visited: int


def reach(problem: Problem, most_states: int) -> Reach:
    """Whether the sweep has no more than so many states at once; the ways are told in doubles."""
    walk = Walk(problem.sweep, problem.others)
    states, ways = walk.begin(), np.ones(1)
    most = visited = 1
    for step in problem.sweep.steps:
        stride = walk.stride(states, step)
        states, ways = stride.joined, _joined(stride, ways)
        most, visited = max(most, len(states)), visited + len(states)
        if most > most_states:
            return Reach(True, 0.0, most, visited)
    return Reach(False, float(ways.sum()), most, visited)


def exact(problem: Problem, found: Reach) -> Tally:
    """The exact count, by whole numbers without limit. found: what `reach` said, not over."""
    return _followed(problem, _digits(problem, found))


def room(problem: Problem, found: Reach) -> int:
    """About how many bytes the counts of all states at once take: a process took 2.4 GB where this is 1.9."""
    weights = problem.share.weights
    amounts = int(weights.sum()) // (gcd(*weights.tolist()) or 1) + 1
    return found.states * amounts * _digits(problem, found) // 8


def _digits(problem: Problem, found: Reach) -> int:
    """Every amount of the share has its own digits in one long number; one bit more than all ways need."""
    return max(1, int(found.ways * 1.01)).bit_length() + 1 if found.ways < 1e300 else len(problem.sweep.steps) + 1


def at_least(problem: Problem, most_states: int, seed: int) -> Tally:
    """A count of some of the ways for certain: those through states that are drawn by chance and promise many."""
    return _followed(problem, len(problem.sweep.steps) + 1, most_states, seed)


def _followed(problem: Problem, digits: int, most_states: int | None = None, seed: int = 0) -> Tally:
    walk, hope, chance = Walk(problem.sweep, problem.others), Hope(problem.sweep), np.random.default_rng(seed)
    unit = gcd(*problem.share.weights.tolist()) or 1
    shift = {
        variable: digits * (weight // unit)
        for variable, weight in zip(problem.share.variables.tolist(), problem.share.weights.tolist(), strict=True)
    }
    states, counts = walk.begin(), np.array([1], dtype=np.object_)
    weights = np.zeros(1)  # logarithms; they choose states and never count
    most = visited = 1
    for step in problem.sweep.steps:
        stride = walk.stride(states, step)
        counts, states = _summed(stride, counts, shift.get(step.variable, 0)), stride.joined
        if most_states is not None and len(states):
            weights = np.logaddexp.reduceat(weights[stride.origin], stride.first)
            hope.follow(step)
            if len(states) > most_states:
                chosen, odds = drawn(weights + hope.of(states), most_states, chance)
                states, counts, weights = states[chosen], counts[chosen], weights[chosen] - np.log(odds)
        most, visited = max(most, len(states)), visited + len(states)
    total = sum(int(count) for count in counts[walk.kept(states)])
    return Tally(_within(total, digits, problem.share, unit), most, visited)


def _joined(stride: Stride, ways: FloatArray) -> FloatArray:
    if not len(stride.first):
        return np.zeros(0)
    return np.add.reduceat(ways[stride.origin], stride.first)


def _summed(stride: Stride, counts: Whole, shift: int) -> Whole:
    moved = counts[stride.origin]
    if shift and stride.true.any():
        moved[stride.true] = moved[stride.true] << shift
    if not len(stride.first):
        return moved
    summed: Whole = np.add.reduceat(moved, stride.first)
    return summed


def _within(total: int, digits: int, share: Linear, unit: int) -> int:
    """The sum of the amounts that the share allows."""
    mask, found, amount = (1 << digits) - 1, 0, 0
    while total:
        if share.least <= amount * unit <= share.most:
            found += total & mask
        total >>= digits
        amount += 1
    return found

"""Lists of block layouts and problems of counting, for the tests of counts and of estimates.

The lists come from the answer set program of `answer_sets.py`, which shares nothing with the project and is
solved by clingo.
"""

from __future__ import annotations

import math
from functools import cache
from itertools import islice, product

import numpy as np
from answer_sets import AskedSquares
from answer_sets import every as by_clingo

from constraints import symmetry as symmetries
from constraints.brief import Brief
from constraints.counting import estimate, tally
from constraints.counting.space import Space
from constraints.counting.sweep import sweep
from constraints.counting.tally import Problem
from constraints.forms import Square
from constraints.formula import Formula, linear
from constraints.lattice import IntArray

Layout = frozenset[tuple[int, int]]


@cache
def listed(asked: AskedSquares) -> frozenset[Layout]:
    return frozenset(frozenset((x, y) for x, y, _ in blocks) for blocks, _, _ in by_clingo(asked))


def space(asked: AskedSquares) -> Space:
    names = ("narrowest", "widest", "narrowest_ground", "margin", "splits", "solid", "symmetry", "worked", "corners")
    return Space(Square(asked.half_size), Brief.of(**{name: getattr(asked, name) for name in names}))


NO_SHARE = linear("any", np.array([0]), np.array([0]), 0, 0)


def box(wide: int, high: int) -> IntArray:
    return np.array(list(product(range(wide), range(high)))) * 2 - (np.array([wide, high]) - 1)


def counted(formula: Formula, places: IntArray, points: IntArray) -> Problem:
    images = symmetries.images(points, "none")
    return Problem(sweep(formula, places, images, points), NO_SHARE, ())


def apart(wide: int, high: int = 0) -> Problem:
    """Points of a box, a square one unless its height is told, no two of which are side by side."""
    points, formula = box(wide, high or wide), Formula()
    places = formula.variables(len(points))
    number = dict(zip(map(tuple, points.tolist()), places.tolist(), strict=True))
    for (x, y), place in number.items():
        for beside in ((x + 2, y), (x, y + 2)):
            if beside in number:
                formula.clause("apart", np.array([~place]), np.array([~number[beside]]))
    return counted(formula, places, points)


def exactly(problem: Problem) -> int:
    reach = tally.reach(problem, 10**6)
    assert not reach.over
    return tally.exact(problem, reach).count


APART = [2, 7, 63, 1234, 55447, 5598861, 1280128950, 660647962955]  # A006506 for n = 1 to 8


def off_by(problem: Problem, known: int, most: int, seeds: int, runs: int) -> list[float]:
    """By how many of the standard errors told an estimate is off, for so many seeds. most: states followed in a run."""
    off = []
    for seed in range(seeds):
        found = estimate.estimate(list(islice(estimate.runs(problem, most, seed), runs)))
        off.append((math.exp(found.log_mean) / known - 1) / found.error)
    return off

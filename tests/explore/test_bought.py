"""Splits that are bought: as many as are allowed, where they are worth most, and never a worse answer for it."""

import numpy as np
import pytest
from scipy.optimize import Bounds, LinearConstraint, milp
from shapely.geometry import MultiPolygon, Point, box
from test_blocking import laid

from constraints.formula import Formula
from constraints.lattice import BoolArray, IntArray
from explore.search.laying.blocking import best_blocking
from explore.search.laying.bought import bought

RULE = "ends"


def times(count: int) -> IntArray:
    """As how many each of the ends counts, as one that has images under a symmetry does."""
    counted: IntArray = 1 + np.arange(count - 1) % 2
    return counted


def row(count: int, most: int) -> tuple[Formula, IntArray, IntArray]:
    """Places in a row, at most so many of them with an empty one on their right: the ends of runs."""
    formula = Formula()
    variables = formula.variables(count)
    ends = formula.all_of(RULE, np.stack([variables[:-1], ~variables[1:]], axis=1))
    formula.linear(RULE, ends, times(count), 0, most)
    return formula, variables, np.stack([4 * np.arange(count), np.zeros(count, dtype=int)], axis=1)


def most_by_milp(worth: IntArray, most: int) -> int:
    """The most by another solver: HiGHS (Huangfu and Hall, 2018, in scipy)."""
    count = len(worth)
    placed, end = np.eye(count), np.eye(count - 1)
    rows = np.concatenate(
        [
            np.hstack([placed[:-1] - placed[1:], -end]),  # one with an empty one on its right is an end
            np.concatenate([np.zeros(count), times(count)])[None],
        ]
    )
    limits = LinearConstraint(rows, ub=np.concatenate([np.zeros(count - 1), [most]]))
    cost = np.concatenate([-worth, np.zeros(count - 1)])
    return -round(milp(cost, constraints=limits, integrality=np.ones(len(cost)), bounds=Bounds(0, 1)).fun)


def nothing(formula: Formula) -> BoolArray:
    values = np.zeros(formula.size, dtype=bool)
    values[0] = True
    return formula.complete(values)


@pytest.mark.parametrize("seed", range(4))
def test_runs_are_kept_where_they_are_worth_most(seed: int) -> None:
    formula, variables, places = row(40, most=5)
    rng = np.random.default_rng(seed)
    worth = np.where(np.arange(40) % 5 < 3, rng.integers(40, 99, size=40), -rng.integers(150, 400, size=40))
    values = bought(formula, RULE, (variables, worth), places, nothing(formula), 1, 4.0)
    assert not formula.broken(values)
    assert int(worth @ values[variables]) >= 0.85 * most_by_milp(worth, 5)


def test_where_nothing_can_be_bought_what_was_given_stays() -> None:
    """More ends than are there are asked for: no price leads to them."""
    formula, variables, places = row(6, most=2)
    formula.linears[0] = type(formula.linears[0])(RULE, *_sum(formula), 6, 9)
    given = nothing(formula)
    assert (bought(formula, RULE, (variables, np.ones(6, dtype=int)), places, given, 1, 1.0) == given).all()


def _sum(formula: Formula) -> tuple[IntArray, IntArray]:
    return formula.linears[0].variables, formula.linears[0].weights


def mushroom(size: float) -> MultiPolygon:
    """A cap with two holes on a stem: each hole in it takes a split and a merge."""
    cap = Point(0, 0).buffer(size / 2).intersection(box(-size, -size / 8, size, size))
    holes = Point(-size / 5, size / 6).buffer(size / 14).union(Point(size / 5, size / 5).buffer(size / 14))
    stem = box(-size / 6, -size / 2, size / 6, 0)
    whole = cap.union(stem).difference(holes)
    # A square's y goes down, in lattice units of half a pitch.
    return MultiPolygon([whole])


def test_a_large_print_keeps_its_holes_without_slits() -> None:
    """Six splits are what its two holes and its three ends below take. Windows alone, with splits forbidden beyond
    six, came to a match of 0.78."""
    model, aim, worth = laid(mushroom(44.0), splits=6)
    found = best_blocking(model, aim, worth, 0.4)
    assert found is not None
    assert found.match > 0.87

"""The most different choice: equal to brute force and to cliques, never below a greedy or a random one."""

from __future__ import annotations

from itertools import combinations

import networkx as nx
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as some

from constraints.lattice import FloatArray
from explore.search.dispersion import Bounds, farthest, free, most_different, worth


def random_table(size: int, seed: int, digits: int = 2) -> FloatArray:
    """Symmetric differences with many ties."""
    raw = np.round(np.random.default_rng(seed).random((size, size)), digits)
    table = np.triu(raw, 1)
    return table + table.T


def least_of(table: FloatArray, fixed: list[int], members: tuple[int, ...]) -> float:
    """The least difference that counts, spelt out."""
    return min(table[a, b] for a, b in combinations(members, 2) if not (a in fixed and b in fixed))


def every_choice(size: int, fixed: list[int], count: int) -> list[tuple[int, ...]]:
    return [each for each in combinations(range(size), count) if set(fixed) <= set(each)]


def test_on_a_line_the_ends_and_the_middle_are_chosen() -> None:
    places = np.array([0.0, 1.0, 2.0, 4.0, 5.0, 7.0, 10.0])
    choice = most_different(np.abs(places[:, None] - places), [], 3, free(7))
    assert choice is not None
    assert (choice.members, choice.least, choice.total, choice.proven) == ((0, 4, 6), 5.0, 20.0, True)


@settings(max_examples=25)
@given(some.integers(5, 9), some.integers(0, 10**6), some.integers(2, 4), some.integers(0, 2))
def test_no_choice_at_all_is_more_different(size: int, seed: int, count: int, fixed: int) -> None:
    table, held = random_table(size, seed), list(range(min(fixed, count - 1)))
    choice = most_different(table, held, count, free(size))
    assert choice is not None
    assert choice.proven
    assert choice.least == max(least_of(table, held, each) for each in every_choice(size, held, count))
    assert choice.least == least_of(table, held, choice.members)
    assert set(held) <= set(choice.members)


@settings(max_examples=15)
@given(some.integers(0, 10**6))
def test_bounds_on_classes_are_kept_and_nothing_else_is_lost(seed: int) -> None:
    table = random_table(9, seed)
    of = np.arange(9) % 3
    bounds = Bounds(of, np.array([1, 0, 2]), np.array([1, 1, 3]))
    choice = most_different(table, [0], 4, bounds)
    allowed = [each for each in every_choice(9, [0], 4) if bounds.hold(each)]
    assert choice is not None
    assert choice.members in allowed
    assert choice.least == max(least_of(table, [0], each) for each in allowed)


@pytest.mark.parametrize("seed", range(4))
def test_the_threshold_is_the_last_with_a_clique_that_large(seed: int) -> None:
    # A choice with no two closer than t is a clique of the graph of all pairs at least t apart (networkx).
    table = random_table(30, seed, 3)
    choice = most_different(table, [], 6, free(30))
    assert choice is not None
    above = float(np.unique(table)[np.searchsorted(np.unique(table), choice.least) + 1])
    for threshold, found in ((choice.least, True), (above, False)):
        graph = nx.Graph((a, b) for a, b in combinations(range(30), 2) if table[a, b] >= threshold)
        assert (max(map(len, nx.find_cliques(graph))) >= 6) is found


@pytest.mark.parametrize("seed", range(3))
def test_nothing_is_proven_where_the_effort_ends_too_early(seed: int) -> None:
    """What is found then is the best that a swap of one member reaches, and is never called proven."""
    table = random_table(60, seed)
    early = most_different(table, [], 12, free(60), 0.003)
    later = most_different(table, [], 12, free(60), 0.1)
    assert early is not None
    assert later is not None
    assert early.least <= later.least
    assert not early.proven
    swapped = [[*set(early.members) - {out}, into] for out in early.members for into in {*range(60)} - {*early.members}]
    assert max(worth(table, [], each)[0] for each in swapped) <= early.least


@pytest.mark.parametrize("seed", range(3))
def test_never_below_a_greedy_or_a_random_choice(seed: int) -> None:
    rng = np.random.default_rng(seed)
    points = rng.random((60, 3))
    table = np.linalg.norm(points[:, None] - points, axis=2)
    choice = most_different(table, [3, 8], 9, free(60))
    assert choice is not None
    rivals = [[3, 8, *rng.choice(np.setdiff1d(np.arange(60), [3, 8]), 7, replace=False)] for _ in range(500)]
    for rival in [list(farthest(table, [3, 8], 9)), *rivals]:
        assert (choice.least, choice.total) >= worth(table, [3, 8], rival)


@settings(max_examples=20)
@given(some.integers(0, 10**6))
def test_the_greedy_choice_reaches_half_of_the_best(seed: int) -> None:
    # Ravi, Rosenkrantz and Tayi 1994, "Heuristic and special case algorithms for dispersion problems": within a
    # factor of 2 under the triangle inequality. They start from the two farthest points.
    points = np.random.default_rng(seed).random((12, 2))
    table = np.linalg.norm(points[:, None] - points, axis=2)
    start = [int(each) for each in np.unravel_index(table.argmax(), table.shape)]
    best = most_different(table, [], 4, free(12))
    greedy = farthest(table, start, 4)
    assert best is not None
    assert best.least / 2 <= least_of(table, [], greedy) <= best.least


def test_the_greedy_choice_goes_farthest_first() -> None:
    # Gonzalez 1985: each next head is the point farthest from all heads so far.
    places = np.array([0.0, 1.0, 2.0, 4.0, 5.0, 7.0, 10.0])
    assert farthest(np.abs(places[:, None] - places), [1], 3) == (1, 4, 6)


def test_the_difference_of_two_given_ones_does_not_count() -> None:
    table = np.full((4, 4), 0.5)
    table[0, 1] = table[1, 0] = 0.1
    choice = most_different(table, [0, 1], 3, free(4))
    assert choice is not None
    assert (choice.least, choice.total) == (0.5, 1.0)


def test_bounds_that_no_choice_keeps_give_none() -> None:
    table = random_table(6, 1)
    assert most_different(table, [0], 3, Bounds(np.zeros(6, int), np.array([0]), np.array([2]))) is None
    assert most_different(table, [], 7, free(6)) is None
    assert most_different(table, [], 2, Bounds(np.zeros(6, int), np.array([0, 1]), np.array([6, 1]))) is None


def test_the_same_question_has_the_same_answer() -> None:
    table = random_table(40, 5)
    assert most_different(table, [2], 7, free(40)) == most_different(table, [2], 7, free(40))

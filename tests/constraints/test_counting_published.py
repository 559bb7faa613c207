"""Counts quoted from the OEIS, from a paper or from algebra, beside each test."""

from __future__ import annotations

import math
from itertools import product

import numpy as np
import pytest
from counted import APART, NO_SHARE, apart, counted, exactly

from constraints import symmetry as symmetries
from constraints.counting import tally
from constraints.counting.sweep import sweep
from constraints.counting.tally import Problem
from constraints.forms import Square
from constraints.formula import Formula, linear


@pytest.mark.parametrize("wide", [2, 3, 4])
def test_a_long_box_is_swept_along_its_length(wide: int) -> None:
    """Then nothing but the last row is remembered: of so many points no two side by side, F(wide + 2) ways (A000045);
    while one point after the other is fixed, its row lies partly here, partly there, so that the corner is free."""
    fibonacci = [0, 1, 1, 2, 3, 5, 8, 13, 21]
    for sides in ((wide, 20), (20, wide)):
        assert tally.reach(apart(*sides), 10**6).states <= 2 * fibonacci[wide + 2]


def test_points_of_a_box_that_keep_apart() -> None:
    assert [exactly(apart(n)) for n in range(1, 8)] == APART[:7]


def test_perfect_matchings_of_the_pinholes_of_a_square() -> None:
    """The Aztec diamond theorem: 2^(N(N+1)/2) (Elkies, Kuperberg, Larsen and Propp 1992)."""
    for half_size in (1, 2, 3, 4, 5):
        piece, formula = Square(half_size).piece("round"), Formula()
        pairs = [(i, j) for i, row in enumerate(piece.neighbours.tolist()) for j in row if j > i]
        places = formula.variables(len(pairs))
        for pinhole in range(len(piece)):
            own = [place for place, pair in zip(places.tolist(), pairs, strict=True) if pinhole in pair]
            formula.clause("some", np.array([own]))
            for first, second in product(own, own):
                if first < second:
                    formula.clause("one", np.array([~first]), np.array([~second]))
        middles = piece.pinholes[[i for i, _ in pairs]] + piece.pinholes[[j for _, j in pairs]]
        assert exactly(counted(formula, places, middles)) == 2 ** (half_size * (half_size + 1) // 2)


def test_without_rules_every_pinhole_is_free() -> None:
    """The mean over the eight of 2^orbits, by hand: 4 pinholes, 12 pinholes."""
    for half_size in (1, 2):
        formula = Formula()
        points = Square(half_size).piece("round").pinholes
        assert exactly(counted(formula, formula.variables(len(points)), points)) == 2 ** len(points)


def test_amounts_of_a_sum_are_told_apart() -> None:
    """Binomial coefficients: so many of ten, each weighing 3."""
    formula, points = Formula(), np.array([(x, 0) for x in range(-9, 10, 2)])
    places = formula.variables(10)
    for least, most in ((0, 30), (6, 6), (7, 14), (4, 5), (31, 40)):
        share = linear("share", places, np.full(10, 3), least, most)
        swept = sweep(formula, places, symmetries.images(points, "none"), points)
        wanted = sum(math.comb(10, k) for k in range(11) if least <= 3 * k <= most)
        assert exactly(Problem(swept, share, ())) == wanted
        assert exactly(Problem(swept, NO_SHARE, (share,))) == wanted

"""Counts of block layouts are those of explicit lists, up to turning and reflecting too.

The lists come from the answer set program of `answer_sets.py`, which shares nothing with the project and is
solved by clingo. Other counts are quoted from the OEIS and from a paper beside each test.
"""

from __future__ import annotations

import math
from functools import cache
from itertools import islice, product

import numpy as np
import pytest
from answer_sets import GENERATORS, Wish
from answer_sets import every as by_clingo

from constraints import model
from constraints import piece as pieces
from constraints import symmetry as symmetries
from constraints.brief import Brief
from constraints.counting import estimate, states, tally
from constraints.counting.answer import Kind, size
from constraints.counting.space import EIGHT, Space, conjugate, subgroups
from constraints.counting.sweep import sweep
from constraints.counting.tally import Problem
from constraints.formula import Formula, linear
from constraints.lattice import IntArray

Layout = frozenset[tuple[int, int]]

# --- explicit lists --------------------------------------------------------------------------------------


@cache
def listed(wish: Wish) -> frozenset[Layout]:
    return frozenset(
        frozenset((x, y) for x, y, _ in blocks) for blocks, _, _ in by_clingo(wish)
    )


# What keeps the way of working, from the trade: a square worked round may be turned to begin at any quarter, and
# a mirrored one is worked the other way round; one worked across keeps its top and bottom (common practice, no
# source).
KEEPING = {"round": EIGHT, "across": tuple(m for m in EIGHT if m[0][1] == 0)}


def classes(layouts: frozenset[Layout], worked: str) -> int:
    """How many kinds a list holds if what can be turned or reflected into each other is of one kind."""
    left, kinds = set(layouts), 0
    while left:
        one = left.pop()
        kinds += 1
        left -= {frozenset((a * x + b * y, c * x + d * y) for x, y in one) for (a, b), (c, d) in KEEPING[worked]}
    return kinds


def space(wish: Wish) -> Space:
    names = ("narrowest", "widest", "narrowest_ground", "margin", "splits", "solid", "symmetry", "worked", "corners")
    return Space(wish.half_size, Brief(**{name: getattr(wish, name) for name in names}))


USUAL = [Wish(n, symmetry, worked) for n in (2, 3, 4, 5) for symmetry in GENERATORS for worked in KEEPING]
LOOSE = [
    Wish(n, symmetry, worked, margin=1, narrowest=1, narrowest_ground=1, splits=splits)
    for n, splits in ((2, 0), (3, 2))
    for symmetry in GENERATORS
    for worked in KEEPING
]
OTHER = [
    Wish(4, "full", margin=1, narrowest=1, narrowest_ground=1, splits=8),
    Wish(4, "diagonal-mirror", "across", margin=1, narrowest=1, narrowest_ground=2),
    Wish(5, "diagonal-mirrors", margin=1, narrowest=1, narrowest_ground=1, splits=4),
    Wish(5, "upright-mirrors", "across", margin=1, narrowest=1, narrowest_ground=1, splits=2, solid=(0.1, 0.4)),
    Wish(6, "quarter-turn", widest=2, narrowest_ground=1, solid=(0.15, 0.3)),
    Wish(6, "upright-mirror", "across", narrowest_ground=1, solid=(0.2, 0.5)),
    Wish(7, "half-turn", narrowest=3, narrowest_ground=3),
    Wish(6, "half-turn", narrowest_ground=1, corners="swung"),
    Wish(6, "diagonal-mirror", margin=1, corners="clear"),
    Wish(5, "half-turn", margin=1, splits=2, corners=""),
    Wish(5, "none", margin=1, solid=(0.2, 0.5)),
]


@pytest.mark.parametrize("wish", USUAL + LOOSE + OTHER, ids=str)
def test_exact_counts_are_those_of_an_answer_set_program(wish: Wish) -> None:
    found = size(space(wish), effort=1.0, seed=1)
    layouts = listed(wish)
    assert (found.layouts.kind, found.layouts.value) == (Kind.EXACT, len(layouts))
    assert (found.classes.kind, found.classes.value) == (Kind.EXACT, classes(layouts, wish.worked))


def test_the_lists_tell_layouts_and_kinds_apart() -> None:
    """Otherwise the promise above would say little: there are many, and turning makes fewer of them."""
    seen = {wish: (len(layouts := listed(wish)), classes(layouts, wish.worked)) for wish in LOOSE + OTHER}
    assert max(count for count, _ in seen.values()) > 4_000
    assert sum(kinds < count for count, kinds in seen.values()) > len(seen) // 2


@pytest.mark.parametrize("worked", KEEPING)
def test_what_keeps_the_way_of_working_is_what_keeps_the_rules(worked: str) -> None:
    """Found from the pairs by the program, told from the trade here; and only these take the list to itself."""
    wish = Wish(3, "none", worked, margin=1, narrowest=1, narrowest_ground=1, splits=1)
    assert space(wish).keeping == frozenset(KEEPING[worked])
    layouts = listed(wish)
    taking = {
        m
        for m in EIGHT
        if {frozenset((m[0][0] * x + m[0][1] * y, m[1][0] * x + m[1][1] * y) for x, y in one) for one in layouts}
        == layouts
    }
    assert taking == set(KEEPING[worked])


def test_the_eight_turns_and_reflections_have_ten_groups() -> None:
    """The dihedral group of order 8 has ten subgroups (any book of group theory)."""
    groups = subgroups()
    assert len(groups) == len(set(groups)) == 10
    assert all(conjugate(group, g) in groups for group in groups for g in EIGHT)
    for group in groups:
        assert {tuple(map(tuple, (np.array(g) @ np.array(h)).tolist())) for g in group for h in group} == group


# --- published counts ------------------------------------------------------------------------------------

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


@pytest.mark.parametrize("wide", [2, 3, 4])
def test_a_long_box_is_swept_along_its_length(wide: int) -> None:
    """Then nothing but the last row is remembered: of so many points no two side by side, F(wide + 2) ways (A000045);
    while one point after the other is fixed, its row lies partly here, partly there, so that the corner is free."""
    fibonacci = [0, 1, 1, 2, 3, 5, 8, 13, 21]
    for sides in ((wide, 20), (20, wide)):
        assert tally.reach(apart(*sides), 10**6).states <= 2 * fibonacci[wide + 2]


APART = [2, 7, 63, 1234, 55447, 5598861, 1280128950, 660647962955]  # A006506 for n = 1 to 8


def test_points_of_a_box_that_keep_apart() -> None:
    assert [exactly(apart(n)) for n in range(1, 8)] == APART[:7]


def test_perfect_matchings_of_the_pinholes_of_a_square() -> None:
    """The Aztec diamond theorem: 2^(N(N+1)/2) (Elkies, Kuperberg, Larsen and Propp 1992)."""
    for half_size in (1, 2, 3, 4, 5):
        piece, formula = pieces.square(half_size), Formula()
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
        points = pieces.square(half_size).pinholes
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


# --- estimates and least numbers -------------------------------------------------------------------------


def test_every_state_keeps_its_own_on_average() -> None:
    """Over all places where the drawing may begin, what is drawn divided by its odds is what was there."""

    class At(np.random.Generator):
        """Draws the one number it was given."""

        def __init__(self, start: float) -> None:
            super().__init__(np.random.PCG64(0))
            self.start = start

        def random(self, *_: object, **__: object) -> float:
            return self.start

    merits = np.log(np.array([5.0, 0.1, 0.1, 0.4, 7.0, 0.2, 1e-9, 0.3, 0.3, 0.05]))
    starts = (np.arange(20_000) + 0.5) / 20_000
    kept = np.zeros(len(merits))
    for start in starts:
        chosen, odds = states.drawn(merits, 4, At(float(start)))
        assert 3 <= len(chosen) <= 5
        kept[chosen] += 1 / odds
    likely = np.exp(merits) > 1e-6
    np.testing.assert_allclose(kept[likely] / len(starts), 1.0, atol=0.01)


@pytest.mark.parametrize("more", [-2000.0, -300.0, 300.0, 2000.0])
def test_what_is_drawn_does_not_depend_on_how_large_all_merits_are(more: float) -> None:
    """Counts of large squares have hundreds of digits; only how merits compare says which are drawn."""
    merits = np.log(np.arange(1.0, 40.0))
    plain, odds = states.drawn(merits, 7, np.random.default_rng(1))
    chosen, others = states.drawn(merits + more, 7, np.random.default_rng(1))
    assert chosen.tolist() == plain.tolist()
    assert others == pytest.approx(odds)


@pytest.mark.parametrize("most", [4, 20])
def test_estimates_lie_about_the_count_as_far_as_they_say(most: int) -> None:
    """Twelve seeds on a count of the OEIS: off by about the standard errors told, to both sides."""
    problem, known = apart(8), APART[7]
    off = []
    for seed in range(12):
        found = estimate.estimate(list(islice(estimate.runs(problem, most, seed), 12)))
        off.append((math.exp(found.log_mean) / known - 1) / found.error)
    assert max(map(abs, off)) < 4
    assert abs(sum(off)) / math.sqrt(len(off)) < 3
    assert sum(each * each for each in off) / len(off) < 4


def test_estimates_of_layouts_lie_about_the_list() -> None:
    wish = Wish(6, "half-turn", narrowest_ground=1, solid=(0.1, 0.4))
    own = space(wish)
    problem, known = own.problem(own.symmetry), len(listed(wish))
    assert known > 50
    off = []
    for seed in range(8):
        found = estimate.estimate(list(islice(estimate.runs(problem, 12, seed), 16)))
        off.append((math.exp(found.log_mean) / known - 1) / found.error)
    assert max(map(abs, off)) < 4
    assert abs(sum(off)) / math.sqrt(len(off)) < 3


def test_with_room_for_all_states_an_estimate_is_the_count() -> None:
    done = list(islice(estimate.runs(apart(4), 1000, 5), 3))
    found = estimate.estimate(done)
    assert found.error < 1e-9
    assert math.exp(found.log_mean) == pytest.approx(1234)


def test_a_least_number_is_never_above_the_count_and_grows_with_the_states() -> None:
    found = [tally.at_least(apart(6), most, 1).count for most in (1, 5, 20, 10_000)]
    assert 0 < found[0] < found[1] < found[2] < found[3] == APART[5]


def test_what_an_effort_does_not_reach_is_estimated_or_told_as_a_least_number() -> None:
    """The exact count was made by this program with more states; tests above hold such counts against lists."""
    known = 6_702_202_662_879_377
    rough = size(Space(24, Brief()), 0.05, 1)
    poor = size(Space(24, Brief()), 0.001, 1)
    assert rough.layouts.kind is rough.classes.kind is Kind.ESTIMATE
    assert rough.runs == 16
    assert abs(math.exp(rough.layouts.log) / known - 1) < 3 * rough.layouts.error < 1
    assert rough.classes == rough.layouts  # turning and reflecting leaves each layout of full symmetry as it is
    assert poor.layouts.kind is Kind.AT_LEAST
    assert 0 < (poor.layouts.value or 0) <= known


def test_effort_and_seed_alone_decide_what_is_found() -> None:
    own = Space(12, Brief(symmetry="quarter-turn"))
    assert size(own, 0.001, 1) == size(own, 0.001, 1) != size(own, 0.001, 2)


def test_the_count_is_that_of_all_solutions_of_the_model() -> None:
    """Every rule of the model that speaks of blocks is in it."""
    from every import Every

    brief = Brief(symmetry="half-turn", stitches=("cloth",), solid=(0.1, 0.5), splits=1)
    lace = model.lace(pieces.square(6, "round", "half-turn"), brief)
    ways = Every(lace.formula).ways(lace.block)
    assert size(Space(6, brief), 1.0, 1).layouts.value == len(ways)

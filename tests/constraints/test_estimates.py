"""Estimates and least numbers of block layouts lie about the counts, as far as they say."""

from __future__ import annotations

import math
from itertools import islice

import numpy as np
import pytest
from answer_sets import AskedSquares
from counted import APART, apart, listed, off_by, space

from constraints.brief import Brief
from constraints.counting import estimate, states, tally
from constraints.counting.answer import Certainty, size
from constraints.counting.space import Space
from constraints.forms import Square


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
    off = off_by(apart(8), APART[7], most, 12, 12)
    assert max(map(abs, off)) < 4
    assert abs(sum(off)) / math.sqrt(len(off)) < 3
    assert sum(each * each for each in off) / len(off) < 4


def test_estimates_of_layouts_lie_about_the_list() -> None:
    asked = AskedSquares(6, "half-turn", narrowest_ground=1, solid=(0.1, 0.4))
    own = space(asked)
    known = len(listed(asked))
    assert known > 50
    off = off_by(own.problem(own.symmetry), known, 12, 8, 16)
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
    rough = size(Space(Square(24), Brief()), 0.05, 1)
    poor = size(Space(Square(24), Brief()), 0.001, 1)
    assert rough.layouts.kind is rough.classes.kind is Certainty.ESTIMATE
    assert rough.runs == 16
    assert abs(math.exp(rough.layouts.log) / known - 1) < 3 * rough.layouts.error < 1
    assert rough.classes == rough.layouts  # turning and reflecting leaves each layout of full symmetry as it is
    assert poor.layouts.kind is Certainty.AT_LEAST
    assert 0 < (poor.layouts.value or 0) <= known


def test_effort_and_seed_alone_decide_what_is_found() -> None:
    own = Space(Square(12), Brief.of(symmetry="quarter-turn"))
    assert size(own, 0.001, 1) == size(own, 0.001, 1) != size(own, 0.001, 2)

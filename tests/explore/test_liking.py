"""What picks say of a taste: designers whose hidden taste is known keep twice as many squares of a taught sheet, and
random picks say nothing."""

from __future__ import annotations

import json
from pathlib import Path

import numpy as np
import pytest
from sklearn.linear_model import BayesianRidge

from constraints.lattice import BoolArray, FloatArray
from explore.editing.liking import Learnt, learn
from explore.search.favouring import POOL
from gallery.seeing.traits import TRAITS

# The traits of 288 squares of the search, as tests/bench/traits.py keeps them. The designers are invented.
_KEPT = json.loads((Path(__file__).parent / "tasted.json").read_text(encoding="utf-8"))
SQUARES: FloatArray = np.clip(np.array(_KEPT["squares"]), -3, 3)
_SHEET, _DESIGNERS = 24, 60


def designer(rng: np.random.Generator) -> FloatArray:
    """Hidden weights: six traits matter, drawn from a normal distribution."""
    weights = np.zeros(len(TRAITS))
    weights[rng.choice(len(TRAITS), 6, replace=False)] = rng.normal(size=6)
    return weights


def kept(hidden: FloatArray, squares: FloatArray, rng: np.random.Generator) -> BoolArray:
    """What she keeps: what she likes better than four of five squares, give or take her mood."""
    liked = squares @ hidden + rng.normal(0, 0.5 * np.std(SQUARES @ hidden), len(squares))
    better: BoolArray = liked > np.quantile(SQUARES @ hidden, 0.8)
    return better


def test_the_traits_are_those_of_the_program() -> None:
    assert _KEPT["traits"] == list(TRAITS)


def test_after_two_sheets_designers_keep_twice_as_many() -> None:
    before, after = 0, 0
    for number in range(_DESIGNERS):
        rng = np.random.default_rng(number)
        hidden, order = designer(rng), rng.permutation(len(SQUARES))
        seen, fresh = SQUARES[order[: 2 * _SHEET]], SQUARES[order[2 * _SHEET :]]
        picked = kept(hidden, seen, rng)
        learnt = learn(seen, picked)
        weights = learnt.weights if learnt.certain else np.zeros(len(TRAITS))
        groups = fresh[: len(fresh) // POOL * POOL].reshape(-1, POOL, len(TRAITS))
        shown = np.array([group[np.argmax(group @ weights)] for group in groups])
        before += picked.mean() / _DESIGNERS
        after += kept(hidden, shown, rng).mean() / _DESIGNERS
    assert 0.1 < before < 0.3
    assert after >= 2 * before


def test_random_picks_teach_nothing() -> None:
    certain = 0
    for number in range(40):
        rng = np.random.default_rng([1, number])
        seen = SQUARES[rng.permutation(len(SQUARES))[: 2 * _SHEET]]
        certain += learn(seen, rng.random(len(seen)) < 0.25).certain
    assert certain <= 5


@pytest.mark.parametrize("picked", [(), range(24)])
def test_no_picks_and_all_picks_say_nothing(picked: range | tuple[()]) -> None:
    marks = np.zeros(24, dtype=np.bool_)
    marks[list(picked)] = True
    learnt = learn(SQUARES[:24], marks)
    assert learnt.taste == ()
    assert learnt.told(clear=True) == learnt.told(clear=False) == []


def test_a_plain_taste_is_told_in_words_and_taken_by_a_brief() -> None:
    """She keeps what has rose ground and no half stitch."""
    number = {name: where for where, name in enumerate(TRAITS)}
    marks = (SQUARES[:96, number["roses"]] > 0) & (SQUARES[:96, number["half"]] < 0)
    learnt = learn(SQUARES[:96], marks)
    assert "little half stitch" in learnt.told(clear=True)
    assert "rose ground" in [*learnt.told(clear=True), *learnt.told(clear=False)]
    taste = dict(learnt.taste)
    assert taste["roses"] > 0 > taste["half"]
    assert max(map(abs, taste.values())) <= 2.0


def test_doubts_are_those_of_a_linear_model_where_the_two_agree() -> None:
    """Against scikit-learn's BayesianRidge: the doubt of a trait grows where the squares tell less of it."""
    rng = np.random.default_rng(3)
    traits = rng.normal(size=(200, len(TRAITS))) * np.linspace(0.3, 1.5, len(TRAITS))
    marks = traits[:, -1] + rng.normal(size=200) > 0
    doubts = learn(traits, marks).doubts
    linear = BayesianRidge().fit(traits, marks.astype(float))
    assert np.corrcoef(doubts, np.sqrt(np.diag(linear.sigma_)))[0, 1] > 0.95


def test_what_is_less_sure_is_not_told_as_clear() -> None:
    weights, doubts = np.zeros(len(TRAITS)), np.ones(len(TRAITS))
    weights[:3] = (2.5, -1.5, 0.3)
    learnt = Learnt(weights, doubts, certain=True)
    first, second, *_ = TRAITS.values()
    assert learnt.told(clear=True) == [first.more]
    assert learnt.told(clear=False) == [second.less]
    assert [name for name, _ in learnt.taste] == list(TRAITS)[:2]

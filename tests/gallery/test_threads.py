"""Curves that look like thread."""

from __future__ import annotations

import numpy as np
import pytest
from examples import diamond, gallery_of, make

from constraints.lattice import FloatArray
from constraints.working.threads import play
from constraints.working.work import work
from gallery.looks.marks import Marks
from gallery.looks.strands import AT_PIN, Strands, woven_body
from gallery.looks.threads import crossings, halved, twisted, unit, waves


def point(curves: FloatArray, t: float) -> FloatArray:
    a, b, c, d = curves.transpose(1, 0, 2)
    s = 1 - t
    return s**3 * a + 3 * s * s * t * b + 3 * s * t * t * c + t**3 * d


def test_a_wave_follows_a_cosine() -> None:
    level = np.array([[1.0, 0.0]])
    curves = waves(np.zeros((1, 2)), level, np.array([[1.0, 0.0]]), level, 1.0, 1.0)
    for t in np.linspace(0, 1, 21):
        for x, y in point(curves, float(t)).tolist():
            assert abs(abs(y) - abs(np.cos(np.pi * x))) < 0.02


def test_the_threads_of_a_pair_meet_only_where_it_twists() -> None:
    curves = twisted(np.array([[(0.0, 0.0), (3.0, 4.0)]]), 5, 0.1)
    over, under = np.split(curves, 2)
    assert point(over, 0.5) == pytest.approx(point(under, 0.5))
    assert np.hypot(*(over[:, 0] - under[:, 0]).T) == pytest.approx(np.full(5, 0.2))
    # And each thread goes on where its last wave ended.
    ends = {tuple(p) for p in np.round(curves[:, 3], 9).tolist()}
    starts = {tuple(p) for p in np.round(curves[:, 0], 9).tolist()}
    assert len(ends & starts) == 2 * 4


def test_halves_of_a_curve_are_the_curve() -> None:
    curves = np.random.default_rng(1).random((5, 4, 2))
    assert point(halved(curves, False), 0.6) == pytest.approx(point(curves, 0.3))
    assert point(halved(curves, True), 0.6) == pytest.approx(point(curves, 0.8))


@pytest.mark.parametrize(("word", "way"), [("CT.CT", (1, 0)), ("CTCT.CTCT", (0, 1))])
def test_a_played_pair_leaves_a_pin_as_it_is_drawn(word: str, way: tuple[int, int]) -> None:
    """Straight on through plain ground, back to its own side in double ground, as `net` and `double_pins` draw them
    (common practice, no source)."""
    done = work(make(6, [], worked="across", symmetry="none", double=diamond(0, 1, 1)))
    threads, crossings = play(done), done.crossings
    at = np.flatnonzero(crossings.moves == crossings.words.index(word))
    assert len(at)
    came, gone = threads.end[crossings.taken[at]], threads.begin[crossings.given[at]]
    assert np.array_equal(np.sort(came), np.sort(gone[:, way]))


def test_drawn_ground_has_a_thread_of_each_pair_on_either_side_of_a_pin() -> None:
    strands = Strands(Marks(make(6, [])))
    ends = strands.net().curves[:, [0, 3]].reshape(-1, 2)
    near = ends[np.hypot(*(ends - [0, 1]).T) < 0.5] - [0, 1]
    assert len(near) == 8  # four pairs come or go, two threads each
    places = {tuple(p) for p in np.round(near / AT_PIN * np.sqrt(2), 6).tolist()}
    assert places == {(-1, -1), (-1, 1), (1, -1), (1, 1)}


def test_round_a_pin_threads_lie_over_and_under_by_turns() -> None:
    """Of four crossings round a pin each thread is on top at one and below at the next."""
    falling, rising = unit(np.array([[1.0, 1.0]])), unit(np.array([[-1.0, 1.0]]))
    over = crossings(np.zeros((1, 2)), falling, rising, 0.2, 0.1)
    middles, ways = over.mean(axis=1), over[:, 1] - over[:, 0]
    angle = np.argsort(np.arctan2(middles[:, 1], middles[:, 0]))
    is_falling = (ways[:, 0] * ways[:, 1] > 0)[angle]
    assert np.hypot(*middles.T) == pytest.approx(np.full(4, 0.2 * np.sqrt(2)))
    assert (is_falling != np.roll(is_falling, 1)).all()


@pytest.mark.parametrize("worked", ["round", "across"])
def test_threads_stay_within_the_margin_and_are_numbers(worked: str) -> None:
    for design in gallery_of(4, 12, worked):
        thread = Strands(Marks(design)).all()
        for points in (thread.curves, thread.over):
            assert np.isfinite(points).all()
            assert np.abs(points).max() < 12 + 1.3


def test_worked_across_pairs_are_hung_at_the_top_and_hang_out_at_the_bottom() -> None:
    strands = Strands(Marks(make(6, [], worked="across", symmetry="none")))
    ends = strands.loose().curves[:, 3]
    # 2N lines and the two edge pairs (2N + 2 in all without passives), hung above and hanging out below.
    hung, tails = (ends[:, 1] < 0).sum(), np.isclose(ends[:, 1] % 1, 0.9, atol=0.02).sum()
    assert hung == 2 * 6 + 2
    assert tails == 2 * (2 * 6 + 2)  # two threads each
    assert not len(Strands(Marks(make(6, []))).loose().curves)


def test_a_spiders_body_is_woven_of_two_threads_for_each_pair_of_a_side() -> None:
    for size, threads in ((2, 4), (3, 6), (4, 8)):
        legs = 4 * size
        assert threads == 2 * legs // 4
        woven = woven_body(np.zeros((1, 2)), np.array([[0, 1]]), threads)
        assert len(woven.under) == len(woven.top) == threads
        assert len(woven.over) == threads * threads / 2


def test_double_ground_pairs_pass_the_pin_and_return() -> None:
    design = make(6, [], worked="across", symmetry="none", double=diamond(0, 1, 1))
    strands = Strands(Marks(design))
    curves = strands.bends().curves
    assert len(curves) == 8
    turn = curves[:, 3] - [0, 1]
    start = curves[:, 0] - [0, 1]
    assert (np.sign(turn[:, 0]) == -np.sign(start[:, 0])).all()
    assert np.abs(start) == pytest.approx(np.full((8, 2), 0.5))

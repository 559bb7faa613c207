"""Sentences on sizes that cannot be, tried again here by the pair counts of the trade.

Pairs: worked round N lines, one edge pair and the passives; worked across 2N lines and both edges
(common practice, no source; the 1886 ground of 9 columns with 10 pairs in Therese de Dillmont's
Encyclopedia of Needlework is 8 lines and two edge pairs, the same count).
"""

import pytest
from hypothesis import given
from hypothesis import strategies as some

from constraints.brief import Brief
from constraints.explain import size_conflict, width_difference
from constraints.square_sizes import sizes

ROOMY = Brief.of(pairs=30, width_mm=140.0)


def test_a_brief_that_has_a_size_has_no_conflict() -> None:
    assert size_conflict(ROOMY) is None
    assert size_conflict(Brief.of(pairs=3)) is None


@pytest.mark.parametrize(
    ("brief", "sentence"),
    [
        # By hand: 28 pairs are 26 lines, 26 x 5 = 130 mm.
        (Brief.of(pairs=28, width_mm=140.0, pitch_mm=(4.0, 5.0)),
         "28 pairs at a 4-5 mm pitch give at most 130 mm, 140 mm is asked for"),
        # By hand: 28 pairs less two edges of two leave 24, half-size 12.
        (Brief.of(pairs=28, half_size=(20, 24), worked="across"),
         "28 pairs worked across reach half-size 12 at most, 20 is asked for"),
        (Brief.of(pairs=2), "2 pairs are too few for any square"),
        (Brief.of(pairs=20, passives=25), "20 pairs are too few for any square with 25 passives"),
        (Brief.of(pairs=2, width_mm=80.0, pitch_mm=(30.0, 30.0), worked="across"),
         "2 pairs worked across at a 30 mm pitch are too few for any square"),
        (Brief.of(width_mm=9.0, pitch_mm=(5.0, 5.5)), "no whole number of 5-5.5 mm pitches gives 9 mm"),
    ],
)  # fmt: skip
def test_what_stands_in_the_way_is_one_sentence(brief: Brief, sentence: str) -> None:
    assert size_conflict(brief) == sentence


@pytest.mark.parametrize(
    ("width", "sentence"),
    [
        (138.0, "28 pitches of 5 mm give 140 mm, 2 mm more than asked"),
        (142.0, "28 pitches of 5 mm give 140 mm, 2 mm less than asked"),
        (3.0, "1 pitch of 5 mm gives 5 mm, 2 mm more than asked"),
        (139.7, "28 pitches of 5 mm give 140 mm, 0.3 mm more than asked"),
        (140.0, None),
    ],
)
def test_the_difference_from_the_width_asked(width: float, sentence: str | None) -> None:
    assert width_difference(Brief.of(width_mm=width)) == sentence


def test_no_difference_where_the_pitch_may_give() -> None:
    assert width_difference(Brief.of(width_mm=139.7, pitch_mm=(4.9, 5.1))) is None


@given(
    pairs=some.integers(1, 60),
    width=some.integers(50, 4000).map(lambda tenths: tenths / 10),
    pitch=some.tuples(some.integers(10, 120), some.integers(0, 30)),
    worked=some.sampled_from(["round", "across"]),
    passives=some.integers(0, 4),
)
def test_a_conflict_is_told_where_no_half_size_fits(
    pairs: int, width: float, pitch: tuple[int, int], worked: str, passives: int
) -> None:
    span = (pitch[0] / 10, (pitch[0] + pitch[1]) / 10)
    brief = Brief.of(pairs=pairs, width_mm=width, pitch_mm=span, worked=worked, passives=passives)
    sentence = size_conflict(brief)
    assert (sentence is None) == bool(sizes(brief))
    reach = _lines(pairs, worked, passives)
    slack = 1e-6 if sentence is None else -1e-6  # on the very middle between two sizes either answer is right
    assert (sentence is None) == any(_fits(width, half_size, span, slack) for half_size in range(1, reach + 1))


def _lines(pairs: int, worked: str, passives: int) -> int:
    """The half-size these pairs reach, counted by hand: one edge round, two edges and double lines across."""
    return pairs - 1 - passives if worked == "round" else (pairs - 2 - 2 * passives) // 2


def _fits(width: float, half_size: int, span: tuple[float, float], slack: float) -> bool:
    if span[0] == span[1]:  # to the nearest half-size
        return abs(half_size * span[0] - width) <= span[0] / 2 + slack
    return half_size * span[0] - slack <= width <= half_size * span[1] + slack

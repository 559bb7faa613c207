"""Sentences on sizes that cannot be: each mend is tried again here, by the pair counts of the trade.

Pairs: worked round N lines, one edge pair and the passives; worked across 2N lines and both edges
(common practice, no source; the 1886 ground of 9 columns with 10 pairs in Therese de Dillmont's
Encyclopedia of Needlework is 8 lines and two edge pairs, the same count).
"""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as some

from constraints.brief import Brief, sizes
from constraints.explain import shown, size_conflict, width_difference

ROOMY = Brief(pairs=30, width_mm=140.0)


def test_a_brief_that_has_a_size_has_no_conflict() -> None:
    assert size_conflict(ROOMY) is None
    assert size_conflict(Brief(pairs=3)) is None


def test_too_few_pairs_for_a_width_name_the_widest_and_both_mends() -> None:
    # By hand: 28 pairs are 26 lines, 26 x 5 = 130 mm; 140 / 5 = 28 lines and 2; 140 / 26 = 5.385 mm.
    brief = Brief(pairs=28, width_mm=140.0, pitch_mm=(4.0, 5.0))
    assert size_conflict(brief) == (
        "28 pairs at a 4-5 mm pitch give at most 130 mm; for 140 mm take 30 pairs or a 5.4 mm pitch"
    )


def test_passives_are_offered_where_they_alone_suffice() -> None:
    # By hand: 135 mm are 27 lines and one edge pair, 28 pairs without a passive.
    brief = Brief(pairs=28, width_mm=135.0)
    assert size_conflict(brief) == (
        "28 pairs at a 5 mm pitch give at most 130 mm; for 135 mm take 29 pairs, a 5.2 mm pitch or passives 0"
    )


def test_too_few_pairs_for_a_half_size_worked_across() -> None:
    # By hand: 28 pairs less two edges of two leave 24, half-size 12; 2 x 20 + 4 = 44; round, 20 + 2 = 22.
    brief = Brief(pairs=28, half_size=(20, 24), worked="across")
    assert size_conflict(brief) == (
        "28 pairs worked across reach half-size 12 at most; "
        "for half-size 20 take 44 pairs or the round way of working"
    )


def test_too_few_pairs_for_anything() -> None:
    assert size_conflict(Brief(pairs=2)) == (
        "2 pairs are too few for any square; for the smallest square take 3 pairs or passives 0"
    )


def test_a_width_between_whole_pitches() -> None:
    assert size_conflict(Brief(width_mm=9.0, pitch_mm=(5.0, 5.5))) == (
        "no whole number of 5-5.5 mm pitches gives 9 mm; "
        "take a 4.5 mm pitch, a 9 mm pitch, a width of 5.5 mm or a width of 10 mm"
    )


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
    assert width_difference(Brief(width_mm=width)) == sentence


def test_no_difference_where_the_pitch_may_give() -> None:
    assert width_difference(Brief(width_mm=139.7, pitch_mm=(4.9, 5.1))) is None


@given(
    pairs=some.integers(1, 60),
    width=some.integers(50, 4000).map(lambda tenths: tenths / 10),
    pitch=some.tuples(some.integers(10, 120), some.integers(0, 30)),
    worked=some.sampled_from(["round", "across"]),
    passives=some.integers(0, 4),
)
def test_every_mend_offered_for_a_width_mends(
    pairs: int, width: float, pitch: tuple[int, int], worked: str, passives: int
) -> None:
    span = (pitch[0] / 10, (pitch[0] + pitch[1]) / 10)
    brief = Brief(pairs=pairs, width_mm=width, pitch_mm=span, worked=worked, passives=passives)
    sentence = size_conflict(brief)
    assert (sentence is None) == bool(sizes(brief))
    if sentence is None:
        return
    assert "\n" not in sentence
    first, *others = sentence.partition("; ")[2].partition("take ")[2].replace(" or ", ", ").split(", ")
    for mend in (first, *others):
        _assert_mends(mend, brief)


def _assert_mends(mend: str, brief: Brief) -> None:
    """Do what the words say and count again."""
    number = {
        kind: float(found[0])
        for kind, pattern in (
            ("pairs", "([0-9]+) pairs"),
            ("pitch", "an? ([0-9.]+) mm pitch"),
            ("passives", "passives ([0-9]+)"),
            ("width", "a width of ([0-9.]+) mm"),
        )
        if (found := re.findall(pattern, mend))
    }
    worked = "round" if "round" in mend else brief.worked
    assert number or worked != brief.worked
    span = (number["pitch"], number["pitch"]) if "pitch" in number else brief.pitch_mm
    width = number.get("width", brief.width_mm)
    assert width is not None
    reach = _lines(int(number.get("pairs", brief.pairs)), worked, int(number.get("passives", brief.passives)))
    assert any(_fits(width, half_size, span) for half_size in range(1, reach + 1))


def _lines(pairs: int, worked: str, passives: int) -> int:
    """The half-size these pairs reach, counted by hand: one edge round, two edges and double lines across."""
    return pairs - 1 - passives if worked == "round" else (pairs - 2 - 2 * passives) // 2


def _fits(width: float, half_size: int, span: tuple[float, float]) -> bool:
    if span[0] == span[1]:  # to the nearest half-size, and never below one pitch
        return abs(half_size * span[0] - width) <= span[0] / 2 + 1e-6 or (half_size == 1 and width < span[0])
    return half_size * span[0] - 1e-6 <= width <= half_size * span[1] + 1e-6


def test_numbers_in_sentences_carry_no_idle_decimals() -> None:
    assert [shown(n) for n in (5.0, 5.40, 130.004, 0.125, 10000.5)] == ["5", "5.4", "130", "0.12", "10000.5"]

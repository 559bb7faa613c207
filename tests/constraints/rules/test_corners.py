"""How blocks cross corner lines: in halves as they like, swung as trails, or not at all.

That narrow trails swing round a corner, and wide ones are worked in parts, is common practice, no source.
"""

import pytest
from designs import Points, blocks, diamond, made, trail_round
from hypothesis import given, settings
from hypothesis import strategies as st
from trial import Trial

from constraints.check import check
from constraints.rules.corners import corners

CROSSINGS = ("halves", "swung", "clear")


def over(links: int, turns: int = 0) -> Points:
    """A block over the line from the left to the bottom quarter, so many pairs side by side; turned with the work."""
    shape = {(s - t, s + t + 1) for s in range(-2, 2) for t in range(3, 3 + links)}
    for _ in range(turns):
        shape = {(y, -x) for x, y in shape}
    return shape


@pytest.fixture(scope="module")
def trials() -> dict[str, Trial]:
    return {name: Trial(corners, corners=name) for name in (*CROSSINGS, "")}


def test_open_ground_and_what_lies_in_one_quarter_may_always_stand(trials: dict[str, Trial]) -> None:
    for trial in trials.values():
        assert trial.takes(trial.blocks(set()))
        assert trial.takes(trial.blocks(diamond((-8, -3), 4)))


@pytest.mark.parametrize("turns", range(4))
def test_so_many_pairs_may_run_over_a_line_side_by_side(trials: dict[str, Trial], turns: int) -> None:
    most = {"halves": 8, "": 8, "swung": 2, "clear": 0}
    for name, trial in trials.items():
        for links in (1, 2, 3, 8):
            assert trial.takes(trial.blocks(over(links, turns))) == (links <= most[name]), (name, links)


WAYS = ("across", "along")


@pytest.fixture(scope="module")
def wide() -> Trial:
    return Trial(corners, half_size=20, corners="swung")


@pytest.mark.parametrize("width", [3, 4, 5])
@pytest.mark.parametrize("before", WAYS)
@pytest.mark.parametrize("after", WAYS)
def test_wider_trails_may_swing_where_they_run_straight(wide: Trial, width: int, before: str, after: str) -> None:
    assert wide.takes(wide.blocks(trail_round(width, 5, before, after, 0)))


def test_six_side_by_side_may_not_and_none_of_three_where_blocks_may_split(wide: Trial) -> None:
    assert not wide.takes(wide.blocks(trail_round(6, 5, "across", "across", 0)))
    splitting = Trial(corners, half_size=20, corners="swung", splits=1)
    for width in (1, 2, 3):
        assert splitting.takes(splitting.blocks(trail_round(width, 5, "across", "across", 0))) == (width <= 2)


@st.composite
def nearly_straight(draw: st.DrawFn) -> Points:
    """A trail over a line with a place or two of it taken away, or more put to it."""
    width, ways = draw(st.integers(2, 6)), st.sampled_from(WAYS)
    shape = trail_round(width, draw(st.integers(3, 5)), draw(ways), draw(ways), draw(st.integers(-3, 0)))
    shape = {(x, y) for x, y in shape if max(abs(x), abs(y)) < 19}
    for _ in range(draw(st.integers(0, 2)) if shape else 0):
        x, y = draw(st.sampled_from(sorted(shape)))
        shape ^= {(x + draw(st.sampled_from((-1, 0, 1))), y)}
        shape = {(a, b) for a, b in shape if (a + b) % 2} or {(-7, 0)}
    for _ in range(draw(st.integers(0, 3))):
        shape = {(y, -x) for x, y in shape}
    return shape


@given(nearly_straight())
@settings(max_examples=60)
def test_the_rule_says_of_any_trail_what_the_check_says(wide: Trial, shape: Points) -> None:
    faults = check(made(20, *blocks("cloth", shape), brief={"corners": "swung"}))
    assert wide.takes(wide.blocks(shape)) == ("corners" not in {fault.rule for fault in faults})


def test_two_narrow_trails_may_swing_over_one_line(trials: dict[str, Trial]) -> None:
    apart = over(2) | {(s - t, s + t + 1) for s in range(-2, 2) for t in range(7, 9)}
    assert trials["swung"].takes(trials["swung"].blocks(apart))


def test_nothing_turns_about_the_middle(trials: dict[str, Trial]) -> None:
    middle = [(0, -1), (1, 0), (0, 1), (-1, 0)]
    for count in (1, 2, 3, 4):
        places = set(middle[:count])
        assert trials["swung"].takes(trials["swung"].blocks(places)) == (count <= 2)
        assert trials["halves"].takes(trials["halves"].blocks(places))


def test_worked_across_there_are_no_corner_lines() -> None:
    for name in CROSSINGS:
        trial = Trial(corners, worked="across", corners=name)
        assert trial.takes(trial.blocks(over(8) | diamond((0, -5), 5)))

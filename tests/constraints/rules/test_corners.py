"""How blocks cross corner lines: in halves as they like, swung as narrow trails, or not at all.

That narrow trails swing round a corner, and wide ones are worked in parts, is common practice, no source.
"""

import pytest
from trial import Points, Trial, diamond

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

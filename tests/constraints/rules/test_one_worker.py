"""Which shapes one worker can work: bends go, splits and merges are counted (common practice, no source).

At a corner line, left to bottom quarter, pairs run top to left, top to right, left to bottom, bottom to right.
"""

import pytest
from designs import Points, bar, diamond
from trial import Trial

from constraints.rules.one_worker import one_worker

SIDE = diamond((-9, -4), 5)  # in the left quarter, worked downwards
TOP, RIGHT, BOTTOM, LEFT = (-9, -4), (-5, 0), (-9, 4), (-13, 0)
# The four pinholes of a hole on the corner line between the left and the bottom quarter.
CORNERS = {"top": (-8, 7), "right": (-7, 8), "bottom": (-8, 9), "left": (-9, 8)}


def turned(shape: Points, times: int) -> Points:
    """Quarter turns that take the left quarter to the bottom one, and so on with the work."""
    for _ in range(times):
        shape = {(y, -x) for x, y in shape}
    return shape


@pytest.fixture(scope="module")
def worked_round() -> Trial:
    return Trial(one_worker)


@pytest.fixture(scope="module")
def swinging() -> Trial:
    return Trial(one_worker, corners="swung")


@pytest.fixture(scope="module")
def worked_across() -> Trial:
    return Trial(one_worker, worked="across")


def test_open_ground_and_rectangles_can_be_worked(worked_round: Trial, worked_across: Trial) -> None:
    for trial in (worked_round, worked_across):
        for shape in (set(), SIDE, bar((-9, -4), 2, 5)):
            assert trial.takes(trial.blocks(shape))


@pytest.mark.parametrize(("missing", "bend"), [(TOP, False), (BOTTOM, False), (LEFT, True), (RIGHT, True)])
def test_a_block_may_bend_but_neither_merge_nor_split(
    worked_round: Trial, worked_across: Trial, missing: tuple[int, int], bend: bool
) -> None:
    shape = SIDE - {missing}
    assert worked_across.takes(worked_across.blocks(shape)) == bend
    for times in range(4):
        assert worked_round.takes(worked_round.blocks(turned(shape, times))) == bend


def test_worked_across_down_is_down_in_every_quarter(worked_across: Trial) -> None:
    for missing, bend in ((TOP, False), (BOTTOM, False), (LEFT, True), (RIGHT, True)):
        shape = {(x + 18, y) for x, y in SIDE - {missing}}
        assert worked_across.takes(worked_across.blocks(shape)) == bend


@pytest.mark.parametrize(("missing", "bend"), [("top", True), ("right", True), ("bottom", False), ("left", False)])
def test_where_it_swings_over_a_corner_line_the_two_outer_pinholes_must_not_be_missing(
    worked_round: Trial, swinging: Trial, missing: str, bend: bool
) -> None:
    whole = set(CORNERS.values())
    for times in range(4):
        assert swinging.takes(swinging.blocks(turned(whole, times)))
        shape = turned(whole - {CORNERS[missing]}, times)
        assert swinging.takes(swinging.blocks(shape)) == bend
        # In halves, either half has its own worker.
        assert worked_round.takes(worked_round.blocks(shape))


def test_round_the_centre_every_pair_comes_from_a_fellow_and_goes_on_to_one(swinging: Trial) -> None:
    middle = {(0, -1), (1, 0), (0, 1), (-1, 0)}
    for missing in middle:
        assert swinging.takes(swinging.blocks(middle - {missing}))


def test_a_ring_round_the_centre_turns_its_corners(worked_round: Trial, worked_across: Trial) -> None:
    ring = {(x, y) for x in range(-9, 10) for y in range(-9, 10) if (x + y) % 2 and max(abs(x), abs(y)) > 6}
    assert worked_round.takes(worked_round.blocks(ring))
    assert not worked_across.takes(worked_across.blocks(ring))


def test_splits_and_merges_count_over_the_whole_piece() -> None:
    once = SIDE - {TOP, BOTTOM}
    for splits, fits in ((1, False), (2, True)):
        trial = Trial(one_worker, splits=splits)
        assert trial.takes(trial.blocks(once)) == fits
    everywhere = set().union(*(turned(SIDE - {TOP}, times) for times in range(4)))
    for splits, fits in ((3, False), (4, True)):
        trial = Trial(one_worker, splits=splits, symmetry="quarter-turn")
        assert trial.takes(trial.blocks(everywhere)) == fits

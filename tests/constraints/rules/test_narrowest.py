from designs import bar, diamond
from trial import Trial

from constraints.rules.narrowest import narrowest


def test_open_ground_is_narrow_nowhere() -> None:
    trial = Trial(narrowest, narrowest=3)
    assert trial.takes(trial.blocks(set()))


def test_a_bar_narrower_than_asked_is_refused_and_one_as_wide_is_taken() -> None:
    trial = Trial(narrowest, narrowest=3)
    for width in (1, 2, 3, 4):
        assert trial.takes(trial.blocks(bar((-7, -4), 5, width))) == (width >= 3)


def test_a_thin_arm_on_a_wide_block_is_refused() -> None:
    shape = diamond((-7, -4), 3) | {(-4, -1)}
    for size, fits in ((1, True), (2, False)):
        trial = Trial(narrowest, narrowest=size)
        assert trial.takes(trial.blocks(shape)) == fits


def test_no_block_stands_where_the_margin_leaves_too_little_room() -> None:
    # Half-size 3 and margin 2 leave the four places round the centre: a diamond of 2, none of 3.
    for size, fits in ((1, True), (2, True), (3, False)):
        trial = Trial(narrowest, half_size=3, narrowest=size, margin=2, corners="")
        assert trial.takes(trial.stitch("cloth", {(0, 1)})) == fits


def test_a_block_over_a_corner_line_is_as_wide_as_asked_on_either_side() -> None:
    # Lines s before and after the corner line, from the left to the bottom quarter; each with four places.
    def lines(before: int, after: int) -> set[tuple[int, int]]:
        return {(s - t, s + t + 1) for s in range(-before, after) for t in range(3, 7)}

    for corners in ("halves", "swung", "clear"):
        trial = Trial(narrowest, narrowest=2, corners=corners)
        for before, after in ((1, 1), (1, 2), (2, 1), (2, 2), (3, 0), (0, 2), (3, 2)):
            assert trial.takes(trial.blocks(lines(before, after))) == (1 not in (before, after))
    as_before = Trial(narrowest, narrowest=2, corners="")
    assert as_before.takes(as_before.blocks(lines(1, 1)))

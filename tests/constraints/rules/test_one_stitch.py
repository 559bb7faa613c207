import pytest
from designs import diamond
from trial import Trial

from constraints.forms import Strip
from constraints.rules.one_stitch import one_stitch, steps

FIRST, BESIDE, POINT_TO_POINT = diamond((-7, -4), 3), diamond((-4, -1), 3), diamond((-7, 2), 3)
TOP, BOTTOM = (-7, -4), (-7, 0)


@pytest.fixture(scope="module")
def trial() -> Trial:
    return Trial(one_stitch, stitches=("cloth", "half"))


def test_a_block_may_have_either_stitch(trial: Trial) -> None:
    for stitch in ("cloth", "half"):
        assert trial.takes(trial.blocks(FIRST), trial.stitch(stitch, FIRST))


def test_a_block_has_one_stitch(trial: Trial) -> None:
    fixed = trial.blocks(FIRST), trial.stitch("cloth", {TOP})
    assert trial.takes(*fixed, trial.stitch("cloth", {BOTTOM}))
    assert not trial.takes(*fixed, trial.stitch("half", {BOTTOM}))


def test_a_place_has_one_stitch(trial: Trial) -> None:
    assert not trial.takes(trial.stitch("cloth", {TOP}), trial.stitch("half", {TOP}))


def test_only_blocks_that_share_no_step_may_differ(trial: Trial) -> None:
    for other, fits in ((BESIDE, False), (POINT_TO_POINT, True)):
        fixed = trial.blocks(FIRST | other), trial.stitch("cloth", FIRST)
        assert trial.takes(*fixed, trial.stitch("half", other)) == fits


def test_images_have_the_same_stitch() -> None:
    trial = Trial(one_stitch, stitches=("cloth", "half"), symmetry="upright-mirror")
    assert trial.takes(trial.stitch("cloth", {(-7, 0), (7, 0)}))
    assert not trial.takes(trial.stitch("cloth", {(-7, 0)}), trial.stitch("half", {(7, 0)}))


@pytest.mark.parametrize(("columns", "rows"), [(5, 4), (6, 8), (9, 6)])
def test_in_a_strip_it_holds_over_the_end_of_a_repeat_too(columns: int, rows: int) -> None:
    piece = Strip(columns, rows, 2).repeat()
    points = [(x, y) for x, y in piece.pinholes.tolist()]
    below = {((x, y), (x + dx, (y + 1) % rows)) for x, y in points for dx in (-1, 1) if 0 <= x + dx < columns}
    assert sorted((points[a], points[b]) for a, b in steps(piece).tolist()) == sorted(below)

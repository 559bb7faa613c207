from designs import bar, diamond
from trial import Trial

from constraints.rules.widest import widest


def test_open_ground_is_wide_nowhere() -> None:
    trial = Trial(widest, widest=1)
    assert trial.takes(trial.blocks(set()))


def test_a_diamond_wider_than_allowed_is_refused() -> None:
    trial = Trial(widest, widest=4)
    for side in (3, 4, 5):
        assert trial.takes(trial.blocks(diamond((-7, -4), side))) == (side <= 4)


def test_a_long_bar_is_no_wider_than_its_narrow_side() -> None:
    trial = Trial(widest, widest=2)
    assert trial.takes(trial.blocks(bar((-7, -4), 6, 2)))
    assert not trial.takes(trial.blocks(bar((-7, -4), 6, 3)))

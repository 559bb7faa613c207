from trial import Trial, wall

from constraints.fillings.rose import alignment
from constraints.rules.one_filling import one_filling
from constraints.rules.units import units

ROSES = ("cloth", "rose")


def test_one_rose_stands_anywhere() -> None:
    trial = Trial(units, one_filling, alignment, stitches=ROSES)
    for at in ((-8, 0), (-7, 1), (-9, 1), (-8, 2)):
        assert trial.takes(trial.units("rose", at))


def test_roses_of_a_field_stand_on_every_second_hole_along_both_diagonals() -> None:
    trial = Trial(units, one_filling, alignment, stitches=ROSES, worked="across")
    open_ground = trial.blocks(set())
    x, y = -4, -8
    for falling in range(5):
        for rising in range(5):
            figures = trial.units("rose", (x, y), (x + falling - rising, y + falling + rising))
            assert trial.takes(open_ground, figures) == (falling % 2 == 0 and rising % 2 == 0)


def test_every_field_has_its_own_alignment() -> None:
    trial = Trial(units, one_filling, alignment, stitches=ROSES, worked="across")
    figures = trial.units("rose", (-8, -8), (-7, 7))
    assert not trial.takes(trial.blocks(set()), figures)
    assert trial.takes(trial.blocks(wall()), figures)


def test_all_images_of_a_rose_in_one_field_stand_in_line() -> None:
    """A mirror across the page swaps the two diagonals: both alignments must then be alike."""
    for symmetry in ("full", "quarter-turn", "upright-mirror"):
        trial = Trial(units, one_filling, alignment, stitches=ROSES, symmetry=symmetry)
        for at, fits in (((-9, 1), False), ((-8, 2), True), ((-8, 0), True)):
            assert trial.takes(trial.blocks(set()), trial.units("rose", at)) == fits
    trial = Trial(units, one_filling, alignment, stitches=ROSES, symmetry="diagonal-mirrors")
    assert trial.takes(trial.blocks(set()), trial.units("rose", (-9, 1)))

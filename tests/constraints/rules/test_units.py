import pytest
from designs import diamond
from trial import EVERYTHING, Trial

from constraints.rules.one_filling import one_filling
from constraints.rules.units import units

# Pinholes a side, by the teaching pages of Jo Edkins: 4, 6 and 8 pairs for spiders with 8, 12 and 16 legs.
FIGURES = {"rose": 2, "spider-8": 2, "spider-12": 3, "spider-16": 4}


@pytest.fixture(scope="module")
def worked_round() -> Trial:
    return Trial(units, one_filling, stitches=EVERYTHING)


@pytest.fixture(scope="module")
def worked_across() -> Trial:
    return Trial(units, one_filling, stitches=EVERYTHING, worked="across")


def centre(size: int) -> tuple[int, int]:
    """A centre in the left quarter: a hole for even sizes, a pinhole for odd ones."""
    return (-7, 0) if size % 2 else (-8, 0)


def test_every_figure_stands_in_open_ground(worked_round: Trial) -> None:
    for name, size in FIGURES.items():
        assert worked_round.takes(worked_round.blocks(set()), worked_round.units(name, centre(size)))


def test_no_figure_shares_a_pinhole_with_a_block(worked_round: Trial) -> None:
    for name, size in FIGURES.items():
        x, y = centre(size)
        for top, fits in ((y + size - 1, False), (y + size + 1, True)):
            fixed = worked_round.blocks(diamond((x, top), 2)), worked_round.units(name, (x, y))
            assert worked_round.takes(*fixed) == fits


def test_no_figure_stands_round_a_block(worked_round: Trial) -> None:
    fixed = worked_round.blocks({(-8, 1)})
    assert not worked_round.takes(fixed, worked_round.units("spider-16", (-8, 0)))


def test_a_pinhole_belongs_to_one_figure(worked_across: Trial) -> None:
    for other, fits in (((-7, 1), False), ((-6, 0), False), ((-6, 2), True)):
        fixed = worked_across.blocks(set()), worked_across.units("rose", (-8, 0), other)
        assert worked_across.takes(*fixed) == fits
    # The holes of two openings in a block, point to point: two fields with one pinhole in common.
    openings = diamond((-1, -4), 2) | diamond((-1, -2), 2)
    fixed = worked_across.blocks(diamond((-1, -6), 6) - openings), worked_across.units("rose", (-1, -3))
    assert worked_across.takes(*fixed)
    assert not worked_across.takes(*fixed, worked_across.units("spider-8", (-1, -1)))


def test_a_figure_that_meets_its_own_image_is_out() -> None:
    trial = Trial(units, one_filling, stitches=EVERYTHING, symmetry="upright-mirror", worked="across")
    for at, fits in (((-1, 7), False), ((0, 8), True), ((-2, 8), True)):
        assert trial.takes(trial.units("rose", at)) == fits


def test_worked_round_a_figure_keeps_to_one_quarter(worked_round: Trial, worked_across: Trial) -> None:
    for name, size in FIGURES.items():
        for at in ((-6, 7), (0, 1)) if size % 2 else ((-6, 6), (0, 0)):
            assert worked_across.takes(worked_across.blocks(set()), worked_across.units(name, at))
            assert not worked_round.takes(worked_round.units(name, at))


def test_figures_keep_off_the_pins_of_the_edge(worked_round: Trial) -> None:
    for name, size in FIGURES.items():
        for x, fits in ((size - 14, True), (size - 15, False)):
            y = 0 if (x + size) % 2 == 0 else 1
            assert worked_round.takes(worked_round.units(name, (x, y))) == fits

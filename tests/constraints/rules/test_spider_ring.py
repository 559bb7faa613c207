import pytest
from designs import diamond
from trial import EVERYTHING, Trial, wall

from constraints.fillings.spider import ring
from constraints.rules.one_filling import one_filling
from constraints.rules.units import units


@pytest.fixture(scope="module")
def trial() -> Trial:
    return Trial(units, one_filling, ring, stitches=EVERYTHING, worked="across")


@pytest.mark.parametrize(("name", "size"), [("spider-8", 2), ("spider-12", 3), ("spider-16", 4)])
def test_spiders_leave_a_row_of_pins_between_them(trial: Trial, name: str, size: int) -> None:
    x, y = (-1, -4) if size % 2 else (-2, -4)
    for apart in (size, size + 1, size + 2):
        for other in ((x + apart, y + apart), (x - apart, y + apart)):
            fixed = trial.blocks(set()), trial.units(name, (x, y), other)
            assert trial.takes(*fixed) == (apart > size)


def test_spiders_may_stand_point_to_point(trial: Trial) -> None:
    # The bottom pinhole of one and the top one of the other are two units apart: no neighbour step.
    assert trial.takes(trial.blocks(set()), trial.units("spider-8", (-2, -4), (-2, 0)))


def test_roses_and_blocks_may_lie_in_the_ring(trial: Trial) -> None:
    # The top of the block is the pinhole below the spider's right one.
    touching = wall() | diamond((0, -5), 3)
    assert trial.takes(trial.blocks(touching), trial.units("spider-8", (-2, -6)))
    # Two roses side by side: their pins are their own.
    assert trial.takes(trial.blocks(set()), trial.units("rose", (-2, -4), (0, -2)))
    # A rose in an opening of a block, a spider outside it, a step between them: roses have pins.
    opening = diamond((-1, -6), 2)
    fixed = trial.blocks(diamond((-1, -8), 4) - opening - {(-1, -2)})
    assert trial.takes(fixed, trial.units("rose", (-1, -5)), trial.units("spider-8", (-1, -1)))


def test_a_spider_beside_its_own_image_is_out() -> None:
    for symmetry, beside, apart in (("upright-mirror", (-1, 5), (-2, 6)), ("diagonal-mirror", (-5, -3), (-6, -2))):
        trial = Trial(units, one_filling, ring, stitches=EVERYTHING, symmetry=symmetry, worked="across")
        assert not trial.takes(trial.units("spider-8", beside))
        assert trial.takes(trial.units("spider-8", apart))

import pytest
from designs import diamond
from trial import EVERYTHING, Trial, wall

from constraints.rules.least import least
from constraints.rules.one_filling import one_filling
from constraints.rules.one_stitch import one_stitch
from constraints.rules.units import units

NINE = diamond((-7, -2), 3)


def test_no_minimum_asks_for_nothing() -> None:
    trial = Trial(least)
    assert trial.takes(trial.blocks(set()))


@pytest.mark.parametrize(("wanted", "fits"), [(9, True), (10, False)])
def test_a_stitch_is_counted_in_pinholes(wanted: int, fits: bool) -> None:
    trial = Trial(one_stitch, least, stitches=("cloth", "half"), least={"half": wanted})
    assert trial.takes(trial.blocks(NINE)) == fits
    assert not trial.takes(trial.blocks(NINE), trial.stitch("cloth", NINE))


@pytest.mark.parametrize("name", ["rose", "spider"])
def test_a_figure_is_counted_in_units_of_every_kind(name: str) -> None:
    first = "rose" if name == "rose" else "spider-8"
    other = "rose" if name == "rose" else "spider-12"
    for wanted, fits in ((2, True), (3, False)):
        trial = Trial(units, one_filling, least, stitches=EVERYTHING, worked="across", least={name: wanted})
        figures = trial.units(first, (-8, -8)) + trial.units(other, (8, 9) if other == "spider-12" else (8, 8))
        every = [lit for sites in trial.model.sites.values() for lit in sites.chosen.tolist()]
        none = [~literal for literal in every if literal not in figures]
        assert trial.takes(trial.blocks(wall()), figures, none) == fits


def test_double_ground_is_counted_in_pinholes() -> None:
    # Half-size 4 in open ground: one field, and the 2 x 3 x 4 pinholes inside the edge belong to it.
    for wanted, fits in ((24, True), (25, False)):
        trial = Trial(one_filling, least, half_size=4, stitches=EVERYTHING, least={"double-ground": wanted})
        assert trial.takes(trial.blocks(set())) == fits


def test_more_than_there_can_be_is_impossible() -> None:
    assert not Trial(least, half_size=4, least={"cloth": 41}).takes()

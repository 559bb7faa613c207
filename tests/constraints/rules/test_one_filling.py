import numpy as np
import pytest
from designs import bar
from trial import EVERYTHING, Literals, Trial, wall

from constraints.rules.grounds import ground_pinholes
from constraints.rules.one_filling import one_filling
from constraints.rules.units import units


@pytest.fixture(scope="module")
def trial() -> Trial:
    trial = Trial(units, one_filling, stitches=EVERYTHING, worked="across")
    ground_pinholes(trial.model, "double-ground")  # before its formula goes to a solver
    return trial


def test_one_kind_may_fill_a_field(trial: Trial) -> None:
    assert trial.takes(trial.blocks(set()), trial.units("spider-8", (-8, -8), (8, 8)))


@pytest.mark.parametrize("other", ["rose", "spider-12", "spider-16"])
def test_two_kinds_do_not_share_a_field_but_may_lie_in_two(trial: Trial, other: str) -> None:
    below = (8, 9) if other == "spider-12" else (8, 8)
    figures = trial.units("spider-8", (-8, -8)) + trial.units(other, below)
    assert not trial.takes(trial.blocks(set()), figures)
    assert trial.takes(trial.blocks(wall()), figures)


def test_fields_that_meet_at_one_pinhole_only_are_two(trial: Trial) -> None:
    # Openings of 3 x 3 pinholes in a block, point to point; or one of 3 x 6.
    solid = bar((-1, -12), 12, 12)
    apart, joined = bar((-1, -6), 3, 3) | bar((-1, -2), 3, 3), bar((-1, -6), 6, 3)
    for openings, far, fits in ((apart, (-1, 1), True), (joined, (2, -2), False)):
        figures = trial.units("rose", (-1, -5)) + trial.units("spider-8", far)
        assert trial.takes(trial.blocks(solid - openings), figures) == fits


def test_a_field_of_figures_is_not_doubled_and_another_may_be(trial: Trial) -> None:
    for hole, fits in (((0, -8), False), ((0, 8), True)):
        fixed = trial.blocks(wall()), trial.units("rose", (-8, -8)), double(trial, hole)
        assert trial.takes(*fixed) == fits


def test_a_hole_in_a_block_is_in_no_field(trial: Trial) -> None:
    for hole, fits in (((0, 0), False), ((0, -2), False), ((0, -4), True)):
        assert trial.takes(trial.blocks(wall()), double(trial, hole)) == fits


def test_holes_beside_the_edge_are_in_no_field(trial: Trial) -> None:
    for hole, fits in (((-13, -7), False), ((1, -13), False), ((-12, -8), True)):
        assert trial.takes(double(trial, hole)) == fits


def double(trial: Trial, hole: tuple[int, int]) -> Literals:
    """The field of this hole is worked in double ground."""
    at = np.array([trial.model.piece.hole_index[hole]])
    return trial.model.labels.literals("double-ground", at)[0].tolist()

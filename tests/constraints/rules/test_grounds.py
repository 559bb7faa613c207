import numpy as np
from trial import EVERYTHING, Trial, wall

from constraints.rules.grounds import ground_pinholes
from constraints.rules.one_filling import one_filling
from constraints.rules.units import units


def doubled() -> tuple[Trial, np.ndarray]:
    trial = Trial(units, one_filling, stitches=EVERYTHING, worked="across")
    return trial, ground_pinholes(trial.model, "double-ground")


def test_all_pinholes_of_a_field_are_doubled_or_none() -> None:
    trial, double = doubled()
    index = trial.model.piece.index
    here, there, below = (int(double[index[p]]) for p in ((0, -5), (7, -12), (0, 5)))
    fixed = trial.blocks(wall())
    assert trial.takes(fixed, [here, there])
    assert trial.takes(fixed, [~here, ~there])
    assert not trial.takes(fixed, [here, ~there])
    assert trial.takes(fixed, [here, ~below])


def test_blocks_and_pins_of_the_edge_are_never_doubled() -> None:
    trial, double = doubled()
    for place, fits in (((1, 0), False), ((-14, 1), False), ((0, -13), True)):
        literal = int(double[trial.model.piece.index[place]])
        assert trial.takes(trial.blocks(wall()), [literal]) == fits


def test_without_double_ground_in_the_brief_nothing_is_doubled() -> None:
    trial = Trial(units, one_filling, stitches=("cloth", "rose"))
    assert not trial.takes([int(ground_pinholes(trial.model, "double-ground")[trial.model.piece.index[-7, 0]])])

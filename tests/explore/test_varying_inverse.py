"""A finished square and the values of the formula are two ways to write the same."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from constraints import model
from constraints.brief import Brief
from constraints.piece import ACROSS, ROUND
from constraints.square import Design
from constraints.stitches import ALLOWED
from constraints.symmetry import SYMMETRIES
from explore.finish import finish
from explore.refused import BadInput
from explore.search import search
from explore.varying.inverse import values_of
from explore.varying.worked import ways, ways_of


def brief(symmetry: str, worked: str) -> Brief:
    return Brief(
        half_size=(10, 10), pairs=60, symmetry=symmetry, worked=worked, solid=(0.1, 0.6), stitches=ALLOWED, apart=0.02
    )


def found(asked: Brief, count: int) -> list[Design]:
    return [step.square for step in search(asked, None, count=count, cores=1) if step.square is not None]


@pytest.mark.parametrize("worked", [ROUND, ACROSS])
@pytest.mark.parametrize("symmetry", SYMMETRIES)
def test_the_values_of_a_square_give_the_square_again(symmetry: str, worked: str) -> None:
    asked = brief(symmetry, worked)
    squares = found(asked, 8)
    assert len(squares) == 8
    assert any(square.fillings for square in squares)
    for square in squares:
        lace = model.lace(square.piece(), asked)
        values = values_of(lace, square)
        assert lace.formula.broken(values) == []
        again = finish(
            lace, values, pitch_mm=square.pitch_mm, pairs=square.pairs, stamp=square.stamp, brief=square.brief,
            composition=square.composition,
        )  # fmt: skip
        assert again.numbered(square.number) == square
        assert np.array_equal(ways_of(lace, values), ways(square))


def test_a_square_is_read_under_a_looser_symmetry() -> None:
    square = found(brief("full", ROUND), 1)[0]
    loose = brief("none", ROUND)
    lace = model.lace(square.piece("none"), loose)
    values = values_of(lace, square)
    assert lace.formula.broken(values) == []
    again = finish(lace, values, pitch_mm=5.0, pairs=12, stamp=None, brief={}, composition="")
    assert (again.symmetry, again.blocks, again.fillings) == ("none", square.blocks, square.fillings)


def test_a_square_that_breaks_the_brief_is_refused_with_the_rule() -> None:
    asked = brief("full", ROUND)
    square = found(asked, 1)[0]
    with pytest.raises(BadInput, match="does not keep its brief: solid share"):
        values_of(model.lace(square.piece(), replace(asked, solid=(0.0, 0.01))), square)
    stitch = square.blocks[0].stitch
    others = tuple(name for name in ALLOWED if name != stitch)
    with pytest.raises(BadInput, match=f"holds {stitch} stitch, which its brief does not allow"):
        values_of(model.lace(square.piece(), replace(asked, stitches=others)), square)

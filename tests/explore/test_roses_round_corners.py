"""Rose ground that goes round corners: rows of roses on both sides of the corner lines, and no bare stripe along them.

That is how it is worked at a corner (Jo Edkins, teaching pages on Torchon lace, the mat of spiders and roses). Where a
corner line runs is told from coordinates.
"""

from __future__ import annotations

import numpy as np
import pytest

from constraints.brief import Brief
from constraints.fillings import FIGURES
from constraints.forms import Form, Frame, Square
from constraints.lattice import BoolArray
from constraints.variables import Model
from explore.search.compose.fillings import Filler
from explore.search.compose.liking import Liking

Point = tuple[int, int]


def model_of(form: Form, symmetry: str, filling: str = "rose", least: int = 0) -> Model:
    asked = Brief.of(stitches=("cloth", filling), least={filling: least} if least else {})
    return Model(form.piece("round", symmetry), asked.rules)


def filled(model: Model, seed: int, block: BoolArray | None = None) -> set[Point]:
    """The middles of the figures with which open ground is filled, round blocks if there are any."""
    nothing = np.zeros(len(model.piece), dtype=np.bool_)
    values = np.zeros(model.formula.size, dtype=np.bool_)
    filler = Filler(model, nothing if block is None else block, nothing, values)
    kinds = tuple(model.sites)
    filler.fill(Liking(kinds, kinds, 1), np.random.default_rng(seed))
    return {
        point for sites in model.sites.values() for point in map(tuple, sites.centres[values[sites.chosen]].tolist())
    }


def pins(units: set[Point]) -> set[Point]:
    return {pin for x, y in units for pin in ((x, y - 1), (x + 1, y), (x, y + 1), (x - 1, y))}


@pytest.mark.parametrize("filling", [name for name in FIGURES if name != "spider"])
@pytest.mark.parametrize("symmetry", ["full", "quarter-turn", "upright-mirror", "none"])
def test_roses_fill_a_square_up_to_its_corner_lines(symmetry: str, filling: str) -> None:
    model = model_of(Square(15), symmetry, filling)
    for seed in range(4):
        units = filled(model, seed)
        beside = {(x, y) for x, y in model.piece.index if abs(abs(x) - abs(y)) == 1 and max(abs(x), abs(y)) <= 12}
        assert beside <= pins(units)
        # What lies on one side of a line is the reflection of what lies on the other.
        assert units == {(y, x) for x, y in units} == {(-y, -x) for x, y in units}


@pytest.mark.parametrize("seed", range(6))
def test_a_field_over_one_line_alone_goes_round_that_corner(seed: int) -> None:
    """A block from corner to corner leaves a field on either side."""
    model = model_of(Square(14), "none")
    block = np.array([abs(x - y) <= 1 and max(abs(x), abs(y)) < 13 for x, y in model.piece.index])
    units = filled(model, seed, block)
    corner = {(x, y) for x, y in units if x - y < 0}
    assert len(corner) > 20
    # Over the line from the middle to the bottom left corner, both ways.
    beside = {(x, y) for x, y in model.piece.index if abs(x + y) == 1 and x - y < -6 and max(abs(x), abs(y)) <= 11}
    assert len(beside) > 10
    assert beside <= pins(corner)


def test_where_one_line_or_another_would_be_bare_a_field_is_plain_unless_she_asks() -> None:
    """Along a frame whose half-sides differ by an odd number roses that go round two corners lie out of line with those
    that would go round the others."""
    for height, fits in ((24, True), (25, False)):
        frame = Frame(22, height, 19)
        assert bool(filled(model_of(frame, "none"), 1)) == fits
        assert filled(model_of(frame, "none", least=4), 1)

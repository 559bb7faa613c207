"""A finished square and the values of the formula are two ways to write the same."""

from __future__ import annotations

import numpy as np
import pytest

from constraints import rulebook
from constraints.brief import Brief
from constraints.design import Design
from constraints.encoding import sorts_of
from constraints.fillings import ALLOWED
from constraints.piece import ACROSS, ROUND
from constraints.symmetry import SYMMETRIES
from explore.bad_input import BadInput
from explore.editing.varying.setting import values_of
from explore.editing.varying.worked import sorts_in
from explore.search.attempt import Making, decoded
from explore.search.context import Context
from explore.search.search import search


def brief(symmetry: str, worked: str) -> Brief:
    return Brief.of(
        half_size=(10, 10), pairs=60, symmetry=symmetry, worked=worked, solid=(0.1, 0.6), stitches=ALLOWED, apart=0.02
    )


def found(asked: Brief, count: int) -> list[Design]:
    return [step.design for step in search(asked, count=count, cores=1) if step.design is not None]


@pytest.mark.parametrize("worked", [ROUND, ACROSS])
@pytest.mark.parametrize("symmetry", SYMMETRIES)
def test_the_values_of_a_square_give_the_square_again(symmetry: str, worked: str) -> None:
    asked = brief(symmetry, worked)
    designs = found(asked, 8)
    assert len(designs) == 8
    assert any(design.fillings for design in designs)
    for design in designs:
        own = Context(design.form, design.worked, design.symmetry, asked.rules)
        model = own.model
        values = values_of(model, design)
        assert model.formula.broken(values) == []
        making = Making(design.pitch_mm, design.passives, design.seed, design.composition, "")
        again = decoded(own, values, design.prints, making)
        assert again.numbered(design.number) == design
        assert np.array_equal(sorts_of(model, values), sorts_in(design))


def test_a_square_is_read_under_a_looser_symmetry() -> None:
    design = found(brief("full", ROUND), 1)[0]
    loose = brief("none", ROUND)
    own = Context(design.form, design.worked, "none", loose.rules)
    values = values_of(own.model, design)
    assert own.model.formula.broken(values) == []
    again = decoded(own, values, (), Making(5.0, 1, 1, "", ""))
    assert (again.symmetry, again.blocks, again.fillings) == ("none", design.blocks, design.fillings)


def test_a_square_that_breaks_the_brief_is_refused_with_the_rule() -> None:
    asked = brief("full", ROUND)
    design = found(asked, 1)[0]
    with pytest.raises(BadInput, match="does not keep its brief: solid share"):
        values_of(rulebook.build(design.piece(), asked.changed(solid=(0.0, 0.01)).rules), design)
    stitch = design.blocks[0].stitch
    others = tuple(name for name in ALLOWED if name != stitch)
    with pytest.raises(BadInput, match=f"holds {stitch} stitch, which its brief does not allow"):
        values_of(rulebook.build(design.piece(), asked.changed(stitches=others).rules), design)

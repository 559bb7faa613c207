"""Gimps round the blocks of every square that the search can find, all that can have one at once."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st
from test_every_square import found_squares

from constraints.symmetry import SYMMETRIES
from constraints.working.check import faults
from constraints.working.gimp import blocks_called
from constraints.working.habits import Habits
from constraints.working.work import Work, work


def fitting(plain: Work) -> tuple[int, ...]:
    """The numbers of the blocks that a gimp goes round."""
    found = []
    for number in blocks_called(plain.layout, plain.flow, plain.order):
        try:
            work(plain.design, Habits(gimp=(number,)))
        except ValueError as refusal:
            if "is not worked in one go" not in str(refusal):
                raise
        else:
            found.append(number)
    return tuple(found)


@pytest.mark.parametrize("worked", ["round", "across"])
@pytest.mark.parametrize("symmetry", SYMMETRIES)
@settings(max_examples=4, suppress_health_check=list(HealthCheck))
@given(data=st.data())
def test_a_gimp_passes_every_pair_of_its_block_in_and_out(symmetry: str, worked: str, data: Any) -> None:
    design = data.draw(found_squares(symmetry, worked))
    plain = work(design)
    called = fitting(plain)
    assume(called)
    done = work(design, Habits(gimp=called))
    assert faults(done) == []
    assert np.array_equal(done.crossings.taken, plain.crossings.taken)
    for gimp in done.gimps:
        places = np.array(design.blocks[gimp.block].pinholes)
        # E (Jo Edkins' teaching pages): pairs in and out are as many as pinholes along both sides; for a block of one
        # quarter, without splits, those are its extents along the two diagonals.
        sides = [int(np.ptp(along) // 2) + 1 for along in (places.sum(axis=1), places @ (1, -1))]
        passed = [passing.inwards for passing in (*gimp.left, *gimp.right)]
        quarters = np.unique(done.layout.piece.zone[done.layout.block == gimp.block])
        if len(quarters) == 1 and not design.splits:
            assert passed.count(True) == passed.count(False) == sum(sides)
        assert len(passed) == 2 * passed.count(True)
    if not design.splits and worked == "across":  # no start line cuts a block: without splits and merges each has one
        assert len(called) == len(blocks_called(plain.layout, plain.flow, plain.order))

"""Squares with fans or a scallop all round, from the same search."""

from __future__ import annotations

import pytest

from constraints.brief import Brief
from constraints.check import check
from constraints.edgings import named
from constraints.edgings.headside import fits_corner
from constraints.explain import size_conflict
from constraints.square_sizes import sizes, square_of
from constraints.working import check as working
from constraints.working.work import work
from explore.search.search import search

BRIEF = Brief.of(pairs=24, headside=named("cloth fan 4"), count=3, narrowest=2)


@pytest.mark.parametrize(("edging", "pairs"), [("cloth fan 4", 0), ("half scallop 3 with 4 pairs", 2)])
def test_squares_with_a_headside_are_found_and_can_be_worked(edging: str, pairs: int) -> None:
    """A round mat with pointed fans takes N + 1 pairs; a scallop as many more as pass at its valleys beyond two."""
    found = [step.design for step in search(BRIEF.changed(headside=named(edging)), None, cores=1) if step.design]
    assert len(found) == 3
    for each in found:
        assert each.pairs == each.half_size + 1 + pairs <= 24
        assert check(each) == []
        assert working.faults(work(each)) == []
        assert each.form.headside is not None
        assert fits_corner(each.half_size, each.form.headside)


def test_the_largest_half_size_is_one_that_whole_fans_go_round() -> None:
    """N = 2t + 1 (mod h): with h even N must be odd."""
    [size] = sizes(BRIEF)
    assert size.half_size == 23
    [smaller] = sizes(BRIEF.changed(pairs=23))
    assert smaller.half_size == 21


def test_a_width_counts_the_fans() -> None:
    found = sizes(BRIEF.changed(pairs=60, width_mm=240.0, pitch_mm=(4.0, 7.0)))
    # By hand: 240 mm are 34.3 to 60 pitches, two of them the depth; of half-sizes 33 to 58 the odd ones.
    assert len(found) == 13
    for size in found:
        form = square_of(BRIEF.piece, size.half_size)
        assert form is not None
        assert form.headside is not None
        # The middle of a fan stands out by half its depth.
        assert (size.half_size + 4 / 2) * size.pitch_mm == pytest.approx(240, abs=0.01)


def test_a_half_size_that_fans_do_not_go_round_gets_the_nearest_one() -> None:
    told = size_conflict(BRIEF.changed(half_size=(18, 18)))
    assert told is not None
    assert told.startswith("whole fans of a cloth fan 4 do not go round half-size 18")
    assert told.endswith("the nearest is half-size 17, with 18 pairs")

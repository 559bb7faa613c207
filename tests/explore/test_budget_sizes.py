"""The sizes that budgets afford, and the rows a table has."""

from itertools import pairwise

import pytest

from constraints.brief import Brief
from constraints.forms import Square
from constraints.square_sizes import sizes
from explore.editing.budget.sizes import AffordedSize, affordable, rows, worked_out


@pytest.mark.parametrize("worked", ["round", "across"])
@pytest.mark.parametrize("pairs", [7, 24, 37])
def test_every_size_within_the_pairs_and_no_other(worked: str, pairs: int) -> None:
    """Square worked round: N + 1 + p pairs; across: 2N + 2(1 + p) (lines and edges, counted on the grid)."""
    brief = Brief.of(worked=worked, pitch_mm=(3.0, 6.0))
    found = affordable(brief, pairs)
    assert [each.measure for each in found] == [n for n in range(1, 60) if Square(n).pairs(worked, 1) <= pairs]
    assert all(each.width_mm == (3 * each.measure, 6 * each.measure) for each in found)


def test_with_a_width_each_half_size_has_its_pitch() -> None:
    found = affordable(Brief.of(width_mm=140.0, pitch_mm=(3.0, 6.0)), 40)
    assert [each.measure for each in found] == list(range(24, 39))  # 140 / 6 = 23.3, 140 / 3 = 46.7, 40 - 2 = 38
    for each in found:
        assert each.width_mm[0] == pytest.approx(140, abs=0.01)
        assert 3 <= each.pitch_mm[0] <= 6


def test_too_few_pairs_afford_nothing() -> None:
    assert affordable(Brief(), 2) == ()
    assert affordable(Brief.of(half_size=(20, 24)), 21) == ()
    assert affordable(Brief.of(width_mm=140.0), 29) == ()


def test_the_brief_of_an_offer_allows_that_size_alone() -> None:
    for brief in (
        Brief.of(),
        Brief.of(width_mm=140.0, pitch_mm=(4.0, 6.0)),
        Brief.of(half_size=(5, 9), worked="across"),
    ):
        for size in affordable(brief, 40):
            (only,) = sizes(size.brief)
            assert (only.half_size, only.pairs) == (size.measure, size.pairs)
            assert size.pitch_mm[0] <= only.pitch_mm <= size.pitch_mm[1]


def test_what_is_worked_out_of_a_budget_does_not_depend_on_the_others() -> None:
    every = affordable(Brief(), 400)
    for most in (20, 50, 90, 200):
        within = [each for each in every if each.pairs <= most]
        assert worked_out(within) == tuple(each for each in worked_out(every) if each.pairs <= most)
    assert worked_out(every[:48]) == every[:48]
    assert len(worked_out(every)) < 100


def test_the_smallest_size_is_always_worked_out() -> None:
    lone = (AffordedSize(51, 53, (5.0, 5.0), 102, Brief()),)
    assert worked_out(lone) == lone


@pytest.mark.parametrize("budgets", [(16, 16), (16, 48), (16, 30), (2, 2000), (30, 41)])
def test_rows_are_few_and_hold_both_ends(budgets: tuple[int, int]) -> None:
    found = rows(budgets, None)
    assert (found[0], found[-1]) == budgets
    assert 1 <= len(found) <= 11
    assert all(a < b for a, b in pairwise(found))


def test_rows_stand_as_far_apart_as_she_says() -> None:
    assert rows((16, 48), 4) == (16, 20, 24, 28, 32, 36, 40, 44, 48)
    assert rows((16, 23), 5) == (16, 21, 23)
    assert rows((16, 18), 1) == (16, 17, 18)

"""Stairs and axes: every value on its tread, round marks, ends that hold all there is."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gallery.sheets.stairs import below, marks, runs, treads

VALUES = st.lists(st.none() | st.floats(0, 1), min_size=1, max_size=20)


@given(VALUES)
def test_treads_pass_through_every_value_and_no_gap(values: list[float | None]) -> None:
    stairs = list(treads([float(n) for n in range(len(values))], 1.0, values, lambda value: -value))
    corners = [corner for stair in stairs for corner in stair]
    expected = [(float(n + end), -v) for n, v in enumerate(values) if v is not None for end in (0, 1)]
    assert corners == expected
    for stair in stairs:
        for (x0, y0), (x1, y1) in pairwise(stair):
            assert x0 == x1 or y0 == y1  # level or upright, never a slope


@given(st.lists(st.none() | st.integers(0, 2), min_size=1, max_size=20))
def test_runs_tell_the_same_values(values: list[int | None]) -> None:
    told: list[int | None] = [None] * len(values)
    found = list(runs(range(10, 10 + len(values)), values))
    for first, last, value in found:
        told[first - 10 : last - 9] = [value] * (last - first + 1)
    assert told == values
    assert all(a[1] + 1 < b[0] or a[2] != b[2] for a, b in pairwise(found))


def test_no_values_no_runs() -> None:
    assert list(runs([], [])) == []


@given(st.floats(0.01, 1e5), st.floats(0, 0.8))
def test_marks_are_few_and_within_the_axis(top: float, share: float) -> None:
    found = marks(share * top, top)
    assert len(found) <= 7
    assert all(share * top - 1e-6 * top <= mark <= top * (1 + 1e-6) for mark in found)


@pytest.mark.parametrize(
    ("bottom", "top", "expected"),
    [(0, 1, [0, 0.2, 0.4, 0.6, 0.8, 1]), (0.6, 1, [0.6, 0.7, 0.8, 0.9, 1]), (0, 2160, [0, 500, 1000, 1500, 2000])],
)
def test_marks_are_round(bottom: float, top: float, expected: list[float]) -> None:
    assert marks(bottom, top) == expected


@given(VALUES)
def test_ends_hold_every_value(values: list[float | None]) -> None:
    held = [value for value in values if value is not None]
    assert below(values, 1.0) <= min(held, default=0.0)
    assert 0 <= below(values, 1.0) < 1

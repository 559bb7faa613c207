"""Prickings written down row for row, and their repeats."""

from __future__ import annotations

import time

import pytest
from hypothesis import given
from hypothesis import strategies as st
from redrafting_cards import EDGING, GROUND, repeated

from explore.bad_input import BadInput
from explore.editing.redrafting.draft import Draft
from explore.editing.redrafting.repeat import broken, find_repeat, one_repeat
from explore.editing.redrafting.rows import read_rows, rows_text
from explore.editing.redrafting.settling import numbered

# Figure 799 of Therese de Dillmont, Encyclopedia of Needlework (1886): one repeat, row for row.
EDGING_ROWS = "# The edging of 1886\ncolumns\n1\n0 2\n1 3\n0 2 4\n1 3\n0 2\n1\noutside 5.5 0.5\n"


def test_the_edging_of_1886_keeps_its_pins_and_comes_again_after_six_rows() -> None:
    draft = read_rows(EDGING_ROWS)
    assert set(draft.pinholes) == set(EDGING)
    assert draft.headside == ((5.5, 0.5),)
    repeat = find_repeat(draft)
    assert repeat is not None
    assert repeat.rows == 6
    assert not repeat.glide
    assert set(repeat.pinholes) == {place for place in EDGING if place[1] < 6}


def test_the_ground_of_1886_is_thirteen_rows_of_five_and_four() -> None:
    draft = read_rows("counts\n5 4 5 4 5 4 5\n4 5 4 5 4 5\n")
    assert draft.pinholes == GROUND
    repeat = find_repeat(draft)
    assert repeat is not None
    assert repeat.rows == 2
    assert read_rows("counts from 1\n4 5 4").pinholes == read_rows("columns\n1,3,5,7\n0,2,4,6,8\n1 3 5 7").pinholes


@given(
    rows=st.sampled_from((4, 6, 8, 12)),
    times=st.integers(2, 6),
    kept=st.sets(st.tuples(st.integers(0, 7), st.integers(0, 11)), min_size=8),
)
def test_the_repeat_found_explains_every_pinhole_and_none_shorter_does(
    rows: int, times: int, kept: set[tuple[int, int]]
) -> None:
    one = {(x, y % rows) for x, y in kept if (x + y % rows) % 2} | {(0, 1), (1, 0)}
    every = repeated(tuple(one), rows, times)
    draft = Draft(every)
    first, last = draft.rows

    def holds(period: int) -> bool:
        return all((x, y + period) in every or y + period > last for x, y in every) and all(
            (x, y - period) in every or y - period < first for x, y in every
        )

    shortest = min(period for period in range(2, last + 3, 2) if holds(period))
    found = find_repeat(draft)
    assert found is not None or times < 3
    if found is not None:
        # A few dots may be taken for faults of a shorter repeat; they are then in doubt, each of them.
        doubts = broken(draft, found).doubts
        assert bool(doubts) != holds(found.rows)
        assert found.rows <= shortest


def test_a_glide_is_known() -> None:
    # Half a repeat on, mirrored from side to side: columns 0 to 3, after three rows.
    half = {(0, 1), (2, 1), (1, 0), (3, 2), (1, 2)}
    every = half | {(3 - x, y + 3) for x, y in half}
    found = find_repeat(Draft(repeated(tuple(every), 6, 3)))
    assert found is not None
    assert (found.rows, found.glide) == (6, True)


def test_where_nothing_comes_again_all_rows_are_one_repeat() -> None:
    draft = read_rows("columns\n0 2\n1\n0 4\n3 5\n")
    assert find_repeat(draft) is None
    assert one_repeat(draft).rows == 4
    assert set(one_repeat(draft).pinholes) == {(x, y % 4) for x, y in draft.pinholes}


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", "has no pinholes"),
        ("columns\n-\n", "has no pinholes"),
        ("1 3\n", "line 1: '1 3' comes before the rows"),
        ("columns\n1 2\n", "line 2: columns 1 and 2 in one row"),
        ("columns\n3 1\n", "line 2: column 1 follows column 3"),
        ("columns\n1 3\n1 3\n", "line 3: column 1 stands right below"),
        ("columns\n0 x\n", "line 2: 'x' is not a column"),
        ("columns\n0 900\n", "line 2: '900' is not a column; whole numbers from 0 to 399 are"),
        ("counts\n5 4 five\n", "line 2: 'five' is not a count"),
        ("counts\n4\ncolumns\n", "line 3: 'columns' comes after 'counts'"),
        ("columns\n2 4\n3\n", "begins with column 2; the footside is column 0"),
        ("counts\n" + "3 " * 2001, "more than 2000 rows"),
        ("counts\n" + "200\n" * 2000, "line 202: more than 40000 pinholes"),
        ("columns\noutside 3\n", "line 2: 'outside' is not a column"),
    ],
)
def test_rows_that_cannot_be_read_are_refused_by_line(text: str, words: str) -> None:
    with pytest.raises(BadInput) as refused:
        read_rows(text)
    assert words in str(refused.value)
    assert "\n" not in str(refused.value)


def test_as_many_pinholes_as_are_read_at_all_are_written_down_again_at_once() -> None:
    draft = read_rows("counts\n" + "20\n" * 2000)
    assert len(draft.pinholes) == 40_000
    begun = time.process_time()
    assert read_rows(rows_text(draft, "a long edging")) == draft
    assert time.process_time() - begun < 5  # it took minutes when every row looked through all pinholes


def test_doubts_are_numbered_from_the_top() -> None:
    every = set(repeated(EDGING, 6, 5)) - {(1, 26), (2, 7)}
    draft = Draft(tuple(every))
    repeat = find_repeat(draft)
    assert repeat is not None
    assert [(each.number, each.place) for each in numbered(broken(draft, repeat)).doubts] == [(1, (2, 7)), (2, (1, 26))]

"""The search for strips: every one can be worked, keeps its measures, and is the same on any number of cores."""

from __future__ import annotations

from dataclasses import replace

import pytest

from constraints.brief import Brief
from constraints.check import check
from constraints.design import Design
from constraints.design_file import to_text
from constraints.difference import difference
from constraints.edgings import named
from constraints.forms import Strip
from constraints.repeats import repeat_of
from constraints.working import check as working
from constraints.working.work import work
from explore.reading import built_in, read
from explore.search import memory
from explore.search.search import Impossible, search
from explore.search.strips.measures import columns_of, conflict, forms_of

BRIEF = Brief.of(form="strip", worked="across", symmetry="suits", pairs=20, count=6, rows=(8, 24), match=0.6)


def found(brief: Brief, stamp: str = "", cores: int = 1) -> list[Design]:
    shape = read(built_in(stamp)) if stamp else None
    return [step.design for step in search(brief, shape, cores=cores) if step.design is not None]


@pytest.mark.parametrize("edging", ["footside", "cloth fan 3", "half scallop 3 with 6 pairs"])
def test_strips_take_the_pairs_she_has_and_can_be_worked(edging: str) -> None:
    brief = BRIEF.changed(headside=named(edging))
    strips = found(brief)
    assert len(strips) == 6
    for each in strips:
        assert isinstance(each.form, Strip)
        assert 8 <= each.form.rows <= 24
        assert each.pairs == 20
        assert check(each) == []
        assert working.faults(work(each)) == []
        assert each.symmetry in each.form.symmetries_allowed("across")
    assert len({each.symmetry for each in strips}) > 1


def test_the_same_strips_on_one_core_and_on_two() -> None:
    alone = [to_text(each) for each in found(BRIEF)]
    memory.forget()
    assert alone == [to_text(each) for each in found(BRIEF, cores=2)]


def test_strips_differ_however_they_are_moved_along_or_turned_over() -> None:
    strips = found(BRIEF)
    for number, first in enumerate(strips):
        for second in strips[:number]:
            assert difference(first, second) >= BRIEF.run.apart
        shifted = replace(first, number=99)
        assert difference(first, shifted) == 0.0


def test_a_stamp_stands_in_every_repeat_as_well_as_the_strip_says() -> None:
    strips = found(BRIEF.changed(pairs=26, rows=(16, 40), count=3), "tulip")
    assert len(strips) == 3
    for each in strips:
        assert each.prints
        assert each.prints[0].match >= 0.6
        assert len(repeat_of(each).design.blocks) >= 1
        assert check(each) == []


@pytest.mark.parametrize(
    ("brief", "told"),
    [
        (BRIEF.changed(pairs=8), "columns are too few for a strip with footside"),
        (BRIEF.changed(columns=30), "a strip of 30 columns takes 33 pairs; 20 pairs suffice for 17 columns"),
        (BRIEF.changed(headside=named("cloth fan 5"), rows=(8, 9)), "holds whole fans: a multiple of 10 rows does"),
        (BRIEF.changed(headside=named("cloth fan 3"), symmetry="upright-mirror"), "has the symmetry upright-mirror"),
    ],
)
def test_what_cannot_be_is_one_line(brief: Brief, told: str) -> None:
    assert told in (conflict(brief) or "")
    with pytest.raises(Impossible, match=told.split(";")[0]):
        next(search(brief))


def test_columns_follow_from_the_pairs() -> None:
    """c + 1 pairs and the passives; a headside one line less and its own pairs (handbook of 1886: 5 columns, 10)."""
    assert columns_of(BRIEF) == 20 - 1 - 2
    assert columns_of(BRIEF.changed(headside=named("half scallop 3 with 6 pairs"), passives=0, pairs=10)) == 5
    assert [form.rows for form in forms_of(BRIEF.changed(headside=named("cloth fan 3")))] == [12, 18, 24]


def test_large_and_upright_prints_come_first() -> None:
    """All that are found stand upright, none much smaller than the largest, where there is room for such prints."""
    pieces = found(BRIEF.changed(pairs=26, rows=(16, 40), count=4), "tulip")
    prints = [each.prints[0] for each in pieces if each.prints]
    assert len(prints) == 4
    assert {each.turn_degrees for each in prints} == {0.0}
    assert min(each.size for each in prints) >= 0.8 * max(each.size for each in prints)


def test_turns_that_she_names_have_no_rank() -> None:
    pieces = found(BRIEF.changed(pairs=26, rows=(16, 40), count=4, turns=(90.0, 180.0)), "tulip")
    assert {each.prints[0].turn_degrees for each in pieces if each.prints} <= {90.0, 180.0}

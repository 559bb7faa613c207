"""Every form can be asked for: its keys are known, its measures can be named, and a brief that names them allows it."""

from __future__ import annotations

import pytest

from constraints.brief import Brief
from constraints.edgings import Fan
from constraints.forms import FORMS, Form, Frame, Rectangle, Square, Strip
from explore.asking.keys import NAMED
from explore.search.sizing import SIZING

EVERY = (
    Square(9),
    Square(17, Fan("half", 4, 2, 2)),
    Rectangle(8, 12),
    Rectangle(10, 13, Fan("cloth", 3, 2, 12)),
    Frame(16, 20, 8),
    Strip(11, 12, 3),
    Strip(13, 8, 2, Fan("cloth", 2, 2, 3), both=True),
)


def test_every_form_has_its_row_and_its_keys_are_those_of_a_brief() -> None:
    assert set(SIZING) == set(FORMS)
    for form in FORMS.values():
        assert set(form.keys) <= set(NAMED)
        assert all(NAMED[key].goes_with(form.name) for key in form.keys)


@pytest.mark.parametrize("form", EVERY, ids=str)
def test_a_brief_that_asks_for_the_measures_of_a_form_allows_it_and_no_other(form: Form) -> None:
    brief = Brief.of(**form.asked(), pairs=200, worked=form.ways[0], symmetry="none")
    assert list(SIZING[form.name].allowed(brief)) == [form]
    assert SIZING[form.name].conflict(brief) is None
    assert SIZING[form.name].named(brief)
    assert SIZING[form.name].pairs(brief) == [form.pairs(form.ways[0], 1)]

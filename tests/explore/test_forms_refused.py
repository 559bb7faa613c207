"""What commands say of forms that they do not take."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from asked import Ask
from designs import made
from strips import strip, worked_round

from constraints import forms
from constraints.brief import Brief
from constraints.edgings import Fan
from constraints.forms import Frame, Strip
from explore.storage.study import create, open_study

PIECES = (
    strip(Strip(9, 8, 3), passives=1),
    worked_round(Frame(12, 16, 8), passives=1),
    worked_round(forms.Square(13, Fan("cloth", 3, 2, 3))),
    made(6),
)


@pytest.fixture
def study(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    held = create(tmp_path / "garden-society", Brief(), (), ())
    for number, design in enumerate(PIECES, 1):
        held = held.keep(replace(design, number=number), number)
    return tmp_path


@pytest.mark.usefixtures("study")
@pytest.mark.parametrize(
    ("command", "said"),
    [
        ("vary garden-society 1 --keep corner", "--keep corner: a strip has no corner; allowed: centre, blocks"),
        ("series garden-society 4 2", "04 has no stamp to share"),
        ("series garden-society 1 2 --share trail", "01 has no block, so no trail to share"),
        ("compare garden-society 1 4", "01 is a strip of 20 x 57.5 mm, 04 is a square of 30 mm"),
        ("pricking garden-society 1 --part half", "--part is half, but 01 is a strip; allowed: whole"),
    ],
)
def test_a_form_that_is_not_taken_is_told_on_one_line(ask: Ask, command: str, said: str) -> None:
    words = command.split()
    status, lines, errors = ask(*words, *(["cloth fan 3"] if words[-1] == "--edging" else []))
    assert (status, lines, len(errors)) == (2, [], 1)
    assert said in errors[0]


@pytest.mark.usefixtures("study")
def test_a_strip_may_be_sewn_to_its_beginning_and_a_rectangle_may_not(ask: Ask) -> None:
    assert ask("work", "garden-society", "1", "--finish", "sewings")[0] == 0
    text = " ".join(Path("garden-society/papers/01-work.txt").read_text(encoding="utf-8").split())
    assert "Sew each pair into the loop of its own number: 12 sewings" in text
    held = open_study(Path("garden-society"))
    held.keep(replace(made(5, worked="across"), number=5), 5)
    status, _, errors = ask("work", "garden-society", "5", "--finish", "sewings")
    assert (status, len(errors)) == (2, 1)
    assert "worked across, which does not meet its own beginning; finishes for it: knots, plaits, fringe" in errors[0]

"""What commands say of forms that they do not take, and what vary makes of a square with fans."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from asked import Ask
from designs import made
from strips import strip, worked_round

from constraints import forms
from constraints.brief import Brief
from constraints.check import check
from constraints.edgings import Fan, named
from constraints.forms import Frame, Strip
from explore.editing.varying import sheets
from explore.search.search import search
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
    held = create(tmp_path / "garden-society", Brief(), None, b"")
    for number, design in enumerate(PIECES, 1):
        held = held.keep(replace(design, number=number), number)
    return tmp_path


@pytest.mark.usefixtures("study")
@pytest.mark.parametrize(
    ("command", "said"),
    [
        ("vary garden-society 1", "01 is a strip; vary takes squares; squares of garden-society: 3 4"),
        ("vary garden-society 2 --steps", "02 is a frame; vary takes squares"),
        ("vary garden-society 3", "has cloth fan 3 for its edge, the brief of the study another one (footside)"),
        ("series garden-society 4 2", "02 is a frame; a series is of squares with a footside round them"),
        ("series garden-society 3", "03 is a square with cloth fan 3"),
        ("compare garden-society 1 4", "01 is a strip of 20 x 57.5 mm, 04 is a square of 30 mm"),
        ("pricking garden-society 1 --part half", "--part is half, but 01 is a strip; allowed: whole"),
        ("count --form strip", "form is strip; allowed for count: square"),
        ("budget --no-stamp --form strip", "form is strip; allowed for budget: square"),
        ("count --edging", "edging is cloth fan 3; allowed for count: footside"),
        ("budget --no-stamp --edging", "edging is cloth fan 3; allowed for budget: footside"),
    ],
)
def test_a_form_that_is_not_taken_is_told_on_one_line(ask: Ask, command: str, said: str) -> None:
    words = command.split()
    status, lines, errors = ask(*words, *(["cloth fan 3"] if words[-1] == "--edging" else []))
    assert (status, lines, len(errors)) == (2, [], 1)
    assert said in errors[0]


def test_a_square_with_fans_is_varied_and_keeps_them(ask: Ask, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr(sheets, "write_sheets", lambda *_: None)
    fans = named("cloth fan 3")
    brief = Brief.of(half_size=(14, 14), pairs=16, headside=fans, solid=(0.1, 0.6), stitches=("cloth", "rose"))
    held = create(tmp_path / "mats", brief, None, b"")
    for step in search(brief, None, count=1, cores=1):
        if step.design is not None:
            held = held.keep(step.design, step.job)
    assert ask("vary", "mats", "1", "--count", "2", "--cores", "1")[0] == 0
    assert ask("vary", "mats", "1", "--steps")[0] == 0
    for folder in ("mats-01-cousins", "mats-01-steps"):
        designs = open_study(tmp_path / folder).designs
        assert len(designs) > 1
        for design in designs:
            assert design.form == designs[0].form
            assert design.form.headside is not None
            assert check(design) == []


@pytest.mark.usefixtures("study")
def test_a_strip_may_be_sewn_to_its_beginning_and_a_rectangle_may_not(ask: Ask) -> None:
    assert ask("work", "garden-society", "1", "--finish", "sewings")[0] == 0
    text = " ".join(Path("garden-society/papers/01-work.txt").read_text(encoding="utf-8").split())
    assert "Sew each pair into the loop of its own number: 12 sewings" in text
    held = open_study(Path("garden-society"))
    held.keep(replace(made(5, worked="across"), number=5), 5)
    status, _, errors = ask("work", "garden-society", "5", "--finish", "sewings")
    assert (status, len(errors)) == (2, 1)
    assert "worked across, which does not meet its own beginning; --finish: knots, plaits, fringe" in errors[0]

"""A form in one file and one row of the registry is searched for, checked, kept, worked, drawn and compared."""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path
from typing import ClassVar

import pytest
from designs import diamond
from strips import worked_across

from constraints import forms
from constraints.brief import Brief
from constraints.check import check
from constraints.design_file import from_text, to_text
from constraints.edgings import Fan, Headside
from constraints.forms import Rectangle, Strip
from constraints.piece import ACROSS
from constraints.whole import whole
from explore.cli import run
from explore.exits import BAD_INPUT, DONE
from explore.search.sizing import SIZING
from explore.search.workshops import WORKSHOPS, workshop
from explore.storage.study import create, open_study

FAN = Fan("cloth", 2, 2, 16)


@dataclass(frozen=True)
class Bookmark(Rectangle):
    """A rectangle twice as high as wide, or the next height that whole fans allow."""

    name: ClassVar[str] = "bookmark"
    cut: ClassVar[tuple[str, ...]] = ("whole",)
    composed: ClassVar[str] = "bookmark"

    @classmethod
    def sized(
        cls, half_width: int, half_height: int | None, band: int | None, headside: Headside | None
    ) -> Bookmark | None:
        heights = [half_height] if half_height else range(2 * half_width, 4 * half_width)
        fitting = (super(Bookmark, cls).sized(half_width, high, band, headside) for high in heights)
        return next((each for each in fitting if each is not None), None)

    def grown(self, units: int, headside: Headside | None) -> Bookmark | None:
        return self.sized(self.half_width + units, self.half_height + units, None, headside)


@pytest.fixture
def study(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    # As a row of the registry gives it to all of these.
    monkeypatch.setitem(forms.FORMS, Bookmark.name, whole(Bookmark, forms.Form, "form"))
    for table, row in ((forms.OBLONGS, Bookmark), (SIZING, SIZING["frame"]), (WORKSHOPS, WORKSHOPS["frame"])):
        monkeypatch.setitem(table, Bookmark.name, row)
    held = create(tmp_path / "garden-society", Brief(), (), ())
    for number, middle in enumerate(((0, 1), (0, 5)), 1):
        made = worked_across(Bookmark(9, 17, FAN), ("cloth", diamond(middle, 4)))
        held = held.keep(replace(made, number=number), number)
    return held.folder


@pytest.mark.usefixtures("study")
def test_its_file_is_read_and_it_takes_the_pairs_of_a_strip_as_wide() -> None:
    made = worked_across(Bookmark(9, 17, FAN))
    assert from_text(to_text(made)) == made
    assert made.pairs == Strip(19, 8, 4, replace(FAN, first=0), both=True).pairs(ACROSS, 0)


@pytest.mark.usefixtures("study")
def test_it_is_searched_for_with_its_edging() -> None:
    wanted = Bookmark(12, 25, replace(FAN, first=24))
    brief = Brief.of(**wanted.asked(), worked=ACROSS, symmetry="upright-mirror", pairs=40)
    assert SIZING[Bookmark.name].conflict(brief) is None
    [form] = SIZING[Bookmark.name].allowed(brief)
    found = next(made for job in range(20) if (made := workshop(brief, None).run(job, None)[0]) is not None)
    assert found.form == form == wanted
    assert check(found) == []
    assert SIZING[Bookmark.name].conflict(brief.changed(pairs=20)) is not None


@pytest.mark.parametrize("command", ["check", "pricking", "diagram", "page"])
def test_it_is_checked_and_has_its_papers(study: Path, command: str) -> None:
    numbers = [] if command in ("check", "page") else ["1"]
    assert run([command, str(study), *numbers]) == DONE


def test_it_is_told_by_its_name_and_its_edges(study: Path) -> None:
    assert run(["work", str(study), "1"]) == DONE
    words = " ".join((study / "papers" / "01-work.txt").read_text(encoding="utf-8").split())
    assert "A bookmark 50 mm by 85 mm at a pitch of 5 mm, worked across from the top." in words
    assert "headside at either edge of fans in cloth stitch. Pairs are counted from the left." in words


def test_it_is_compared_fitted_and_given_another_edging(study: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["compare", str(study), "1", "2"]) == DONE
    assert run(["edgings", str(study), "1", "--apply", "half fan 2"]) == DONE
    assert [each.form.name for each in open_study(study).designs] == ["bookmark"] * 3
    capsys.readouterr()
    assert run(["fit", str(study), "1", "--for", "60x102mm", "--pitch", "6mm"]) == DONE
    assert "bookmark" in capsys.readouterr().out


def test_others_are_made_of_it_that_keep_its_edge(study: Path) -> None:
    assert run(["vary", str(study), "1", "--keep", "edge", "--change", "3-40%", "--count", "1", "--cores", "1"]) == DONE
    made = sorted((study.parent / "garden-society-01-cousins" / "squares").iterdir())
    chosen, cousin = (from_text(path.read_text(encoding="utf-8")) for path in made)
    assert chosen.form == cousin.form
    assert check(cousin) == []
    assert chosen.blocks != cousin.blocks or chosen.fillings != cousin.fillings


def test_what_it_has_no_meaning_for_is_said_on_one_line(study: Path, capsys: pytest.CaptureFixture[str]) -> None:
    for command, said in {
        "pricking --part half": "--part is half, but 01 is a bookmark; allowed: whole",
        "work --finish sewings": "01 is a bookmark worked across, which does not meet its own beginning",
        "mirror": "01 is a bookmark; the mirror slides along a strip",
    }.items():
        name, *options = command.split()
        assert run([name, str(study), "1", *options]) == BAD_INPUT
        assert said in capsys.readouterr().err

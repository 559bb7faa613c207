"""A form in one file and one row of the registry is checked, kept, worked, drawn, compared and given other edgings."""

from __future__ import annotations

import sys
from dataclasses import dataclass, replace
from pathlib import Path
from typing import ClassVar

import pytest

sys.path.append(str(Path(__file__).parents[1] / "constraints"))

from designs import diamond
from strips import worked_across

from constraints import edging, forms
from constraints.brief import Brief
from constraints.design_file import from_text, to_text
from constraints.edging import Headside
from constraints.forms import Rectangle, Strip
from constraints.forms.form import decode_headside
from constraints.headside import dressed
from constraints.piece import ACROSS, LEFT_EDGE, RIGHT_EDGE, Piece
from constraints.reader import Reader
from explore.cli import run
from explore.exits import BAD_INPUT, DONE
from explore.storage.study import create, open_study

FAN = Headside("fan", "cloth", 2, 2, 1)


@dataclass(frozen=True)
class Bookmark(Rectangle):
    """A rectangle with its edging along both sides."""

    headside: Headside | None = None

    name: ClassVar[str] = "bookmark"
    edged: ClassVar[tuple[str, ...]] = (ACROSS,)
    cut: ClassVar[tuple[str, ...]] = ("whole",)
    composed: ClassVar[str] = "bookmark"

    @property
    def headside_edges(self) -> tuple[int, ...]:
        return () if self.headside is None else (LEFT_EDGE, RIGHT_EDGE)

    def piece(self, worked: str, symmetry: str = "none") -> Piece:
        return dressed(super().piece(worked, symmetry), self.headside, self.headside_edges)

    def grown(self, units: int, wanted: str) -> Bookmark | None:
        found = edging.named(wanted)
        wide = self.half_width + units
        return replace(self, half_width=wide, headside=None if found is None else replace(found, first=wide % 2))

    @classmethod
    def decode(cls, read: Reader) -> Bookmark:
        plain = super().decode(read)
        return cls(plain.half_width, plain.half_height, decode_headside(read))


@pytest.fixture
def study(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setitem(forms.FORMS, Bookmark.name, forms.complete(Bookmark))
    held = create(tmp_path / "garden-society", Brief(), None, b"")
    for number, middle in enumerate(((0, 0), (0, 4)), 1):
        made = worked_across(Bookmark(9, 16, FAN), ("cloth", diamond(middle, 4)))
        held = held.keep(replace(made, number=number), number)
    return held.folder


@pytest.mark.usefixtures("study")
def test_its_file_is_read_and_it_takes_the_pairs_of_a_strip_as_wide() -> None:
    made = worked_across(Bookmark(9, 16, FAN))
    assert from_text(to_text(made)) == made
    assert made.pairs == Strip(19, 8, 4, replace(FAN, first=0), both=True).pairs(ACROSS, 0)


@pytest.mark.parametrize("command", ["check", "pricking", "diagram", "page"])
def test_it_is_checked_and_has_its_papers(study: Path, command: str) -> None:
    numbers = [] if command in ("check", "page") else ["1"]
    assert run([command, str(study), *numbers]) == DONE


def test_it_is_told_by_its_name_and_its_edges(study: Path) -> None:
    assert run(["work", str(study), "1"]) == DONE
    words = " ".join((study / "papers" / "01-work.txt").read_text(encoding="utf-8").split())
    assert "A bookmark 50 mm by 80 mm at a pitch of 5 mm, worked across from the top." in words
    assert "headside at either edge of fans in cloth stitch. Pairs are counted from the left." in words


def test_it_is_compared_fitted_and_given_another_edging(study: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["compare", str(study), "1", "2"]) == DONE
    assert run(["edgings", str(study), "1", "--apply", "half fan 2"]) == DONE
    assert [each.form.name for each in open_study(study).designs] == ["bookmark"] * 3
    capsys.readouterr()
    assert run(["fit", str(study), "1", "--for", "60x96mm", "--pitch", "6mm"]) == DONE
    assert "bookmark" in capsys.readouterr().out


def test_what_it_has_no_meaning_for_is_said_on_one_line(study: Path, capsys: pytest.CaptureFixture[str]) -> None:
    for command, said in {
        "pricking --part half": "--part is half, but 01 is a bookmark; allowed: whole",
        "work --finish sewings": "01 is a bookmark worked across, which does not meet its own beginning",
        "mirror": "01 is a bookmark; the mirror slides along a strip",
        "vary": "01 is a bookmark; vary takes squares",
    }.items():
        name, *options = command.split()
        assert run([name, str(study), "1", *options]) == BAD_INPUT
        assert said in capsys.readouterr().err

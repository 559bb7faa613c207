"""`stampwork pricking`: the files it makes and what it refuses."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from asked import kept_study
from fakes import plain_square
from pypdf import PdfReader

from constraints.brief import Brief
from constraints.design import Block
from constraints.design_file import to_text
from explore.cli import run
from explore.exits import BAD_INPUT, DONE
from explore.storage.study import square_path

DIAMOND = ((0, -1), (-1, 0), (1, 0), (0, 1))


@pytest.fixture
def study(tmp_path: Path) -> Path:
    others = [replace(plain_square(number), blocks=(Block("cloth", DIAMOND),)) for number in range(2, 4)]
    return kept_study(tmp_path / "garden-society", Brief.of(count=3), [plain_square(1), *others]).folder


def test_every_square_gets_a_pdf_and_an_svg(study: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["pricking", str(study), "3", "1", "3"]) == DONE
    names = ["01-pricking.pdf", "01-pricking.svg", "03-pricking.pdf", "03-pricking.svg"]
    assert sorted(path.name for path in (study / "papers").iterdir()) == names
    said = capsys.readouterr().out.splitlines()
    assert [line[:3] for line in said] == ["03:", "01:"]
    # Half-size 4 at 5 mm: 2 x 4 x 5 pinholes.
    assert said[1].startswith("01: 20 x 20 mm, 40 pins, 1 page a4: ")


def test_the_title_block_tells_what_she_must_know(study: Path) -> None:
    assert run(["pricking", str(study), "2", "--numbers"]) == DONE
    words = PdfReader(study / "papers" / "02-pricking.pdf").pages[0].extract_text()
    for told in ("Pricking 02, garden-society", "20 x 20 mm", "pitch 5 mm", "6 pairs (12 bobbins)", "1 passive pair"):
        assert told in words
    # 120 / 5: common practice, no source.
    assert "24 wraps" in words
    assert "Measure the bar (100 mm) and the square (50 mm) before pricking" in words


def test_files_are_the_same_again(study: Path) -> None:
    assert run(["pricking", str(study), "2", "--out", str(study / "a")]) == DONE
    assert run(["pricking", str(study), "2", "--out", str(study / "b")]) == DONE
    for name in ("02-pricking.pdf", "02-pricking.svg"):
        assert (study / "a" / name).read_bytes() == (study / "b" / name).read_bytes()


def test_nothing_is_overwritten_without_force(study: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["pricking", str(study), "2"]) == DONE
    (study / "papers" / "02-pricking.svg").unlink()
    capsys.readouterr()
    assert run(["pricking", str(study), "1", "2"]) == BAD_INPUT
    assert "02-pricking.pdf is there already: --force replaces it" in capsys.readouterr().err
    assert not (study / "papers" / "01-pricking.pdf").exists()
    assert run(["pricking", str(study), "2", "--force"]) == DONE


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["9"], "has no square 9; it has 1 to 3; the nearest is 3"),
        (["two"], 'NUMBER is "two"; allowed: the number of a square, such as 3'),
        (["1", "--paper", "leter"], '--paper is "leter" (did you mean letter?); allowed: a4, a3, letter'),
        (["1", "--part", "third"], '--part is "third"; allowed: whole, half, quarter'),
        (["1", "--footside", "rigth"], '--footside is "rigth" (did you mean right?); allowed: left, right'),
        (["1", "--pen", "2"], '--pen is "2"; allowed: a width from 0.3 to 0.7 mm, such as 0.5mm'),
    ],
)
def test_bad_input_is_one_line(study: Path, words: list[str], told: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["pricking", str(study), *words]) == BAD_INPUT
    (line,) = capsys.readouterr().err.splitlines()
    assert told in line
    assert not (study / "papers").exists()


def test_a_file_in_place_of_the_folder_is_refused(study: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (study / "papers").write_text("mine")
    assert run(["pricking", str(study), "1"]) == BAD_INPUT
    assert "papers is not a folder; --out names another folder" in capsys.readouterr().err


def test_numbers_too_small_to_read_are_told(study: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = study / "squares" / "01.json"
    path.write_text(path.read_text().replace('"pitch_mm": 5.0', '"pitch_mm": 2.0'))
    assert run(["pricking", str(study), "1", "--numbers"]) == DONE
    assert "points high at a pitch of 2 mm" in capsys.readouterr().err


def test_what_takes_fewer_pages_does(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    for module in ("gallery.pricking.pages", "explore.papers.pricking"):
        monkeypatch.setattr(f"{module}.MOST_PAGES", 4)
    folder = kept_study(tmp_path / "garden-society", Brief(), [plain_square(1)]).folder
    square_path(folder, 1).write_text(to_text(replace(plain_square(1), pitch_mm=70.0)), "utf-8")
    assert run(["pricking", str(folder), "1"]) == BAD_INPUT
    told = capsys.readouterr().err.strip()
    assert "5 pages of a4, 4 at most" in told
    mends = told.split("; ")[-1].removesuffix(" takes fewer").split(" or ")
    assert mends
    for mend in mends:
        options = [word for each in mend.split(" and ") for word in f"--{each}".split()]
        assert run(["pricking", str(folder), "1", *options, "--out", str(tmp_path / mend)]) == DONE, mend

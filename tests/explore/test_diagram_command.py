"""`stampwork diagram`: the files it makes and what it refuses."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from asked import kept_study
from fakes import plain_square
from pypdf import PdfReader

from constraints.brief import Brief
from constraints.design import Block
from explore.cli import run
from explore.exits import BAD_INPUT, DONE

DIAMOND = ((0, -1), (-1, 0), (1, 0), (0, 1))


@pytest.fixture
def study(tmp_path: Path) -> Path:
    others = [replace(plain_square(number), blocks=(Block("cloth", DIAMOND),)) for number in range(2, 3)]
    return kept_study(tmp_path / "garden-society", Brief.of(count=2), [plain_square(1), *others]).folder


def test_every_square_gets_a_pdf_and_an_svg(study: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["diagram", str(study), "2", "1"]) == DONE
    names = ["01-diagram.pdf", "01-diagram.svg", "02-diagram.pdf", "02-diagram.svg"]
    assert sorted(path.name for path in (study / "papers").iterdir()) == names
    said = capsys.readouterr().out.splitlines()
    assert said[0].startswith("02: 6 pairs, 4 times as large, 2 pages a4: ")


def test_a_name_in_letters_that_the_fonts_lack_is_noted_once(study: Path, capsys: pytest.CaptureFixture[str]) -> None:
    named = study.rename(study.with_name("\u5ead"))
    assert run(["diagram", str(named), "1", "2"]) == DONE
    assert (
        capsys.readouterr()
        .err.splitlines()
        .count("note: the fonts of papers and pictures lack '\u5ead' (U+5EAD): boxes stand for them there")
        == 1
    )
    assert run(["pick", str(named), "2", "--note", "\u5712"]) == DONE
    [said] = [line for line in capsys.readouterr().err.splitlines() if "fonts" in line]
    assert "U+5EAD" in said
    assert "U+5712" in said


def test_the_first_page_explains_and_the_next_one_draws(study: Path) -> None:
    assert run(["diagram", str(study), "2", "--numbers", "--scale", "3", "--footside", "right"]) == DONE
    first, second = (page.extract_text() for page in PdfReader(study / "papers" / "02-diagram.pdf").pages)
    for told in ("Working diagram 02, garden-society", "3 times as large", "from the top right corner", "cloth stitch"):
        assert told in first
    assert "half stitch" not in first
    # All pins, each with its number: half-size 4 has 2 x 4 x 5 pinholes.
    assert {str(number) for number in range(1, 41)} <= set(second.split())


def test_files_are_the_same_again(study: Path) -> None:
    for folder in ("a", "b"):
        assert run(["diagram", str(study), "2", "--numbers", "--out", str(study / folder)]) == DONE
    for name in ("02-diagram.pdf", "02-diagram.svg"):
        assert (study / "a" / name).read_bytes() == (study / "b" / name).read_bytes()


def test_nothing_is_overwritten_without_force(study: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["diagram", str(study), "2"]) == DONE
    capsys.readouterr()
    assert run(["diagram", str(study), "2"]) == BAD_INPUT
    assert "02-diagram.pdf is there already: --force replaces it" in capsys.readouterr().err
    assert run(["diagram", str(study), "2", "--force"]) == DONE


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["9"], "has no square 9; it has 1 to 2; the nearest is 2"),
        (["1", "--scale", "40"], '--scale is "40"; allowed: how many times as large, from 1 to 10, such as 3'),
        (["1", "--paper", "a5"], '--paper is "a5"'),
        (["1", "--footside", "rigth"], '--footside is "rigth" (did you mean right?); allowed: left, right'),
    ],
)
def test_bad_input_is_one_line(study: Path, words: list[str], told: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["diagram", str(study), *words]) == BAD_INPUT
    (line,) = capsys.readouterr().err.splitlines()
    assert told in line
    assert not (study / "papers").exists()

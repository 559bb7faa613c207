"""`stampwork work`: the files it makes and what it refuses."""

from __future__ import annotations

import re
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
    first, second, third = map(plain_square, (1, 2, 3))
    with_block = replace(second, blocks=(Block("cloth", DIAMOND),))
    across = replace(third, worked="across", pairs=2 * third.half_size + 4)
    return kept_study(tmp_path / "garden-society", Brief.of(count=3), [first, with_block, across]).folder


def test_every_square_gets_a_text_and_a_pdf(study: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["work", str(study), "3", "1"]) == DONE
    names = ["01-work.pdf", "01-work.txt", "03-work.pdf", "03-work.txt"]
    assert sorted(path.name for path in (study / "papers").iterdir()) == names
    said = capsys.readouterr().out.splitlines()
    # Half-size 4: 2 x 4 x 5 pinholes.
    assert said[1].startswith("01: 40 pins in ")
    assert "changes of place, 1 page a4: " in said[1] or "2 pages a4: " in said[1]


def test_text_and_page_say_the_same(study: Path) -> None:
    assert run(["work", str(study), "2"]) == DONE
    text = (study / "papers" / "02-work.txt").read_text(encoding="utf-8")
    assert text.startswith("Order of work 02, garden-society\n================================\n")
    assert max(map(len, text.splitlines())) <= 88
    words = "".join(page.extract_text() for page in PdfReader(study / "papers" / "02-work.pdf").pages)
    steps = re.findall(r"^ +\d+  (\S+ ?\S+)", text, re.M)
    assert len(steps) > 5
    bare = re.sub(r"\s", "", words)
    for step in steps:
        assert re.sub(r"\s", "", step) in bare


def test_pins_are_the_same_on_either_hand_and_by_either_method(study: Path) -> None:
    texts = []
    for number, more in enumerate((["--footside", "left"], ["--footside", "right"], ["--method", "open"])):
        out = study / str(number)
        assert run(["work", str(study), "1", "--out", str(out), *more]) == DONE
        texts.append((out / "01-work.txt").read_text(encoding="utf-8"))
    steps = [re.findall(r"^ +\d+  Ground.*$", re.sub(r"left|right", "", text), re.M) for text in texts]
    assert steps[0] == steps[1] == steps[2]
    assert "twist, cross, pin, twist, cross" in re.sub(r"\s+", " ", texts[2])
    assert "The footside is on the right" in re.sub(r"\s+", " ", texts[1])


def test_files_are_the_same_again(study: Path) -> None:
    for folder in ("a", "b"):
        assert run(["work", str(study), "2", "--out", str(study / folder)]) == DONE
    for name in ("02-work.txt", "02-work.pdf"):
        assert (study / "a" / name).read_bytes() == (study / "b" / name).read_bytes()


def test_nothing_is_overwritten_without_force(study: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["work", str(study), "2"]) == DONE
    before = (study / "papers" / "02-work.txt").read_text(encoding="utf-8")
    capsys.readouterr()
    assert run(["work", str(study), "2", "--footside", "right"]) == BAD_INPUT
    assert "02-work.txt is there already: --force replaces it" in capsys.readouterr().err
    assert (study / "papers" / "02-work.txt").read_text(encoding="utf-8") == before
    assert run(["work", str(study), "2", "--footside", "right", "--force"]) == DONE
    assert (study / "papers" / "02-work.txt").read_text(encoding="utf-8") != before


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["9"], "has no square 9"),
        (["one"], "NUMBER"),
        (["1", "--method", "opne"], '--method is "opne" (did you mean open?); allowed: closed, open'),
        (["1", "--footside", "top"], '--footside is "top"'),
        (["1", "--finish", "bows"], "allowed: knots, plaits, fringe"),
        (["1", "--paper", "a3"], "allowed: a4, letter"),
    ],
)
def test_what_cannot_be_taken_is_one_line(
    study: Path, capsys: pytest.CaptureFixture[str], words: list[str], said: str
) -> None:
    assert run(["work", str(study), *words]) == BAD_INPUT
    [line] = capsys.readouterr().err.splitlines()
    assert said in line
    assert not (study / "papers").exists()


def test_a_finish_for_the_last_edge_is_noted_where_there_is_none(
    study: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(["work", str(study), "1", "3", "--finish", "fringe"]) == DONE
    line, _ = capsys.readouterr().err.splitlines()
    assert line.startswith("note: 01 is worked round and ends with sewings")
    assert "fringe" in (study / "papers" / "03-work.txt").read_text(encoding="utf-8")


def test_a_square_that_cannot_be_worked_is_refused(study: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = study / "squares" / "01.json"
    file.write_text(file.read_text(encoding="utf-8").replace('"pairs": 6', '"pairs": 7'), encoding="utf-8")
    assert run(["work", str(study), "1"]) == BAD_INPUT
    assert "01 fails the check, so it cannot be worked: pairs: " in capsys.readouterr().err

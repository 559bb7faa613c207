"""`stampwork compare`: the table, the page, and what it refuses."""

from __future__ import annotations

import json
import re
from dataclasses import replace
from pathlib import Path

import pytest
from asked import kept_study
from designs import diamond_print
from fakes import plain_square

from constraints import forms
from constraints.brief import Brief
from constraints.design import Block, Design
from explore.cli import run
from explore.editing.comparing.page import page_files, write_page
from explore.editing.comparing.pair import pair_of
from explore.exits import BAD_INPUT, DONE
from gallery.sheets.captions import facts

DIAMOND = ((0, -1), (-1, 0), (1, 0), (0, 1))
PAGE = ["compare-01-02.pdf", "compare-01-02.png", "compare-01-02.svg"]


def with_diamond(number: int, stitch: str = "cloth") -> Design:
    return replace(plain_square(number), blocks=(Block(stitch, DIAMOND),))


@pytest.fixture
def study(tmp_path: Path) -> Path:
    designs = [plain_square(1), with_diamond(2), with_diamond(3, "half")]
    return kept_study(tmp_path / "garden-society", Brief.of(count=3), designs).folder


def listed(folder: Path, number: int) -> dict[tuple[int, int], str]:
    """Block places and their stitch, from the file alone."""
    data = json.loads((folder / "squares" / f"{number:02d}.json").read_text())
    return {(x, y): block["stitch"] for block in data["blocks"] for x, y in block["pinholes"]}


def test_says_what_differs_as_the_files_say(study: Path, capsys: pytest.CaptureFixture[str]) -> None:
    for first, second in ((1, 2), (2, 1), (2, 3)):
        one, other = listed(study, first), listed(study, second)
        assert run(["compare", str(study), str(first), str(second)]) == DONE
        said = capsys.readouterr().out
        amounts = {
            f"block in {second:02d} only": len(other.keys() - one.keys()),
            f"block in {first:02d} only": len(one.keys() - other.keys()),
            "alike, in another stitch or with other legs": sum(one[p] != other[p] for p in one.keys() & other.keys()),
        }
        for words, amount in amounts.items():
            line = re.search(rf"{words} +(\d+) pinholes, ", said)
            assert (int(line[1]) if line else 0) == amount
        total = sum(amounts.values())
        assert f"{total} pinholes, {100 * total / 40:.1f}%" in said
        assert said.splitlines()[1].split() == ["pairs", "6", "6"]


def test_the_page_lies_in_the_study_and_is_not_replaced_unasked(
    study: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(["compare", str(study), "1", "2"]) == DONE
    assert sorted(path.name for path in study.glob("compare*")) == PAGE
    before = {name: (study / name).read_bytes() for name in PAGE}
    capsys.readouterr()
    assert run(["compare", str(study), "1", "2", "--look", "lace"]) == BAD_INPUT
    assert "is there already: --force replaces it" in capsys.readouterr().err
    assert {name: (study / name).read_bytes() for name in PAGE} == before
    assert run(["compare", str(study), "1", "2", "--force"]) == DONE
    assert {name: (study / name).read_bytes() for name in PAGE} == before
    assert run(["compare", str(study), "1", "2", "--look", "lace", "--out", str(study.parent / "new")]) == DONE
    assert sorted(path.name for path in (study.parent / "new").iterdir()) == PAGE


def test_the_second_may_lie_in_another_study(study: Path, capsys: pytest.CaptureFixture[str]) -> None:
    other = study.parent / "greenhouse"
    kept_study(other, Brief(), [replace(plain_square(1), form=forms.Square(6), pairs=8)])
    assert run(["compare", str(study), "1", "1", "--with", str(other)]) == DONE
    said = capsys.readouterr().out
    assert "garden-society 01" in said
    assert "half-sizes 4 and 6: compared centre on centre on the 40 pinholes of the smaller" in said
    assert "the same, pinhole for pinhole" in said
    assert (study / "compare-01-greenhouse-01.png").exists()


@pytest.mark.parametrize(
    ("words", "message"),
    [
        (["1", "9"], "has no square 9; it has 1 to 3; the nearest is 3"),
        (["1", "1"], "give two numbers"),
        (["1", "two"], 'NUMBER is "two"; allowed: the number of a square'),
        (["0", "2"], 'NUMBER is "0"'),
        (["1"], "NUMBER"),
        (["1", "2", "--look", "lase"], "did you mean lace?"),
        (["1", "2", "--with", "no-such-study"], "there is no folder no-such-study"),
    ],
)
def test_what_cannot_be_compared_gets_one_line(
    study: Path, words: list[str], message: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(["compare", str(study), *words]) == BAD_INPUT
    said = capsys.readouterr()
    assert message in said.err
    assert said.err.count("\n") == 1
    assert not list(study.glob("compare*"))


def test_what_is_told_of_a_square_shown_turned_is_what_it_is_as_it_lies(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Turned it has its print no longer where its blocks are."""
    above, below = (
        Block("cloth", tuple(sorted(((x, y + by) for x, y in DIAMOND), key=lambda p: (p[1], p[0])))) for by in (-2, 2)
    )
    first = replace(plain_square(1), symmetry="none", blocks=(below,))
    second = replace(first, number=2, blocks=(above,), prints=(diamond_print((0.0, -2.0), 2.0),))
    folder = kept_study(tmp_path / "turned", Brief.of(count=2), [first, second]).folder
    captions: list[tuple[str, ...]] = []
    monkeypatch.setattr("gallery.sheets.differences.draw", lambda *_, **told: captions.append(told["captions"]))
    monkeypatch.setattr("gallery.paper.page.write", lambda *_: None)
    pair = pair_of(folder, 1, 2, None)
    assert pair.found.second != pair.designs[1]
    write_page(pair, page_files(pair, None, False), "diagram", "a4")
    assert captions == [(facts(first), facts(second))]
    assert facts(second) != facts(pair.found.second)

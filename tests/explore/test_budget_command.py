"""The command that surveys budgets: what it writes, what it says of rows and of words that cannot be."""

import json
import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from constraints.brief import Brief
from explore.editing.budget.survey import Survey
from explore.storage.study import open_study

Ask = Callable[..., tuple[int, list[str], list[str]]]


@pytest.fixture
def ask(ask: Ask, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Ask:
    """Run the command in a folder of its own; its exit code, the lines on stdout and those on stderr."""
    monkeypatch.chdir(tmp_path)
    return lambda *arguments: ask("budget", *arguments)


def test_the_command_writes_a_study_with_plot_sheet_and_record(ask: Ask) -> None:
    words = ["--no-stamp", "--pairs", "8-9", "--symmetry", "half-turn", "--effort", "0.1", "--cores", "1"]
    status, lines, errors = ask(*words)
    assert (status, errors) == (0, [])
    assert [line.split()[0] for line in lines[:3]] == ["pairs", "8", "9"]
    folder = Path("patterns-budget")
    there = {path.name for path in folder.iterdir()}
    assert {f"{name}.{ending}" for name in ("budget", "sheet") for ending in ("png", "svg", "pdf")} <= there
    data: dict[str, Any] = json.loads((folder / "budget.json").read_text())
    study = open_study(folder)
    assert study.made_by == {"command": "budget", "budgets": "8-9"}
    numbers = [number for row in data["rows"] for number in row["squares"]]
    assert numbers == [design.number for design in study.designs]
    before = {path.name: path.read_bytes() for path in folder.iterdir() if path.is_file()}
    status, lines, errors = ask(*words, "--out", "patterns-budget")
    assert (status, lines) == (2, [])
    assert errors == [
        "stampwork: patterns-budget holds a study already: --force replaces it, --out names another folder"
    ]
    assert ask(*words, "--force")[0] == 0
    assert {path.name: path.read_bytes() for path in folder.iterdir() if path.is_file()} == before
    status, lines, errors = ask(*words)
    assert (status, errors) == (0, ["note: patterns-budget is there already, so this is patterns-budget-2"])
    assert lines[-1].endswith("plot: patterns-budget-2/budget.png, sheet: patterns-budget-2/sheet.png")


def test_an_impossible_row_says_why(ask: Ask) -> None:
    status, lines, _ = ask(
        "--no-stamp", "--pairs", "8-10", "--width", "40mm", "--effort", "0.3", "--cores", "1", "--out", "wide"
    )
    assert status == 0
    assert re.split(" {2,}", lines[1])[-1] == ("8 pairs at a 5 mm pitch give at most 30 mm, 40 mm is asked for")
    data = json.loads(Path("wide/budget.json").read_text())
    assert data["rows"][0]["reason"].startswith("8 pairs at a 5 mm pitch")
    assert data["budgets"][0]["measures"] is None
    assert data["stamps"] == []


@pytest.mark.parametrize(
    ("words", "status", "told"),
    [
        (["--pairs", "30-20"], 2, '--pairs is "30-20" (the range is upside down)'),
        (["--pairs", "many"], 2, "allowed: a whole number from 2 to 2000, or a range such as 20-28"),
        (["--pairs", "1"], 2, "allowed: a whole number from 2 to 2000"),
        (["--every", "0"], 2, '--every is "0"'),
        (["--half-size", "9", "--width", "40mm"], 2, "--width and --half-size are both given"),
        (["--no-stamp", "--pairs", "2"], 3, "2 pairs are too few for any square"),
        (["--no-stamp", "--pairs", "8-10", "--width", "60mm"], 3, "10 pairs at a 5 mm pitch give at most 40 mm"),
        (["tulp"], 2, "did you mean tulip?"),
        (["--look", "photo"], 2, "allowed: drawing, lace"),
        (["--out", "notes.txt"], 2, "notes.txt is not a folder"),
        (["--no-stamp", "--pairs", "9", "--stitches", "cloth,spider:60"], 4, "what mends it: --stitches cloth,spider"),
    ],
    ids=lambda value: " ".join(value) if isinstance(value, list) else "",
)
def test_what_cannot_be_is_one_line_and_leaves_nothing(words: list[str], status: int, told: str, ask: Ask) -> None:
    Path("notes.txt").write_text("keep")
    ended, lines, errors = ask(*words)
    assert (ended, lines, len(errors)) == (status, [], 1)
    assert told in errors[0]
    assert [path.name for path in Path().iterdir()] == ["notes.txt"]


def test_pairs_of_a_brief_end_the_range(ask: Ask, monkeypatch: pytest.MonkeyPatch) -> None:
    asked: list[tuple[int, int]] = []

    def noted(brief: Brief, stamp: object, budgets: tuple[int, int], *rest: object) -> Survey:
        asked.append(budgets)
        raise KeyboardInterrupt

    monkeypatch.setattr("explore.editing.budget.survey.survey", noted)
    Path("few.toml").write_text("pairs = 12\n")
    for words in ([], ["--brief", "few.toml"], ["--brief", "few.toml", "--pairs", "20-24"], ["--pairs", "24"]):
        with pytest.raises((KeyboardInterrupt, SystemExit)):
            raise_on_stop(ask, words)
    assert asked == [(16, 30), (12, 12), (20, 24), (24, 24)]


def raise_on_stop(ask: Ask, words: list[str]) -> None:
    """Run the command; one that Ctrl-C ended is stopped here too."""
    if ask(*words)[0] == 130:
        raise KeyboardInterrupt

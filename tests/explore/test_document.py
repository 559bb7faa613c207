"""--json: one document on stdout, with the keys that the guide lists, of every command and of every refusal."""

from __future__ import annotations

import json
import re
import shlex
from contextlib import chdir
from pathlib import Path
from typing import Any

import pytest
from asked import Ask
from every_command import COMMANDS, SQUARES, garden_with_studies, make_series_small

from constraints.design_file import from_text
from explore import cli, document, menu
from explore.exits import BAD_INPUT, CHECK_FAILED, DONE, IMPOSSIBLE, Outcome

GUIDE = (Path(__file__).parents[2] / "explore" / "guides" / "scripts.md").read_text(encoding="utf-8")
ALWAYS = {"stampwork", "command", "files", "next"}
FIGURES = "a piece's figures"

Keys = dict[str, set[str]]


def spans(text: str) -> list[str]:
    """What stands between backticks."""
    return re.findall(r"`([^`]*)`", text)


def documented() -> dict[str, Keys]:
    """By command: every key that the guide lists, with those of its rows; of what has no rows none."""
    figures = set(spans(re.sub(r"\s+", " ", GUIDE).partition(f"*{FIGURES}* are")[2].partition(".")[0]))
    found: dict[str, Keys] = {}
    commands: list[str] = []
    for line in GUIDE.partition("| command | key |")[2].splitlines():
        cells = [cell.strip() for cell in line.strip("|").split("|")]
        if len(cells) != 3 or not spans(cells[1]):
            continue
        commands = spans(cells[0]) or commands
        own = (figures if FIGURES in cells[2] else set()) | set(spans(cells[2]))
        for command in commands:
            for key in spans(cells[1]):
                rows = {each for each in own if not each.startswith("-")} if key.endswith("[]") else set()
                found.setdefault(command, {})[key.removesuffix("[]")] = rows
    return found


def test_the_guide_lists_every_command() -> None:
    assert set(documented()) == set(menu.COMMANDS)
    assert documented()["pick"]["picks"] >= {"number", "width_mm", "known", "note"}
    assert f"| `stampwork` | {document.VERSION}, the version" in GUIDE


@pytest.fixture(scope="module")
def studies(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return garden_with_studies(tmp_path_factory.mktemp("garden"))


@pytest.mark.parametrize("command", COMMANDS)
def test_every_command_tells_what_the_guide_lists(
    studies: Path, command: str, capfd: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    make_series_small(monkeypatch)
    words = shlex.split(command)
    with chdir(studies):
        assert cli.run([*words, "--json"]) == DONE
        out, err = capfd.readouterr()
        told = json.loads(out)
        assert (told["stampwork"], told["command"]) == (document.VERSION, words[0])
        assert all(Path(file).is_file() for file in told["files"])
    keys = documented()[words[0]]
    assert set(told) == ALWAYS | set(keys)
    for key, own in keys.items():
        for row in told[key] if own else ():
            assert set(row) == own, key
    assert any(told[key] for key in keys)
    # The next command is the one that is told in words.
    assert shlex.split(err.splitlines()[-1])[2:] == told["next"]


def test_the_figures_are_those_of_the_squares(studies: Path, capsys: pytest.CaptureFixture[str]) -> None:
    with chdir(studies):
        assert cli.run(["pick", SQUARES, "1", "2", "--force", "--json", "-q"]) == DONE
        told, errors = capsys.readouterr()
        for row in json.loads(told)["picks"]:
            design = from_text(Path(SQUARES, "squares", f"{row['number']:02d}.json").read_text())
            assert (row["pairs"], row["pitch_mm"], row["form"]) == (design.pairs, design.pitch_mm, "square")
            # The guide to files: `half_size` is its width in pitches.
            assert row["width_mm"] == row["height_mm"] == design.half_size * design.pitch_mm
    assert errors == ""


def refused(ask: Ask, *words: str) -> tuple[int, dict[str, Any], list[str]]:
    status, lines, errors = ask(*words, "--json")
    return status, json.loads("\n".join(lines)), errors


@pytest.mark.usefixtures("garden")
def test_a_refusal_is_a_document_too_and_a_line_on_stderr(ask: Ask) -> None:
    for words, status, code in (
        (("check", "nowhere"), BAD_INPUT, "bad-input"),
        (("count", "--pairs", "many"), BAD_INPUT, "bad-input"),
        (("count", "--pears", "9"), BAD_INPUT, "usage"),
        (("count", "--pairs", "12", "--width", "900mm"), IMPOSSIBLE, "impossible"),
    ):
        ended, told, errors = refused(ask, *words)
        message = told["error"]["message"]
        assert (ended, told["command"], told["error"]["code"]) == (status, words[0], code)
        assert set(told) == {"stampwork", "command", "error"}
        assert errors == [f"stampwork: {message}"]


@pytest.mark.usefixtures("garden")
def test_a_check_that_fails_is_told_with_its_findings(ask: Ask) -> None:
    Path("torn.json").write_text("{")
    status, told, _ = refused(ask, "check", "torn.json")
    (row,) = told["checked"]
    assert (status, row["holds"], row["damaged"], row["called"]) == (CHECK_FAILED, False, True, "torn.json")
    assert row["findings"]


def test_values_are_told_as_json_has_them() -> None:
    told = json.loads(document.of_outcome("fit", Outcome(told={"a": (0.1 + 0.2, float("inf")), "b": Path("x")}), ()))
    assert told == {"stampwork": 1, "command": "fit", "a": [0.3, None], "b": "x", "files": [], "next": []}
    with pytest.raises(TypeError, match="nothing that JSON has"):
        document.of_outcome("fit", Outcome(told={"a": object()}), ())

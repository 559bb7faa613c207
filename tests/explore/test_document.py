"""--json: one document on stdout, with the keys that the guide lists, of every command and of every refusal."""

from __future__ import annotations

import ast
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
from explore import cli, document, exits, menu
from explore.exits import BAD_INPUT, CHECK_FAILED, DONE, IMPOSSIBLE, Outcome

ROOT = Path(__file__).parents[2]
GUIDE = (ROOT / "explore" / "guides" / "scripts.md").read_text(encoding="utf-8")
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
    for line in GUIDE.partition("| command | key |")[2].partition("\n## ")[0].splitlines():
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
@pytest.mark.parametrize(
    ("words", "status", "about"),
    [
        ("check nowhere", BAD_INPUT, {"code": "file-missing", "path": "nowhere", "ways_out": []}),
        ("page nowhere", BAD_INPUT, {"code": "study-missing", "path": "nowhere", "ways_out": []}),
        ("count --pairs many", BAD_INPUT, {"code": "value", "place": "--pairs", "ways_out": []}),
        ("count --pears 9", BAD_INPUT, {"code": "usage"}),
        ("explore gone.svg", BAD_INPUT, {"code": "stamp", "stamp": "gone.svg", "ways_out": []}),
        ("explore --half-size 9 --width 90mm", BAD_INPUT, {"code": "brief", "ways_out": []}),
        ("count --pairs 12 --width 900mm", IMPOSSIBLE, {"code": "impossible-size"}),
    ],
)
def test_a_refusal_is_a_document_too_and_a_line_on_stderr(
    ask: Ask, words: str, status: int, about: dict[str, Any]
) -> None:
    ended, told, errors = refused(ask, *words.split())
    error = told["error"]
    assert (ended, told["command"], {key: error[key] for key in about}) == (status, words.split()[0], about)
    assert set(told) == {"stampwork", "command", "error", *(["mends"] if status == IMPOSSIBLE else [])}
    assert errors == [f"stampwork: {error['message']}"]


@pytest.mark.usefixtures("garden")
def test_what_mends_a_refusal_is_told_as_options_that_mend_it(ask: Ask) -> None:
    words = ["count", "--pairs", "12", "--width", "90mm"]
    _, told, errors = refused(ask, *words)
    assert told["mends"]
    for mend in told["mends"]:
        options = [word for name, text in mend.items() for word in (f"--{name.replace('_', '-')}", text)]
        assert " ".join(options) in errors[0]
        assert refused(ask, *words, *options)[0] == DONE


@pytest.mark.usefixtures("garden", "search")
def test_a_place_that_is_taken_is_told_with_the_ways_out_and_each_is_one(ask: Ask) -> None:
    words = ["explore", "kite.svg", "--count", "1", "--out", "kites"]
    assert ask(*words)[0] == DONE
    status, told, errors = refused(ask, *words)
    assert (status, told["error"]["code"], told["error"]["path"]) == (BAD_INPUT, "taken", "kites")
    assert told["error"]["ways_out"] == ["add-squares", "replace", "elsewhere"]
    options = "--more 12 adds squares to it, --force replaces it, --out names another folder"
    assert errors == [f"stampwork: kites holds a study already: {options}"]
    assert ask("explore", "kites", "--more", "1")[0] == ask(*words, "--force")[0] == DONE
    assert ask(*words[:-1], "others")[0] == DONE


def given_as_code(node: ast.AST) -> list[ast.expr]:
    """What stands in a module as the code of a refusal."""
    match node:
        case ast.Call(func=ast.Name(name), args=[_, code, *_]) if re.search("Error$|^BadInput$", name):
            return [code]
        case ast.Call(func=ast.Name("CommandEnd" | "Impossible" | "refused" | "refused_brief"), args=args):
            return [*args, *(each.value for each in node.keywords if each.arg == "code")]
        case ast.ClassDef():
            return [
                each.value
                for each in node.body
                if isinstance(each, ast.Assign) and ast.unparse(each.targets[0]) == "code"
            ]
    return []


def test_the_guide_lists_every_code() -> None:
    found = set(exits._CODES.values())
    for path in (ROOT / "explore").rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            found |= {
                each.value
                for each in given_as_code(node)
                if isinstance(each, ast.Constant) and re.fullmatch("[a-z]+(-[a-z]+)*", str(each.value))
            }
    rows = re.findall(r"^\| (`.*?) \| (?:[234]|130) \|", GUIDE, re.MULTILINE)
    # What an Impossible is unless it says otherwise.
    assert {code for row in rows for code in spans(row)} == found | {"impossible-rules"}


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

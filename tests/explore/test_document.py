"""--json: one document on stdout, of every refusal too; test_every_command.py looks at those of all commands."""

from __future__ import annotations

import ast
import json
import re
from pathlib import Path
from typing import Any

import pytest
from asked import Ask
from scripts_guide import GUIDE, ROOT, spans

from explore import document, exits
from explore.exits import BAD_INPUT, CHECK_FAILED, DONE, IMPOSSIBLE, Outcome


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
        ("count --pairs 6 --width 900mm", IMPOSSIBLE, {"code": "impossible-size"}),
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
    words = ["count", "--pairs", "6", "--width", "30mm"]
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

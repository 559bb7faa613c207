"""What lies where, and how it is written: names, texts and lengths that hold all over the house."""

import ast
import re
from pathlib import Path

import pytest
from sources import MODULES, ROOT, tracked, unignored

TOP = {"README.md", "DEVELOPERS.md", "pyproject.toml", "explore", "tests", "constraints", "gallery"}


def test_without_git_what_is_ignored_does_not_belong(tmp_path: Path) -> None:
    ignored = ("explore/__pycache__/cli.pyc", ".venv/bin/python", "tulip-study/sheet.png")
    for name in ("README.md", "explore/cli.py", *ignored):
        (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / name).touch()
    assert sorted(unignored(tmp_path)) == ["README.md", "explore/cli.py"]


def test_the_top_level_holds_what_it_should() -> None:
    top = {name.split("/")[0] for name in tracked()}
    assert {name for name in top if not name.startswith(".")} == TOP


def test_no_file_names_a_place_on_this_machine() -> None:
    places = {ROOT, Path.home()} - {Path("/")}
    words = re.compile("|".join(rf"(?<![\w.]){re.escape(str(place))}(?![\w-])" for place in places))
    for name in tracked():
        text = (ROOT / name).read_bytes().decode("utf-8", "replace")
        assert not words.search(text), name


def test_no_two_classes_have_one_name() -> None:
    """Nor have types that are given names, in the packages that know no command."""
    found: dict[str, list[str]] = {}
    named: dict[str, list[str]] = {}
    for name, path in MODULES.items():
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            match node:
                case ast.ClassDef(name=own):
                    found.setdefault(own, []).append(name)
                case ast.Assign(targets=[ast.Name(own)]) if re.fullmatch("[A-Z][A-Za-z]*[a-z][A-Za-z]*", own):
                    named.setdefault(own, []).append(name)
    assert {name: where for name, where in found.items() if len(where) > 1} == {}
    for name, where in named.items():
        below = [each for each in (*where, *found.get(name, [])) if not each.startswith("explore.")]
        assert len(below) < 2, (name, below)


# What speaks of options: it reads them, offers them, or tells what a command found.
OF_OPTIONS = ("commands", "asking", "mending", "guides")
OPTION_MODULES = {
    "explore.cli", "explore.start", "explore.menu", "explore.options", "explore.ending", "explore.terminal",
    "explore.storage.request", "explore.editing.counts_told", "explore.studio.typed",
    "explore.editing.redrafting.telling",
}  # fmt: skip


def texts(tree: ast.AST) -> list[str]:
    """The texts of a module that are no docstrings."""
    told = [node.value for node in ast.walk(tree) if isinstance(node, ast.Expr)]
    return [
        node.value
        for node in ast.walk(tree)
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and node not in told
    ]


def test_the_command_line_alone_speaks_of_options() -> None:
    """Others name what was given; a command line puts its option before it (`BadInput.of`)."""
    told = {}
    for name, path in MODULES.items():
        parts = name.split(".")
        if parts[0] == "explore" and len(parts) > 1 and parts[1] in OF_OPTIONS:
            continue
        if name in OPTION_MODULES or parts[-1] == "door":
            continue
        found = [
            text for text in texts(ast.parse(path.read_text(encoding="utf-8"))) if re.search(r"(?<!\S)--[a-z]", text)
        ]
        if found:
            told[name] = found
    assert told == {}


# Rooms of one kind of thing, one a file.
ONE_A_FILE = {
    "constraints.rules", "constraints.fillings", "constraints.check.fillings", "constraints.forms", "explore.commands",
}  # fmt: skip


@pytest.mark.parametrize("room", sorted(name for name in MODULES if MODULES[name].name == "__init__.py"))
def test_every_room_says_what_each_of_its_modules_is(room: str) -> None:
    inside = {name.rsplit(".", 1)[1] for name in MODULES if name.rpartition(".")[0] == room}
    told = ast.get_docstring(ast.parse(MODULES[room].read_text(encoding="utf-8"))) or ""
    if room not in ONE_A_FILE and room.count(".") + (room != "explore"):
        assert inside - set(re.findall(r"`(\w+)`", told)) == set()


# Lines that do something, of a function of the commands; imports count.
LONGEST_BODY = 25


def body_lines(function: ast.FunctionDef, text: str) -> int:
    """How many lines a body has, its docstring and what is blank left out."""
    first = function.body[1 if ast.get_docstring(function) is not None else 0 :]
    lines = text.splitlines()[first[0].lineno - 1 : function.end_lineno] if first else []
    return sum(1 for line in lines if line.strip())


@pytest.mark.parametrize("name", [name for name in MODULES if name.startswith("explore.commands.")])
def test_commands_are_short(name: str) -> None:
    """What is work lies in the rooms behind them."""
    text = MODULES[name].read_text(encoding="utf-8")
    functions = [node for node in ast.walk(ast.parse(text)) if isinstance(node, ast.FunctionDef)]
    assert {each.name: body_lines(each, text) for each in functions if body_lines(each, text) > LONGEST_BODY} == {}


def test_the_counter_of_lines_leaves_out_docstrings_and_blank_lines() -> None:
    text = 'def f(\n    a,\n):\n    """Words\n\n    more."""\n    b = [\n        1,\n    ]\n\n    return b\n'
    (function,) = ast.parse(text).body
    assert isinstance(function, ast.FunctionDef)
    assert body_lines(function, text) == 4

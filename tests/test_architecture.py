"""How the rooms may lean on each other, and what lies where."""

import ast
import re
import shutil
import subprocess
import sys
import tomllib
from collections.abc import Iterator
from fnmatch import fnmatch
from functools import cache
from importlib import metadata
from pathlib import Path

import pytest

from constraints import forms

ROOT = Path(__file__).parents[1]
ROOMS = ("constraints", "gallery", "explore")  # each may use those before it
TOP = {"README.md", "DEVELOPERS.md", "pyproject.toml", "explore", "tests", "constraints", "gallery"}
# What a package is imported as, where that is not its name.
IMPORTED_AS = {"fonttools": "fontTools", "pillow": "PIL", "tomli-w": "tomli_w"}
# Used, and installed as part of what the program asks for.
COMES_WITH = {"rich": "typer", "contourpy": "matplotlib"}
MODULES = {
    ".".join(path.relative_to(ROOT).with_suffix("").parts).removesuffix(".__init__"): path
    for room in ROOMS
    for path in sorted((ROOT / room).rglob("*.py"))
}


@cache
def imported(name: str) -> frozenset[str]:
    """Every module or package that a module of ours names in an import, wherever in it stands, but for types alone."""
    return frozenset(_imports(_without_types(ast.parse(MODULES[name].read_text(encoding="utf-8")))))


def _without_types(tree: ast.Module) -> ast.Module:
    """A module without what it imports for its types alone, which never runs."""
    kept = [each for each in tree.body if not (isinstance(each, ast.If) and ast.unparse(each.test) == "TYPE_CHECKING")]
    return ast.Module(kept, [])


def _imports(tree: ast.AST) -> Iterator[str]:
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, "imports are written in full"
            assert node.module is not None
            yield node.module
            yield from (f"{node.module}.{alias.name}" for alias in node.names)


def reached(*starts: str) -> set[str]:
    """Everything that the modules lead to, through modules of ours."""
    found: set[str] = set()
    waiting = list(starts)
    while waiting:
        name = waiting.pop()
        if name not in found:
            found.add(name)
            waiting += imported(name) if name in MODULES else []
    return found


def bare(requirement: str) -> str:
    """The name alone in a requirement such as "numpy>=2 ; extra == 'x'"."""
    return re.split(r"[^\w-]", requirement)[0]


def tracked() -> list[str]:
    """The files that belong to the project: those git knows, in an archive all that .gitignore does not name."""
    if not (ROOT / ".git").exists() or shutil.which("git") is None:
        return unignored(ROOT)
    listed = ["git", "-c", f"safe.directory={ROOT}", "ls-files", "-z"]
    done = subprocess.run(listed, cwd=ROOT, capture_output=True, text=True, check=True)
    return [name for name in done.stdout.split("\0") if name]


def unignored(root: Path) -> list[str]:
    lines = (ROOT / ".gitignore").read_text().splitlines()
    patterns = [line.strip("/") for line in lines if line and not line.startswith("#")]
    files = (path.relative_to(root) for path in root.rglob("*") if path.is_file())
    return [
        str(file) for file in files if not any(fnmatch(part, each) for part in file.parts[:-1] for each in patterns)
    ]


def test_without_git_what_is_ignored_does_not_belong(tmp_path: Path) -> None:
    ignored = ("explore/__pycache__/cli.pyc", ".venv/bin/python", "tulip-study/sheet.png")
    for name in ("README.md", "explore/cli.py", *ignored):
        (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / name).touch()
    assert sorted(unignored(tmp_path)) == ["README.md", "explore/cli.py"]


def test_the_reader_of_imports_sees_every_kind() -> None:
    text = "import a.b\nif TYPE_CHECKING:\n    import z\nfrom c import d\ndef f():\n    from e.f import g as h\n"
    assert set(_imports(_without_types(ast.parse(text)))) == {"a.b", "c", "c.d", "e.f", "e.f.g"}


@pytest.mark.parametrize("name", MODULES)
def test_imports_run_one_way(name: str) -> None:
    room = name.split(".")[0]
    used = {each.split(".")[0] for each in imported(name)}
    assert not used & set(ROOMS[ROOMS.index(room) + 1 :])
    assert "tests" not in used


@pytest.mark.parametrize("name", [name for name in MODULES if re.match(r"constraints\.(check|flow)\b", name)])
def test_the_second_check_knows_neither_the_solver_nor_the_rules(name: str) -> None:
    shared = {"ortools", "constraints.rules", "constraints.rulebook", "constraints.solver", "constraints.formula"}
    for each in reached(name):
        assert not any(each == other or each.startswith(f"{other}.") for other in shared), each


@pytest.mark.parametrize("name", [name for name in MODULES if re.match(r"constraints\.check\b", name)])
def test_the_second_check_reads_of_fillings_what_they_are_and_nothing_that_they_ask_or_do(name: str) -> None:
    data = {"ALLOWED", "FILLINGS", "GROUNDS", "OF_KIND"}
    whole = "constraints.fillings."
    used = {each.removeprefix(whole) for each in imported(name) if each.startswith(whole)}
    assert used <= data
    parts = {node.attr for node in ast.walk(ast.parse(MODULES[name].read_text())) if isinstance(node, ast.Attribute)}
    assert not parts & {"rules", "work", "moves", "moves_at", "laying", "told"}


def test_the_solver_is_met_in_one_place() -> None:
    assert [name for name in MODULES if any(each.startswith("ortools") for each in imported(name))] == [
        "constraints.solver"
    ]


def asked_which_form(text: str) -> list[str]:
    """Where a module asks for the class or the name of a form, by isinstance, type, a class pattern or a comparison."""
    tree = ast.parse(text)
    called = {}
    for node in ast.walk(tree):
        if isinstance(node, ast.ImportFrom) and node.module in ("constraints", "constraints.forms"):
            called |= {alias.asname or alias.name: alias.name for alias in node.names}
    classes = {each.__name__ for each in (*forms.FORMS.values(), forms.Oblong)}

    def of_a_form(node: ast.AST) -> bool:
        """Whether an expression is the class of a form, or several with one among them."""
        match node:
            case ast.Name():
                return called.get(node.id) in classes
            case ast.Attribute(value=ast.Name(id=module)):
                return node.attr in classes and called.get(module) == "forms"
            case ast.BinOp():
                return of_a_form(node.left) or of_a_form(node.right)
            case ast.Tuple():
                return any(map(of_a_form, node.elts))
        return False

    def compared(node: ast.Compare) -> bool:
        """Whether a class of a form, or the name of one, is held against something."""
        sides = [node.left, *node.comparators]
        named = [each.value for each in sides if isinstance(each, ast.Attribute) and each.attr == "name"]
        return any(map(of_a_form, (*sides, *named))) or bool(re.search(r"\bform\b[^()]*'[a-z]+'$", ast.unparse(node)))

    found = []
    for node in ast.walk(tree):
        match node:
            case ast.Call(func=ast.Name(id="isinstance" | "issubclass"), args=[_, kinds]) if of_a_form(kinds):
                found.append(ast.unparse(node))
            case ast.Compare() if compared(node):
                found.append(ast.unparse(node))
            case ast.MatchClass() if of_a_form(node.cls):
                found.append(ast.unparse(node))
    return found


def test_the_finder_of_such_questions_sees_every_kind() -> None:
    text = (
        "from constraints import forms\nfrom constraints.forms import Strip, Frame as Band\n"
        "a = isinstance(form, Strip)\nb = isinstance(form, forms.Square | Band)\nc = type(form) is Band\n"
        "d = brief.form == forms.Strip.name\ne = brief.form != 'square'\nmatch form:\n    case Strip():\n        pass\n"
        "f = isinstance(mark, Lines)\ng = form.name\nh = form.repeating is None\n"
    )
    assert len(asked_which_form(text)) == 6


def test_hardly_anyone_outside_the_room_of_forms_asks_which_form_a_piece_has() -> None:
    others = [path for name, path in MODULES.items() if not name.startswith("constraints.forms")]
    found = {str(path): asked_which_form(path.read_text(encoding="utf-8")) for path in others}
    assert sum(map(len, found.values())) <= 2, {path: asked for path, asked in found.items() if asked}


def test_what_is_imported_is_installed_with_the_program() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text())["project"]
    declared = {IMPORTED_AS.get(name, name) for name in map(bare, project["dependencies"])}
    for name, other in COMES_WITH.items():
        assert other in declared
        assert name in map(bare, metadata.requires(other) or [])
    used = {each.split(".")[0] for name in MODULES for each in imported(name)}
    assert used - set(sys.stdlib_module_names) - set(ROOMS) == declared | set(COMES_WITH)


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
    "explore.storage.request", "explore.editing.counts_told", "explore.editing.redrafting.telling",
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


# The rooms of the upper floor, each of which may use those before it.
UPPER = ("reading", "search", "serving", "asking", "storage", "mending", "editing", "papers", "commands")
IN_UPPER = [name for name in MODULES if name.startswith("explore.") and name.split(".")[1] in UPPER[:-1]]


@pytest.mark.parametrize("name", sorted(IN_UPPER))
def test_rooms_of_the_upper_floor_import_downwards(name: str) -> None:
    """How files are read and lines are set, and what is said of what cannot be taken, is everybody's."""
    below = UPPER[: UPPER.index(name.split(".")[1]) + 1]
    ours = {each for each in imported(name) if each in MODULES and each.startswith("explore.")}
    assert {each for each in ours if each.split(".")[1] not in (*below, "bad_input", "files", "lines")} == set()


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

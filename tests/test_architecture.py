"""How the rooms may lean on each other."""

import ast
import re
import sys
import tomllib
from importlib import metadata

import pytest
from sources import MODULES, ROOMS, ROOT, imported, imports_of, without_types

from constraints import forms

# What a package is imported as, where that is not its name.
IMPORTED_AS = {"fonttools": "fontTools", "pillow": "PIL", "scikit-learn": "sklearn", "tomli-w": "tomli_w"}
# Used, and installed as part of what the program asks for.
COMES_WITH = {"rich": "typer", "contourpy": "matplotlib"}


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


def test_the_reader_of_imports_sees_every_kind() -> None:
    text = "import a.b\nif TYPE_CHECKING:\n    import z\nfrom c import d\ndef f():\n    from e.f import g as h\n"
    assert set(imports_of(without_types(ast.parse(text)))) == {"a.b", "c", "c.d", "e.f", "e.f.g"}


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


# The rooms of the upper floor, each of which may use those before it.
UPPER = ("reading", "search", "serving", "asking", "storage", "mending", "editing", "papers", "studio", "commands")
IN_UPPER = [name for name in MODULES if name.startswith("explore.") and name.split(".")[1] in UPPER[:-1]]


@pytest.mark.parametrize("name", sorted(IN_UPPER))
def test_rooms_of_the_upper_floor_import_downwards(name: str) -> None:
    """How files are read and lines are set, and what is said of what cannot be taken, is everybody's. The studio tells
    what she would have typed."""
    below = UPPER[: UPPER.index(name.split(".")[1]) + 1]
    below += ("options", "program") if name == "explore.studio.typed" else ()
    ours = {each for each in imported(name) if each in MODULES and each.startswith("explore.")}
    assert {
        each for each in ours if each.split(".")[1] not in (*below, "bad_input", "files", "lines", "pictures")
    } == set()

"""What the script that draws mutants promises: the changes it draws, the tests it chooses, how it counts."""

from __future__ import annotations

import ast
import json
from pathlib import Path

import equivalent
import mutants
import pytest
from covered import Covered, copied, covering, digest
from mutating import mutants as changes_of

CODE = '''"""A docstring."""
def least(values: list[int]) -> int:
    """Another."""
    if len(values) > 1 and values[0] != 3:
        return min(
            values[0],
            2,
        )
    return pow(values[0], 0)
'''


def test_every_change_is_another_module_that_can_be_read_and_moves_no_line() -> None:
    found = list(changes_of(CODE))
    plain = ast.dump(ast.parse(CODE))
    for line, text in found:
        assert ast.dump(ast.parse(text)) != plain
        assert text.count("\n") == CODE.count("\n")
        assert line in (4, 5, 9)
    told = {text for _, text in found}
    assert len(told) == len(found)
    # One of each kind: a relation, a condition, a call, a constant, a swap.
    kinds = ("len(values) >= 1", "values[0] == 3", "or values", "max(values[0], 2)", "values[1]", "pow(0, values[0])")
    for part in kinds:
        assert any(part in text for text in told), part


def test_fewer_changes_are_the_first_of_more(tmp_path: Path) -> None:
    (tmp_path / "room").mkdir()
    (tmp_path / "room" / "code.py").write_text(CODE, "utf-8")
    many = mutants.drawn("a hash", 12, ("room",), tmp_path)
    assert mutants.drawn("a hash", 5, ("room",), tmp_path) == many[:5]
    assert mutants.drawn("another", 12, ("room",), tmp_path) != many


def test_a_line_is_tried_by_the_tests_that_run_it_fastest_first_and_by_none_that_fails_anyhow() -> None:
    covered = Covered(
        {"a.py": {1: set(), 4: {"slow", "quick", "broken"}, 9: {"other"}}}, {"slow": 2.0, "quick": 0.1}, {"broken"}
    )
    assert covered.tests_of("a.py", 4) == ["quick", "slow"]
    # What runs while the module loads: by all that run anything of it.
    assert covered.tests_of("a.py", 1) == ["other", "quick", "slow"]
    assert covered.tests_of("b.py", 1) == []


@pytest.fixture
def project(tmp_path: Path) -> Path:
    """A room of two functions; one test runs both, one fails anyhow and comes first."""
    root = tmp_path / "project"
    (root / "constraints").mkdir(parents=True)
    (root / "tests").mkdir()
    (root / "constraints" / "__init__.py").touch()
    (root / "constraints" / "sums.py").write_text("def one():\n    return 1\n\ndef two():\n    return 2\n")
    (root / "tests" / "test_a.py").write_text("def test_fails() -> None:\n    assert 1 == 2\n")
    (root / "tests" / "test_sums.py").write_text(
        "from constraints.sums import one, two\n\ndef test_sums():\n    assert one() == 1\n    assert two() > 0\n"
    )
    return root


def test_a_test_that_fails_anyhow_neither_ends_the_map_nor_kills_a_change(project: Path, tmp_path: Path) -> None:
    folder = copied(project, tmp_path / "copy")
    covered = covering(folder, tmp_path / "lines", ["tests"])
    assert covered is not None
    assert covered.failing == {"tests/test_a.py::test_fails"}
    assert covered.tests_of("constraints/sums.py", 2) == ["tests/test_sums.py::test_sums"]
    ends = {}
    for line, text in changes_of((project / "constraints" / "sums.py").read_text()):
        ends[text.splitlines()[line - 1].strip()] = mutants.judged(
            ("constraints/sums.py", line, text), covered, folder, whole=True
        )
    assert ends == {"return 2": "killed", "return None": "killed", "return 3": "survived all tests"}


def test_the_map_holds_for_the_files_it_was_made_of_committed_or_not(project: Path, tmp_path: Path) -> None:
    before = digest(copied(project, tmp_path / "copy"))
    assert digest(copied(project, tmp_path / "other")) == before
    (project / "constraints" / "sums.py").write_text("def one() -> int:\n    return 1\n")
    assert digest(copied(project, tmp_path / "copy")) != before


def test_a_map_that_was_interrupted_goes_on_where_it_was(project: Path, tmp_path: Path) -> None:
    folder, lines = copied(project, tmp_path / "copy"), tmp_path / "lines"
    assert covering(folder, lines, ["tests"], until=0) is None
    lines.joinpath("tests.test_a.py.json").write_text(json.dumps({"lines": {}, "seconds": {"kept": 1}, "failing": []}))
    covered = covering(folder, lines, ["tests"])
    assert covered is not None
    assert covered.seconds["kept"] == 1
    assert "tests/test_sums.py::test_sums" in covered.seconds


def test_results_count_for_the_very_checkout_and_change(tmp_path: Path) -> None:
    file = tmp_path / "results.json"
    mutants.Results(file, "here").keep("-a\n+b", "killed")
    assert mutants.Results(file, "here").of("-a\n+b") == "killed"
    assert mutants.Results(file, "here").of("-a\n+c") is None
    assert mutants.Results(file, "elsewhere").of("-a\n+b") is None


def test_what_is_kept_as_equivalent_can_still_be_drawn() -> None:
    known = equivalent.known()
    assert all(why.strip().endswith(".") for why in known.values())
    for file in {file for file, _, _ in known}:
        source = (mutants.ROOT / file).read_text("utf-8")
        drawable = {equivalent.key(file, source, text) for _, text in changes_of(source)}
        assert {key for key in known if key[0] == file} <= drawable

"""`stampwork check`: a line for every square, and what fails with its rule."""

import json
from pathlib import Path

import pytest
from asked import Ask
from fakes import FakeSearch, plain_square

from constraints.design_file import to_text
from explore.storage.study import square_path

pytestmark = pytest.mark.usefixtures("garden")


def test_check_says_a_line_for_every_square(ask: Ask, search: FakeSearch) -> None:
    ask("explore", "--no-stamp", "--count", "3")
    assert ask("check", "patterns-study") == (
        0,
        [f"{number} holds: 6 pairs, flow complete" for number in ("01", "02", "03")],
        [],
    )


def test_check_fails_with_rule_and_reason(ask: Ask, search: FakeSearch) -> None:
    ask("explore", "--no-stamp", "--count", "3")
    folder = Path("patterns-study")
    data = json.loads(square_path(folder, 2).read_text())
    # One pinhole alone is narrower than the two that the brief asks for.
    data["blocks"] = [{"stitch": "cloth", "pinholes": [[0, 1]]}]
    data["symmetry"] = "none"
    data["brief"] = {"narrowest": 2}
    square_path(folder, 2).write_text(json.dumps(data))
    square_path(folder, 3).write_text("{")
    status, lines, errors = ask("check", "patterns-study")
    assert (status, errors) == (1, [])
    assert lines[0] == "01 holds: 6 pairs, flow complete"
    assert "02 fails: " in lines[1]
    assert "narrowest: " in lines[1]
    assert "(0, 1)" in lines[1]
    assert lines[2].startswith("03 is damaged: ")


def test_check_takes_files_and_several_studies(ask: Ask, search: FakeSearch) -> None:
    ask("explore", "--no-stamp", "--count", "1")
    Path("mine.json").write_text(to_text(plain_square(5)))
    status, lines, _ = ask("check", "patterns-study", "mine.json")
    assert status == 0
    assert [line.split()[0] for line in lines] == ["patterns-study/squares/01.json", "mine.json"]

"""What every command has besides its own: -q, --open, and a command that goes on from there, which
test_every_command.py follows."""

from __future__ import annotations

import subprocess
import sys
from contextlib import chdir
from pathlib import Path

import pytest
from asked import Ask
from every_command import WITHOUT_PICTURES
from fakes import FakeSearch

from explore import cli, menu
from explore.ending import next_command
from explore.exits import AGAIN, DONE, Outcome
from explore.program import called


@pytest.mark.parametrize("command", menu.COMMANDS)
def test_every_command_can_be_quiet_and_those_that_draw_can_show(command: str, ask: Ask) -> None:
    told = ask(command, "--help")[1]
    assert any(line.startswith("  -q, --quiet ") for line in told)
    assert any(line.startswith("  --open ") for line in told) == (command not in WITHOUT_PICTURES)


# --- quiet -------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("flag", ["-q", "--quiet"])
@pytest.mark.usefixtures("garden")
def test_quiet_leaves_results_and_refusals_alone(
    flag: str, search: FakeSearch, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    search.jobs = 5
    words = ["explore", "kite.svg", "--count", "9", "--width", "138mm", "--force"]
    assert cli.run(words) == DONE
    loud = capsys.readouterr()
    assert [line.split(":")[0] for line in loud.err.splitlines()] == ["note", "note", "next"]
    monkeypatch.setattr(sys.stderr, "isatty", lambda: True)
    monkeypatch.setenv("TERM", "xterm")
    assert cli.run([*words, flag]) == DONE
    assert tuple(capsys.readouterr()) == (loud.out, "")
    assert cli.run(["explore", "kite.svg", flag, "--out", "kite-study"]) == 2
    assert capsys.readouterr().err.startswith("stampwork: kite-study holds a study already")
    # It holds for one command alone.
    assert cli.run(words) == DONE
    assert capsys.readouterr().err.endswith("next: stampwork page kite-study --open\n")


# --- open --------------------------------------------------------------------------------------------------


@pytest.mark.usefixtures("garden", "search")
def test_open_shows_the_sheet_and_says_so_if_nothing_can(
    ask: Ask, opened: list[Path], monkeypatch: pytest.MonkeyPatch
) -> None:
    assert ask("explore", "kite.svg", "--count", "1", "--out", "a b")[2] == []
    assert opened == []
    assert ask("explore", "a b", "--more", "1", "--open")[2] == []
    assert opened == [Path("a b/sheet.png").resolve()]
    monkeypatch.setattr("webbrowser.open", lambda address: False)
    status, _, errors = ask("explore", "a b", "--more", "1", "--open")
    assert (status, errors) == (0, ["note: nothing was found here that opens a b/sheet.png"])


@pytest.mark.usefixtures("garden", "search")
def test_of_a_sheet_of_several_pages_open_shows_all(
    ask: Ask, opened: list[Path], monkeypatch: pytest.MonkeyPatch
) -> None:
    def two_pages(study: object, *_: object) -> list[Path]:
        return [Path("kite-study", name) for name in ("sheet.png", "sheet-2.png", "sheet.svg", "sheet.pdf")]

    monkeypatch.setattr("explore.storage.sheets.write_sheets", two_pages)
    ask("explore", "kite.svg", "--count", "1", "--open")
    assert [each.name for each in opened] == ["sheet.pdf"]


# --- next --------------------------------------------------------------------------------------------------


@pytest.mark.usefixtures("garden", "search")
def test_the_next_command_names_the_study_as_it_was_named(capsys: pytest.CaptureFixture[str]) -> None:
    Path("here").mkdir()
    with chdir("here"):
        assert cli.run(["explore", "--no-stamp", "--count", "1", "--out", "../her tulips"]) == DONE
        assert capsys.readouterr().err == "next: stampwork page '../her tulips' --open\n"
        assert cli.run(["check", "../her tulips"]) == DONE
        assert capsys.readouterr().err == "next: stampwork page '../her tulips' --open\n"


@pytest.mark.parametrize("name", ["plain", "two words", "it's", '"$HOME"', "-q", "--out", "*;&", "b\u00e4rt", "a\\b"])
def test_a_shell_reads_the_next_command_as_it_is_meant(name: str) -> None:
    line = next_command(Outcome(then=("page", Path(name), 7, "--open")), [], "stampwork")
    script = f'stampwork() {{ printf "%s\\n" "$@"; }}; {line}'
    said = subprocess.run(["sh", "-c", script], capture_output=True, text=True, check=True).stdout.splitlines()
    assert (said[0], said[2:]) == ("page", ["7", "--open"])
    assert Path(said[1]) == Path(name)
    assert not said[1].startswith("-")


def test_no_command_is_told_that_could_not_be_typed_or_would_find_nothing(capsys: pytest.CaptureFixture[str]) -> None:
    assert cli.run(["count", "--pairs", "5"]) == DONE
    assert "next: " not in capsys.readouterr().err
    assert next_command(Outcome(then=("page", Path("two\nlines"))), [], "stampwork") == ""
    assert next_command(Outcome(), [], "stampwork") == ""


def test_the_same_command_is_told_again_without_what_was_done_by_it() -> None:
    words = ["redraft", "x y.jpg", "--out", "there", "--take", "3", "--open", "--force", "--out=here", "--pitch=5mm"]
    again = next_command(Outcome(then=(AGAIN, "--reading", 1)), words, "stampwork")
    assert again == "stampwork redraft 'x y.jpg' --take 3 --pitch=5mm --reading 1"


def test_the_program_is_told_as_it_was_called(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    program = tmp_path / "a b" / "stampwork"
    program.parent.mkdir()
    program.write_text("#!/bin/sh\n")
    program.chmod(0o755)
    monkeypatch.setattr(sys, "argv", [str(program)])
    monkeypatch.setenv("PATH", str(tmp_path))
    assert called() == f"'{program}'"
    monkeypatch.setenv("PATH", str(program.parent))
    assert called() == "stampwork"
    monkeypatch.setattr(sys, "argv", [str(tmp_path / "explore" / "__main__.py")])
    monkeypatch.setattr(sys, "orig_argv", ["my python", "-m", "explore"])
    assert called() == "'my python' -m explore"

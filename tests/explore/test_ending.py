"""What every command has besides its own: -q, --open, and a command that goes on from there, which
test_every_command.py follows."""

from __future__ import annotations

import json
import os
import pty
import re
import signal
import subprocess
import sys
import time
import urllib.request
from collections.abc import Iterator
from contextlib import chdir, contextmanager
from pathlib import Path
from typing import TextIO

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
def test_open_shows_what_was_drawn_and_says_so_if_nothing_can(
    ask: Ask, opened: list[Path], monkeypatch: pytest.MonkeyPatch
) -> None:
    ask("explore", "kite.svg", "--count", "1", "--out", "a b")
    assert ask("pick", "a b", "1")[2] == []
    assert opened == []
    assert ask("pick", "a b", "1", "--open", "--force")[2] == []
    assert opened == [Path("a b/picks.png").resolve()]
    monkeypatch.setattr("webbrowser.open", lambda address: False)
    status, _, errors = ask("pick", "a b", "1", "--open", "--force")
    assert (status, errors) == (0, ["note: nothing was found here that opens a b/picks.png"])


def browser_of_hers(folder: Path, name: str = "her-browser") -> str:
    """A program that notes down what it is to open."""
    program = folder / name
    program.write_text(f'#!/bin/sh\necho "$1" > "{folder}/seen"\n')
    program.chmod(0o755)
    return str(program)


@contextmanager
def in_a_terminal(folder: Path, browser: str, *words: str) -> Iterator[tuple[subprocess.Popen[str], TextIO]]:
    """A command whose standard output is a terminal, and what it prints there."""
    ours, its = pty.openpty()
    held = {name: value for name, value in os.environ.items() if name not in ("DISPLAY", "WAYLAND_DISPLAY")}
    process = subprocess.Popen(
        [sys.executable, "-m", "explore", *words],
        cwd=folder,
        stdout=its,
        stderr=subprocess.PIPE,
        text=True,
        start_new_session=True,
        env={**held, "PYTHONPATH": str(Path(__file__).parents[2]), "BROWSER": browser, "TERM": "xterm"},
    )
    os.close(its)
    try:
        with os.fdopen(ours, encoding="utf-8") as lines:
            yield process, lines
    finally:
        process.kill()
        process.communicate()


MAKE_ONE = ("explore", "--no-stamp", "--pairs", "10", "--count", "1", "--cores", "1", "--out", "her study", "--open")


def test_open_of_a_study_begins_the_studio_at_it_and_ctrl_c_ends_both(tmp_path: Path) -> None:
    with in_a_terminal(tmp_path, browser_of_hers(tmp_path), *MAKE_ONE) as (process, lines):
        line = next(each for each in lines if each.startswith("studio: "))
        found = re.fullmatch(r"studio: (http://127\.0\.0\.1:\d+/come-in\?key=\S+) \(Ctrl-C ends it\)\s*", line)
        assert found
        asked = urllib.request.build_opener(urllib.request.HTTPCookieProcessor())
        with asked.open(found[1], timeout=20) as page:
            assert page.url.endswith("/study/her%20study")
        seen, until = tmp_path / "seen", time.monotonic() + 20
        while not (seen.exists() and seen.read_text()) and time.monotonic() < until:
            time.sleep(0.05)
        assert seen.read_text() == f"{found[1]}\n"
        assert process.poll() is None
        process.send_signal(signal.SIGINT)
        assert process.wait(20) == DONE
        assert process.stderr is not None
        assert process.stderr.read().splitlines()[-1].endswith(" -m explore studio 'her study'")


@pytest.mark.parametrize("browser", ["", "not-there", "lynx"])
def test_without_a_browser_with_a_window_open_of_a_study_tells_how_and_ends(tmp_path: Path, browser: str) -> None:
    named = browser_of_hers(tmp_path, browser) if browser == "lynx" else browser
    with in_a_terminal(tmp_path, named, *MAKE_ONE) as (process, _):
        assert process.wait(60) == DONE
        assert process.stderr is not None
        *_, why, how = process.stderr.read().splitlines()
    assert why == "note: no browser with a window can be opened here"
    assert how.startswith("next: ")
    assert how.endswith(" -m explore studio 'her study'")
    assert not (tmp_path / "seen").exists()


@pytest.mark.usefixtures("garden", "search")
def test_where_no_terminal_is_open_of_a_study_tells_how_and_ends(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, opened: list[Path], tmp_path: Path
) -> None:
    monkeypatch.setenv("BROWSER", browser_of_hers(tmp_path))
    assert cli.run(["explore", "kite.svg", "--count", "1", "--open"]) == DONE
    assert capsys.readouterr().err == "next: stampwork studio kite-study\n"
    # Whoever reads one document does not work at a table.
    monkeypatch.setattr(sys.stdout, "isatty", lambda: True, raising=False)
    assert cli.run(["explore", "kite.svg", "--count", "1", "--open", "--force", "--json"]) == DONE
    assert json.loads(capsys.readouterr().out)["next"] == ["studio", "kite-study"]
    assert opened == []
    assert not Path("seen").exists()


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

"""What the command line tells of itself, and how soon."""

import os
import re
import subprocess
import sys
from pathlib import Path

import pytest
from asked import Ask
from fakes import plain_square

from constraints.design_file import to_text
from explore import asking, menu
from explore.storage.study import square_path

pytestmark = pytest.mark.usefixtures("garden")


def test_help_names_every_key_and_gives_examples(ask: Ask) -> None:
    status, lines, _ = ask("explore", "--help")
    text = " ".join(" ".join(lines).split())
    assert status == 0
    for key in asking.KEYS:
        assert key.flag in text
        assert key.meaning.split(".")[0] in text
    assert "stampwork explore beetle.jpg --pairs 28" in text
    assert "stampwork check tulip-study" in " ".join(ask("check", "--help")[1])
    assert ask()[1] == ask("--help")[1]


@pytest.mark.parametrize("command", ["stamp"])
def test_no_help_tells_keys_that_its_command_refuses(ask: Ask, command: str) -> None:
    told = " ".join(ask(command, "--help")[1])
    refused = 0
    for key in asking.KEYS:
        if not key.goes_with("square"):
            value = {"sides": "both", "height": "90mm"}.get(key.name, "8")
            status, _, errors = ask(command, "--pairs", "8", key.flag, value)
            assert (status, len(errors)) == (2, 1), errors
            assert f"{key.flag} is given, but a square has none" in errors[0]
            assert f"{key.flag} " not in told
            refused += 1
    assert refused > 5
    assert "--form " not in told
    assert "--narrowest " in told


def parts(lines: list[str]) -> dict[str, list[str]]:
    """The sections of a help: its headings, each with the first words of the entries below it."""
    found: dict[str, list[str]] = {}
    for line in lines:
        if heading := re.fullmatch(r"(\S.*):", line):
            found[heading[1]] = []
        elif (entry := re.match(r"  (\S+)", line)) and found:
            found[list(found)[-1]].append(entry[1])
    return found


def test_help_tells_the_commands_by_what_one_does_with_them(ask: Ask) -> None:
    told = parts(ask("--help")[1])
    del told["Options"]
    assert [name for names in told.values() for name in names] == list(menu.COMMANDS)
    assert list(told)[:4] == ["All at one table", "From the print", "Choosing", "At the pillow"]
    assert told["Choosing"] == ["page", "pick", "taste", "compare", "vary", "series"]


def test_a_beginner_finds_six_options_before_all_others(ask: Ask) -> None:
    told = parts(ask("explore", "--help")[1])
    assert list(told)[:2] == ["Arguments", "To begin with"]
    assert told["To begin with"] == ["--pairs", "--width", "--symmetry", "--stitches", "--count", "--out"]
    assert "--form" in told["More for the brief"]
    assert {"--brief", "--cores", "-h,"} <= set(told["Other options"])
    assert len([name for names in told.values() for name in names if name == "--pairs"]) == 1


@pytest.mark.parametrize("command", menu.COMMANDS)
def test_every_command_tells_its_help_to_whoever_reads_it(command: str, ask: Ask) -> None:
    status, lines, errors = ask(command, "-h")
    assert (status, errors) == (0, [])
    assert lines == ask(command, "--help")[1]
    assert lines[0].startswith(f"Usage: stampwork {command} [OPTIONS]")
    assert lines[2] == f"  {menu.COMMANDS[command].line}"
    assert f"stampwork {command} " in " ".join(lines[3:]), "no example"
    assert re.findall(r"\b(?:she|hers?)\b|[<>]", " ".join(lines), re.IGNORECASE) == []


def loaded(*arguments: str) -> set[str]:
    """The modules that a run of its own has loaded when it is done."""
    code = f"import sys; from explore import cli; cli.run({list(arguments)}); print(*sys.modules, file=sys.stderr)"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.startswith(("stampwork 0.", "Usage: "))
    return set(done.stderr.split())


@pytest.mark.parametrize("arguments", [["--version"], ["--help"], []], ids=" ".join)
def test_help_and_version_load_no_command_and_nothing_that_takes_long(arguments: list[str]) -> None:
    rooms = {each for each in loaded(*arguments) if re.match(r"(constraints|explore\.\w+\.)", each)}
    assert rooms == set()
    assert not {"numpy", "rich"} & loaded(*arguments)


def test_the_help_of_a_command_loads_no_other_command_no_solver_and_no_plotting() -> None:
    found = loaded("explore", "--help")
    assert not {"ortools", "matplotlib", "shapely", "PIL", "rich"} & found
    assert {each for each in found if each.startswith("explore.commands.")} == {
        "explore.commands.explore",
        "explore.commands.shared",
    }


def test_the_module_runs_as_the_program_does() -> None:
    def told(*arguments: str) -> tuple[int, str, str]:
        done = subprocess.run(
            [sys.executable, "-m", "explore", *arguments], capture_output=True, text=True, check=False
        )
        return done.returncode, done.stdout, done.stderr

    assert told("--version")[1].startswith("stampwork 0.")
    assert told("check", "nowhere")[::2] == (2, "stampwork: nowhere: no such file or folder\n")
    assert told("-h")[1].startswith("Usage: stampwork ")


def test_a_shell_can_complete_commands_and_options(ask: Ask, monkeypatch: pytest.MonkeyPatch) -> None:
    # Whatever started the tests need not be a shell.
    monkeypatch.setattr("shellingham.detect_shell", lambda *_: ("bash", "/bin/bash"))
    status, lines, _ = ask("--show-completion")
    assert (status, lines[0].strip()) in ((0, "#compdef stampwork"), (0, "_stampwork_completion() {"))


@pytest.mark.parametrize(
    ("words", "offered"), [("stampwork pri", ["pricking"]), ("stampwork explore --pai", ["--pairs"])]
)
def test_completion_offers_commands_and_the_options_of_each(words: str, offered: list[str]) -> None:
    asked = {"_STAMPWORK_COMPLETE": "complete_bash", "COMP_WORDS": words, "COMP_CWORD": str(words.count(" "))}
    done = subprocess.run(
        [sys.executable, "-m", "explore"], env={**os.environ, **asked}, capture_output=True, text=True, check=True
    )
    assert done.stdout.split() == offered


def test_a_reader_who_has_seen_enough_is_no_failure() -> None:
    Path("squares").mkdir()
    for number in range(1, 6):
        square_path(Path(), number).write_text(to_text(plain_square(number)))
    read, write = os.pipe()
    os.close(read)
    code = "from explore.start import main; main()"
    done = subprocess.run(
        [sys.executable, "-c", code, "check", "."],
        stdout=write,
        stderr=subprocess.PIPE,
        text=True,
        check=False,
    )
    os.close(write)
    assert (done.returncode, done.stderr) == (0, "")

"""What the command line tells of itself, and how soon."""

import os
import subprocess
import sys
from pathlib import Path

import pytest
from asked import Ask
from fakes import plain_square

from constraints.design_file import to_text
from explore import asking
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


@pytest.mark.parametrize("command", ["budget", "count", "stamp"])
def test_no_help_tells_keys_that_its_command_refuses(ask: Ask, command: str) -> None:
    told = " ".join(ask(command, "--help")[1])
    refused = 0
    for key in asking.KEYS:
        if not key.goes_with("square"):
            value = {"sides": "both", "height": "90mm"}.get(key.name, "8")
            status, _, errors = ask(command, *(["--pairs", "8"] if command != "count" else []), key.flag, value)
            assert (status, len(errors)) == (2, 1), errors
            assert f"{key.flag} is given, but a square has none" in errors[0]
            assert f"{key.flag} " not in told
            refused += 1
    assert refused > 5
    assert "--form " not in told
    assert "--narrowest " in told


def test_help_and_version_load_no_solver_and_no_plotting() -> None:
    code = (
        "import sys; from explore import cli; "
        "status = cli.run(['--version']) + cli.run(['explore', '--help']); "
        "heavy = {'ortools', 'matplotlib', 'shapely', 'PIL', 'rich'} & set(sys.modules); "
        "sys.exit(f'{status} {heavy}' if status or heavy else 0)"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)
    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout.startswith("stampwork 0.")


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

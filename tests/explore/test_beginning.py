"""The program begins and ends cleanly, whenever Ctrl-C comes and whoever still listens."""

import signal
import subprocess
import sys
from pathlib import Path

import pytest

# A module that takes long to load and is interrupted meanwhile.
SLOW = "import os, signal, time\nos.kill(os.getpid(), signal.SIGINT)\ntime.sleep(60)\n"


def begun(code: str, folder: Path, close: int | None = None) -> subprocess.CompletedProcess[str]:
    words = [sys.executable, "-c", f"import sys; sys.path.insert(0, {str(folder)!r})\n{code}"]
    closing = ["sh", "-c", f'exec "$@" {close}>&-', "sh"] if close else []
    return subprocess.run([*closing, *words], capture_output=True, text=True, check=False)


@pytest.mark.parametrize("how", ["import slow", "import explore.cli as cli; cli.run = lambda *_: __import__('slow')"])
def test_ctrl_c_while_modules_load_ends_it_without_a_word(how: str, tmp_path: Path) -> None:
    (tmp_path / "slow.py").write_text(SLOW)
    done = begun(f"import explore.start as start\n{how}\nstart.main()", tmp_path)
    assert (done.returncode, done.stdout, done.stderr) == (-signal.SIGINT, "", "")


def test_ctrl_c_in_a_command_that_keeps_nothing_is_exit_130(tmp_path: Path) -> None:
    code = "import explore.start as start, explore.cli as cli, os, signal, time\n"
    code += "cli._run = lambda *_: (os.kill(os.getpid(), signal.SIGINT), time.sleep(60))\nstart.main()"
    done = begun(code, tmp_path)
    assert (done.returncode, done.stdout) == (130, "")
    assert done.stderr.startswith("stampwork: stopped; nothing is kept")
    assert len(done.stderr.splitlines()) == 1


@pytest.mark.parametrize("close", [1, 2])
def test_a_closed_stream_is_no_failure(close: int, tmp_path: Path) -> None:
    code = "import sys, explore.start as start\nsys.argv = ['stampwork', '--version']\nstart.main()"
    done = begun(code, tmp_path, close)
    assert (done.returncode, done.stderr) == (0, "")

"""What CI runs, and that a skip fails there and nowhere else."""

import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
README = ROOT / "README.md"
RUN = ROOT / ".ci" / "run"
SKIPS = """
import pytest

def test_holds():
    pass

@pytest.mark.skip(reason="no such tool")
def test_skipped():
    pass

"""
SKIPPED_WHOLE = 'import pytest\npytest.importorskip("no_such_module_anywhere")\n'


@pytest.mark.parametrize(("ci", "status"), [("true", 1), ("", 0)])
@pytest.mark.parametrize("text", [SKIPS, SKIPPED_WHOLE], ids=["one test", "a whole module"])
def test_a_skip_fails_in_ci_alone(text: str, ci: str, status: int, tmp_path: Path) -> None:
    shutil.copy(ROOT / "tests" / "conftest.py", tmp_path)
    (tmp_path / "test_it.py").write_text(f"{text}\ndef test_another():\n    pass\n")
    (tmp_path / "test_sound.py").write_text("def test_sound():\n    pass\n")
    done = subprocess.run(
        [sys.executable, "-m", "pytest", "-q", "-p", "no:cacheprovider", "--rootdir", str(tmp_path), str(tmp_path)],
        env={**os.environ, "CI": ci},
        capture_output=True,
        text=True,
        check=False,
    )
    assert (min(done.returncode, 1), "which CI does not allow" in done.stdout) == (status, bool(ci)), done.stdout


def test_ci_is_a_sound_script_that_stops_at_the_first_failure() -> None:
    assert os.access(RUN, os.X_OK)
    assert "set -euo pipefail" in RUN.read_text().splitlines()
    assert subprocess.run(["bash", "-n", str(RUN)], check=False).returncode == 0


def test_ci_finds_the_readmes_test_command() -> None:
    pattern = re.search(r"grep -E '(\^python3[^']+)' README.md", RUN.read_text())
    assert pattern is not None
    found = [line for line in README.read_text(encoding="utf-8").splitlines() if re.search(pattern[1], line)]
    assert len(found) == 1
    assert found[0].endswith(".venv/bin/python -m pytest")

"""Which tests run which lines, kept in a folder: what `mutants.py` chooses its tests by.

Made module by module of the tests, each in a process of its own, so that a run which was interrupted goes on where it
was. It holds for the very files it was made of, committed or not.
"""

from __future__ import annotations

import hashlib
import json
import os
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Iterable
from dataclasses import dataclass, field
from pathlib import Path

PYTEST = [sys.executable, "-m", "pytest", "-q", "-p", "no:cacheprovider"]
IGNORED = (".git", ".venv", "__pycache__", ".*_cache", ".hypothesis", ".coverage*")
# A module of tests may take so many seconds; where it takes longer, what it covers is not known.
LONGEST = 1200


@dataclass
class Covered:
    """lines: the tests that run each line of a file, {file: {line: tests}}. seconds: of each test. failing: tests that
    fail without any change, and so tell nothing."""

    lines: dict[str, dict[int, set[str]]] = field(default_factory=dict)
    seconds: dict[str, float] = field(default_factory=dict)
    failing: set[str] = field(default_factory=set)

    def tests_of(self, file: str, line: int) -> list[str]:
        """The tests that run the line, the fastest first; of lines run at import, those that run the file at all."""
        lines = self.lines.get(file, {})
        tests = lines.get(line, set()) or set().union(*lines.values())
        return sorted(tests - self.failing, key=lambda test: (self.seconds.get(test, 0), test))

    def add(self, told: dict) -> None:
        """What one module's run recorded."""
        self.seconds |= told["seconds"]
        self.failing |= set(told["failing"])
        for file, lines in told["lines"].items():
            for line, tests in lines.items():
                # Without a test's name: what runs while modules load.
                self.lines.setdefault(file, {}).setdefault(int(line), set()).update(filter(None, tests))


def copied(root: Path, folder: Path) -> Path:
    """A fresh copy of the checkout, without what git and tools keep."""
    shutil.rmtree(folder, ignore_errors=True)
    shutil.copytree(root, folder, ignore=shutil.ignore_patterns(*IGNORED))
    return folder


def digest(folder: Path) -> str:
    """Of all names and contents in a copied checkout."""
    made = hashlib.sha256()
    for file in sorted(path for path in folder.rglob("*") if path.is_file() and "__pycache__" not in path.parts):
        for part in (str(file.relative_to(folder)).encode(), file.read_bytes()):
            made.update(len(part).to_bytes(8, "big") + part)
    return made.hexdigest()[:16]


def modules(folder: Path, paths: Iterable[str]) -> list[str]:
    """The modules of tests at the paths, below the folder."""
    places = [folder / path for path in paths]
    files = {file for place in places for file in (place.rglob("test_*.py") if place.is_dir() else [place])}
    return sorted(str(file.relative_to(folder)) for file in files)


def run(command: list[str], folder: Path, limit: float) -> tuple[int | None, float]:
    """The exit code, None if it took longer than the limit; the seconds. All that it started ends with it."""
    start = time.monotonic()
    # What the caller adds to every call of pytest, such as workers, would hide which lines a test runs.
    surroundings = {
        **os.environ, "PYTHONDONTWRITEBYTECODE": "1", "PYTHONPATH": str(folder), "PYTEST_ADDOPTS": "",
    }  # fmt: skip
    with (folder.parent / f"{folder.name}.txt").open("wb") as out:
        process = subprocess.Popen(
            command, cwd=folder, stdout=out, stderr=out, env=surroundings, start_new_session=True
        )
        try:
            return process.wait(limit), time.monotonic() - start
        except subprocess.TimeoutExpired:
            return None, time.monotonic() - start
        finally:
            if process.poll() is None:
                os.killpg(process.pid, signal.SIGKILL)
                process.wait()


def covering(folder: Path, kept: Path, paths: Iterable[str], until: float = float("inf")) -> Covered | None:
    """The map of a copied checkout, kept module by module; None if the clock came to `until` before it was whole."""
    kept.mkdir(parents=True, exist_ok=True)
    found = Covered()
    for module in modules(folder, paths):
        told = kept / (module.replace("/", ".") + ".json")
        if not told.exists():
            if time.monotonic() > until:
                return None
            fresh = _recorded(folder, module)
            told.with_suffix(".new").write_text(json.dumps(fresh), "utf-8")
            told.with_suffix(".new").replace(told)
        found.add(json.loads(told.read_text("utf-8")))
    return found


def _recorded(folder: Path, module: str) -> dict:
    """One module's run; without its results if it took too long."""
    (folder / "recording.py").write_text(_RECORDING, "utf-8")
    lines = folder / "lines.json"
    code, seconds = run([*PYTEST, "-p", "recording", module], folder, LONGEST)
    if code is None:
        print(f"{module} takes more than {LONGEST} seconds; what it covers is left out", flush=True)
        return {"lines": {}, "seconds": {}, "failing": []}
    if code not in (0, 1) or not lines.exists():
        raise SystemExit(f"{module} does not run without a change: see {folder}.txt")
    told = json.loads(lines.read_text("utf-8"))
    lines.unlink()
    (folder / "recording.py").unlink()
    for test in told["failing"]:
        print(f"fails without a change: {test}", flush=True)
    print(f"{module}: {seconds:.0f} s", flush=True)
    return told


# Put beside the copied tests: coverage's contexts, one a test, as JSON at the end. Shared set-up counts for the test
# that made it first.
_RECORDING = """
import json, pathlib
import coverage, pytest

COVER = coverage.Coverage(data_file=None, config_file=False, source=["constraints", "gallery", "explore"])
SECONDS, FAILING = {}, set()

def pytest_configure(config):
    COVER.start()

@pytest.hookimpl(wrapper=True)
def pytest_runtest_protocol(item, nextitem):
    COVER.switch_context(item.nodeid)
    return (yield)

def pytest_runtest_logreport(report):
    SECONDS[report.nodeid] = SECONDS.get(report.nodeid, 0) + report.duration
    if report.failed:
        FAILING.add(report.nodeid)

def pytest_unconfigure(config):
    COVER.stop()
    data, here = COVER.get_data(), pathlib.Path.cwd()
    lines = {
        str(pathlib.Path(file).relative_to(here)): data.contexts_by_lineno(file) for file in data.measured_files()
    }
    told = {"lines": lines, "seconds": SECONDS, "failing": sorted(FAILING)}
    pathlib.Path("lines.json").write_text(json.dumps(told))
"""

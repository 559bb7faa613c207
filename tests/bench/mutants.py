"""Draws small wrong changes of the code and prints those that no test notices.

`python tests/bench/mutants.py --work FOLDER` takes 120 changes in `constraints/`, `gallery/order` and `gallery/paper`,
drawn from the hash of the commit, each on a copy of the checkout: first the tests that run the changed line, the
fastest first, then with `--whole` all others. FOLDER, outside the checkout, keeps copies, the map of tests to lines
(made once a commit, a run of the whole suite) and the results: a run that was interrupted goes on where it was.
"""

from __future__ import annotations

import argparse
import difflib
import json
import os
import random
import shutil
import signal
import subprocess
import sys
import time
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from queue import Queue
from typing import Any

from mutating import mutants

ROOT = Path(__file__).resolve().parents[2]
ROOMS = ("constraints", "gallery/order", "gallery/paper")
PYTEST = [sys.executable, "-m", "pytest", "-x", "-q", "-p", "no:cacheprovider"]
# A run that takes so many times as long as without the change, and so many seconds more, is killed by time.
TIMES, SECONDS = 10, 20
# The first so many covering tests; the rest of them belong to the whole suite.
COVERING = 60
Drawn = tuple[str, int, str]


def drawn(seed: str, count: int, rooms: tuple[str, ...]) -> list[Drawn]:
    """So many changes: file, line, the module with it. Every change of every module is as likely."""
    files = sorted(path for room in rooms for path in (ROOT / room).rglob("*.py"))
    everything = [
        (str(path.relative_to(ROOT)), line, text) for path in files for line, text in mutants(path.read_text("utf-8"))
    ]
    return random.Random(seed).sample(everything, min(count, len(everything)))


def diff(change: Drawn) -> str:
    file, _, text = change
    before = (ROOT / file).read_text("utf-8").splitlines()
    return "\n".join(difflib.unified_diff(before, text.splitlines(), file, file, lineterm="", n=1))


def copied(folder: Path) -> Path:
    """A fresh copy of the checkout, without what git and tools keep."""
    shutil.rmtree(folder, ignore_errors=True)
    shutil.copytree(ROOT, folder, ignore=shutil.ignore_patterns(".git", ".venv", "__pycache__", ".*_cache"))
    return folder


def run(command: list[str], folder: Path, limit: float) -> tuple[int | None, float]:
    """The exit code, None if it took longer than the limit; the seconds. All that it started ends with it."""
    start = time.monotonic()
    surroundings = {**os.environ, "PYTHONDONTWRITEBYTECODE": "1", "PYTHONPATH": str(folder)}
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


def covering(work: Path, commit: str, paths: list[str]) -> dict[str, Any]:
    """The tests that run each line, {file: {line: [test]}}, and the seconds of each test; kept in the folder."""
    kept = work / f"lines-{commit[:12]}.json"
    if kept.exists():
        return json.loads(kept.read_text("utf-8"))
    folder = copied(work / "covered")
    (folder / ".coveragerc").write_text("[run]\nsource = constraints,gallery\n[json]\nshow_contexts = True\n", "utf-8")
    (folder / "recording.py").write_text(_RECORDING, "utf-8")
    code, _ = run([*PYTEST, "-p", "recording", *paths], folder, 7200)
    if code not in (0, 1):
        raise SystemExit(f"the tests do not run without a change: see {work / 'covered.txt'}")
    shutil.move(folder / "lines.json", kept)
    return json.loads(kept.read_text("utf-8"))


# Put beside the copied tests: coverage's contexts, one a test, as JSON at the end. Shared set-up counts for the test
# that made it first, so a module's other tests are tried too where it is covered.
_RECORDING = """
import json, pathlib
import coverage, pytest

COVER = coverage.Coverage(config_file=".coveragerc")
SECONDS = {}

def pytest_configure(config):
    COVER.start()

@pytest.hookimpl(wrapper=True)
def pytest_runtest_protocol(item, nextitem):
    COVER.switch_context(item.nodeid)
    return (yield)

def pytest_runtest_logreport(report):
    SECONDS[report.nodeid] = SECONDS.get(report.nodeid, 0) + report.duration

def pytest_unconfigure(config):
    COVER.stop()
    data, here = COVER.get_data(), pathlib.Path.cwd()
    lines = {
        str(pathlib.Path(file).relative_to(here)): data.contexts_by_lineno(file) for file in data.measured_files()
    }
    pathlib.Path("lines.json").write_text(json.dumps({"lines": lines, "seconds": SECONDS}))
"""


def tests_of(change: Drawn, known: dict[str, Any]) -> list[str]:
    """The tests that run the line, the fastest first; for lines run at import, those that run the most of its file."""
    file, line, _ = change
    lines, seconds = known["lines"].get(file, {}), known["seconds"]
    tests = {test for test in lines.get(str(line), []) if test}
    if not tests:
        tests = {test for some in lines.values() for test in some if test}
    return sorted(tests, key=lambda test: (seconds.get(test, 0), test))[:COVERING]


def judged(change: Drawn, known: dict[str, Any], folder: Path, whole: bool) -> str:
    """How a change ended: killed, killed by time, survived, or not covered."""
    target = folder / change[0]
    before = target.read_bytes()
    target.write_text(change[2], "utf-8")
    try:
        tests = tests_of(change, known)
        ends = [_end([*PYTEST, *tests], folder, sum(known["seconds"].get(t, 0) for t in tests))] if tests else []
        if whole and "killed" not in "".join(ends):
            ends.append(_end([*PYTEST, "tests"], folder, sum(known["seconds"].values())))
        return ends[-1] if ends else "not covered"
    finally:
        target.write_bytes(before)


def _end(command: list[str], folder: Path, usual: float) -> str:
    code, _ = run(command, folder, TIMES * usual + SECONDS)
    if code is None:
        return "killed by time"
    if code in (1, 2):  # a test failed; the tests cannot be loaded
        return "killed"
    if code == 0:
        return "survived"
    raise SystemExit(f"pytest ended with {code}: see {folder}.txt")


def main() -> None:
    words = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    words.add_argument("--work", type=Path, required=True, help="folder outside the checkout, kept between runs")
    words.add_argument("--seed", help="instead of the hash of the commit")
    words.add_argument("--count", type=int, default=120)
    words.add_argument("--rooms", nargs="+", default=ROOMS)
    words.add_argument("--tests", nargs="+", default=["tests"], help="the tests that the map is made of")
    words.add_argument("--only", type=int, help="this one alone, anew, by its number")
    words.add_argument("--whole", action="store_true", help="survivors on the whole suite")
    words.add_argument("--cores", type=int, default=1)
    words.add_argument("--list", action="store_true", help="print the changes and run nothing")
    asked = words.parse_args()
    commit = subprocess.check_output(["git", "rev-parse", "HEAD"], cwd=ROOT, text=True).strip()
    seed = asked.seed or commit
    work = asked.work.resolve()
    if work.is_relative_to(ROOT):
        raise SystemExit(f"{work} lies in the checkout; give a folder outside it")
    changes = dict(enumerate(drawn(seed, asked.count, tuple(asked.rooms)), 1))
    if asked.list:
        for number, change in changes.items():
            print(f"{number}\n{diff(change)}\n")
        return
    work.mkdir(parents=True, exist_ok=True)
    results = work / f"results-{seed[:12]}.json"
    ends: dict[str, list[str]] = json.loads(results.read_text("utf-8")) if results.exists() else {}
    known = covering(work, commit, asked.tests)
    copies: Queue[Path] = Queue()
    for core in range(asked.cores):
        copies.put(copied(work / f"copy{core}"))

    def one(number: int) -> tuple[int, str]:
        folder = copies.get()
        try:
            return number, judged(changes[number], known, folder, asked.whole)
        finally:
            copies.put(folder)

    # A result counts for the very change and commit: other code, another answer. A survivor goes on to the whole suite.
    def done(number: int) -> bool:
        end = ends.get(str(number), ["", "", ""])
        same = end[1:] == [commit, diff(changes[number])]
        return same and not (asked.whole and end[0] in ("survived", "not covered"))

    todo = [asked.only] if asked.only else [number for number in changes if not done(number)]
    with ThreadPoolExecutor(asked.cores) as pool:
        for number, end in pool.map(one, todo):
            ends[str(number)] = [end, commit, diff(changes[number])]
            fresh = results.with_suffix(".new")
            fresh.write_text(json.dumps(ends, indent=1), "utf-8")
            fresh.replace(results)
            print(f"{number}: {changes[number][0]}:{changes[number][1]} {end}", flush=True)
    print(f"seed {seed}, {len(ends)} of {len(changes)} tried")
    for number in sorted(int(number) for number, end in ends.items() if end[0] in ("survived", "not covered")):
        end, _, lines = ends[str(number)]
        print(f"\n{number} {end}: {changes[number][0]}:{changes[number][1]}\n{lines}")


if __name__ == "__main__":
    main()

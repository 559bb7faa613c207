"""Draws small wrong changes of the code and prints those that no test notices.

`python tests/bench/mutants.py --work FOLDER` takes 120 changes in `constraints/`, `gallery/order` and `gallery/paper`,
drawn from the hash of the commit, each on a copy of the checkout: first the tests that run the changed line, the
fastest first, then with `--whole` all others. FOLDER, outside the checkout, keeps copies, the map of tests to lines
and the results: a run that was interrupted, or that `--minutes` ended, goes on where it was. A change that
`equivalent.toml` proves to be none is told with its reason and not tried.
"""

from __future__ import annotations

import argparse
import difflib
import json
import random
import subprocess
import time
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from queue import Queue

import equivalent
from covered import PYTEST, Covered, copied, covering, digest, run
from mutating import mutants

ROOT = Path(__file__).resolve().parents[2]
ROOMS = ("constraints", "gallery/order", "gallery/paper")
# A run that takes so many times as long as without the change, and so many seconds more, is killed by time.
TIMES, SECONDS = 10, 20
# The first so many covering tests; the rest of them belong to the whole suite.
COVERING = 60
SURVIVED, UNCOVERED, SURVIVED_ALL = "survived", "not covered", "survived all tests"
# File, line, the module with the change.
Drawn = tuple[str, int, str]


def drawn(seed: str, count: int, rooms: tuple[str, ...], root: Path = ROOT) -> list[Drawn]:
    """So many changes, every one of every module as likely; fewer are the first of more."""
    files = sorted(path for room in rooms for path in (root / room).rglob("*.py"))
    everything = [
        (str(path.relative_to(root)), line, text) for path in files for line, text in mutants(path.read_text("utf-8"))
    ]
    random.Random(seed).shuffle(everything)
    return everything[:count]


def diff(change: Drawn) -> str:
    file, _, text = change
    before = (ROOT / file).read_text("utf-8").splitlines()
    return "\n".join(difflib.unified_diff(before, text.splitlines(), file, file, lineterm="", n=1))


def judged(change: Drawn, covered: Covered, folder: Path, whole: bool) -> str:
    """How a change ended: killed, killed by time, survived, survived all tests, or not covered."""
    target = folder / change[0]
    before = target.read_bytes()
    target.write_text(change[2], "utf-8")
    try:
        tests = covered.tests_of(change[0], change[1])[:COVERING]
        end = _end(tests, folder, sum(covered.seconds.get(test, 0) for test in tests)) if tests else UNCOVERED
        if whole and not end.startswith("killed"):
            without = [f"--deselect={test}" for test in sorted(covered.failing)]
            end = _end(["tests", *without], folder, sum(covered.seconds.values()))
            end = SURVIVED_ALL if end == SURVIVED else end
        return end
    finally:
        target.write_bytes(before)


def _end(tests: list[str], folder: Path, usual: float) -> str:
    limit = TIMES * usual + SECONDS
    code, _ = run([*PYTEST, "-x", *tests], folder, limit)
    if code == 4 and tests[0] != "tests":  # a named test is not there: its module does not load, or names others
        code, _ = run([*PYTEST, "-x", *sorted({test.split("::")[0] for test in tests})], folder, limit)
    if code is None:
        return "killed by time"
    if code in (1, 2, 4):  # a test failed; the tests cannot be loaded
        return "killed"
    if code == 0:
        return SURVIVED
    raise SystemExit(f"pytest ended with {code}: see {folder}.txt")


class Results:
    """How changes ended, in a file: each counts for the very checkout and change."""

    def __init__(self, file: Path, checkout: str) -> None:
        self._file, self._checkout = file, checkout
        self._ends: dict[str, list[str]] = json.loads(file.read_text("utf-8")) if file.exists() else {}

    def of(self, lines: str) -> str | None:
        """How the change with this diff ended here, None if it was not tried."""
        end, checkout = self._ends.get(lines, ("", ""))
        return end if checkout == self._checkout else None

    def keep(self, lines: str, end: str) -> None:
        self._ends[lines] = [end, self._checkout]
        fresh = self._file.with_suffix(".new")
        fresh.write_text(json.dumps(self._ends, indent=1), "utf-8")
        fresh.replace(self._file)


def told(changes: dict[int, Drawn], ends: dict[int, str | None], why: dict[int, str]) -> str:
    """The figures, then every change that no test noticed, and every one that is none."""
    tried = [end for number, end in ends.items() if end is not None and number not in why]
    killed = sum(end.startswith("killed") for end in tried)
    lines = [
        f"{len(tried) + len(why)} of {len(changes)} tried: {killed} killed, {len(why)} equivalent, "
        f"{len(tried) - killed} left"
    ]
    for number, change in changes.items():
        if number in why:
            lines.append(f"\n{number} equivalent: {change[0]}:{change[1]}: {why[number]}\n{diff(change)}")
        elif ends[number] in (SURVIVED, UNCOVERED, SURVIVED_ALL):
            lines.append(f"\n{number} {ends[number]}: {change[0]}:{change[1]}\n{diff(change)}")
    return "\n".join(lines)


def main() -> None:
    words = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    words.add_argument("--work", type=Path, required=True, help="folder outside the checkout, kept between runs")
    words.add_argument("--seed", help="instead of the hash of the commit")
    words.add_argument("--count", type=int, default=120)
    words.add_argument("--rooms", nargs="+", default=ROOMS)
    words.add_argument("--tests", nargs="+", default=["tests"], help="the tests that the map is made of")
    words.add_argument("--only", type=int, nargs="+", help="these alone, anew, by their numbers")
    words.add_argument("--whole", action="store_true", help="survivors on the whole suite")
    words.add_argument("--cores", type=int, default=1)
    words.add_argument("--minutes", type=float, default=float("inf"), help="begin nothing after so many")
    words.add_argument("--list", action="store_true", help="print the changes and run nothing")
    asked = words.parse_args()
    until = time.monotonic() + 60 * asked.minutes
    seed = asked.seed or subprocess.check_output(["git", "rev-parse", "HEAD"], cwd=ROOT, text=True).strip()
    work = asked.work.resolve()
    if work.is_relative_to(ROOT):
        raise SystemExit(f"{work} lies in the checkout; give a folder outside it")
    changes = dict(enumerate(drawn(seed, asked.count, tuple(asked.rooms)), 1))
    if asked.list:
        for number, change in changes.items():
            print(f"{number}\n{diff(change)}\n")
        return
    work.mkdir(parents=True, exist_ok=True)
    copies = [copied(ROOT, work / f"copy{core}") for core in range(asked.cores)]
    checkout = digest(copies[0])
    covered = covering(copies[0], work / f"lines-{checkout}", asked.tests, until)
    if covered is None:
        raise SystemExit("the map of tests to lines is not whole yet; the next run goes on with it")
    known, results = equivalent.known(), Results(work / f"results-{seed[:12]}.json", checkout)
    keys = {n: equivalent.key(c[0], (ROOT / c[0]).read_text("utf-8"), c[2]) for n, c in changes.items()}
    why = {number: known[key] for number, key in keys.items() if key in known}
    ends = {number: results.of(diff(change)) for number, change in changes.items()}
    again = (None, SURVIVED, UNCOVERED) if asked.whole else (None,)
    todo = asked.only or [number for number in changes if number not in why and ends[number] in again]
    free: Queue[Path] = Queue()
    for folder in copies:
        free.put(folder)

    def one(number: int) -> str | None:
        folder = free.get()
        try:
            late = time.monotonic() > until
            return None if late else judged(changes[number], covered, folder, asked.whole)
        finally:
            free.put(folder)

    with ThreadPoolExecutor(asked.cores) as pool:
        for number, end in zip(todo, pool.map(one, todo), strict=True):
            if end is not None:
                ends[number] = end
                results.keep(diff(changes[number]), end)
                print(f"{number}: {changes[number][0]}:{changes[number][1]} {end}", flush=True)
    print(f"seed {seed}, {told(changes, ends, why)}")


if __name__ == "__main__":
    main()

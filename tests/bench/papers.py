"""Figures of the papers for the pillow: `python tests/bench/papers.py [half-size]`, 48 by default.

One square of the built-in tulip; every paper in a process of its own, with imports, then all four together as the
aim has it, and the booklet. Seconds from a cold start to the files, the most memory the process held, and each paper
as a share of all four in the same run, which says more on another machine than seconds do.
"""

from __future__ import annotations

import multiprocessing
import platform
import resource
import sys
import tempfile
from contextlib import redirect_stdout
from io import StringIO
from pathlib import Path
from time import perf_counter

from explore.cli import run

PAPERS = ("pricking", "diagram", "work", "materials")
# Seconds and MiB aimed at: the four papers together, and a booklet.
TOGETHER, BOOKLET, MEMORY = 10.0, 20.0, 1024.0


def asked(commands: list[list[str]]) -> tuple[float, float]:
    """Commands one after the other in a fresh process: its seconds and MiB."""
    context = multiprocessing.get_context("spawn")
    answer = context.SimpleQueue()
    start = perf_counter()
    process = context.Process(target=_run, args=(commands, answer))
    process.start()
    process.join()
    seconds = perf_counter() - start
    if process.exitcode:
        raise SystemExit(f"{commands} ended with {process.exitcode}")
    return seconds, answer.get()


def _run(commands: list[list[str]], answer: multiprocessing.SimpleQueue[float]) -> None:
    with redirect_stdout(StringIO()):
        for command in commands:
            if code := run(command):
                raise SystemExit(code)
    answer.put(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024)


def main(half_size: int) -> None:
    """Print one line a paper."""
    print(f"{multiprocessing.cpu_count()} cores, Python {platform.python_version()}, half-size {half_size}")
    with tempfile.TemporaryDirectory() as place:
        study = str(Path(place, "study"))
        wanted = ["explore", "tulip", "--half-size", str(half_size), "--pairs", str(half_size + 2), "--count", "1"]
        asked([[*wanted, "--out", study]])
        each = {name: asked([[name, study, "1"]]) for name in PAPERS}
        together = asked([[name, study, "1", "--out", str(Path(place, "all"))] for name in PAPERS])
        booklet = asked([["pack", study, "1"]])
    print("  paper        seconds   of all      MiB")
    for name, (seconds, memory) in each.items():
        print(f"  {name:12} {seconds:7.2f} {seconds / together[0]:8.2f} {memory:8.0f}")
    for name, (seconds, memory), aim in (("all four", together, TOGETHER), ("booklet", booklet, BOOKLET)):
        told = f"aim {aim:.0f} s: {seconds / aim:.2f}, {MEMORY:.0f} MiB: {memory / MEMORY:.2f}"
        print(f"  {name:12} {seconds:7.2f} {seconds / together[0]:8.2f} {memory:8.0f}   {told}")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 48)

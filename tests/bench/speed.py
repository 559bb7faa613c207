"""Figures of speed and memory: `python tests/bench/speed.py [jobs] [growth] [solvers]`, all three by default.

jobs: whole jobs from a cold start to the files, with the memory of all processes together.
growth: time a square against the number of orbit variables, and the power that fits.
solvers: the same full rules, hints and least match for CP-SAT, CaDiCaL and clingo; solving only, warm.
"""

from __future__ import annotations

import multiprocessing
import os
import platform
import subprocess
import sys
import tempfile
from pathlib import Path
from time import perf_counter, sleep

import numpy as np
from warm import SETTINGS, compare

from constraints.brief import Brief
from constraints.forms import Square
from explore.reading import built_in, read
from explore.search.search import search

STAMP = "tulip"
# Half-size, symmetry, stamp; seconds and MiB aimed at.
JOBS = (
    (24, "full", 3.0),
    (34, "quarter-turn", 5.0),
    (68, "full", 9.0),
    (68, "none", 25.0),
)
MOST_MEMORY = 600
# Smaller squares are left out: where few differ enough, the time goes into what is not kept.
GROWTH = ((24, "full"), (34, "full"), (48, "full"), (68, "full"), (24, "quarter-turn"),
          (34, "quarter-turn"), (48, "quarter-turn"), (24, "none"), (34, "none"), (48, "none"))  # fmt: skip
POWER = 1.2


def jobs() -> None:
    """Every case once, each in a process of its own."""
    print("whole jobs, cold: stamp, 24 squares, check, PNG, PDF and SVG")
    print(f"  half-size symmetry         seconds   aim  ratio      MiB (aim {MOST_MEMORY})")
    for half_size, symmetry, aim in JOBS:
        seconds, memory = whole_job(half_size, symmetry)
        print(f"  {half_size:9} {symmetry:15} {seconds:10.2f} {aim:5.0f} {seconds / aim:6.2f} {memory:8.0f}")


def whole_job(half_size: int, symmetry: str) -> tuple[float, float]:
    """Seconds from start to end; and, in a second run, since looking costs time, the most MiB held together."""
    with tempfile.TemporaryDirectory() as folder:
        command = [sys.executable, "-c", "from explore.start import main; main()", "explore", STAMP, "--force"]
        command += ["--half-size", str(half_size), "--pairs", str(half_size + 2), "--symmetry", symmetry]
        command += ["--out", str(Path(folder, "study"))]
        start = perf_counter()
        done = subprocess.run(command, capture_output=True, text=True, check=False)
        seconds = perf_counter() - start
        if done.returncode or "24 found" not in done.stdout:
            print(done.stdout, done.stderr)
        quiet = subprocess.DEVNULL
        process = subprocess.Popen(command, stdout=quiet, stderr=quiet, start_new_session=True)
        most = 0.0
        while process.poll() is None:
            most = max(most, memory_of(process.pid))
            sleep(0.05)
    return seconds, most


def memory_of(group: int) -> float:
    """MiB of a process group, shared pages counted once (proportional set size); 0 where there is no /proc."""
    total = 0
    for folder in Path("/proc").glob("[0-9]*"):
        try:
            if os.getpgid(int(folder.name)) == group:
                text = (folder / "smaps_rollup").read_text()
                total += sum(int(line.split()[1]) for line in text.splitlines() if line.startswith("Pss:"))
        except OSError:  # it has just ended
            continue
    return total / 1024


def growth() -> None:
    """24 squares a case on one core, the workbench and the laying of the stamp with them."""
    stamp = read(built_in(STAMP))
    points = []
    print("time a square on one core, everything but imports and drawing")
    print("  half-size symmetry          orbits  ms a square")
    for half_size, symmetry in GROWTH:
        brief = Brief.of(half_size=(half_size, half_size), pairs=half_size + 2, symmetry=symmetry, count=24)
        start = perf_counter()
        found = sum(step.design is not None for step in search(brief, stamp, cores=1))
        each = (perf_counter() - start) / max(found, 1)
        orbits = len(Square(half_size).piece("round", symmetry).representatives)
        points.append((orbits, each))
        fewer = f"  ({found} found)" if found < brief.run.count else ""
        print(f"  {half_size:9} {symmetry:15} {orbits:9} {1000 * each:12.0f}{fewer}")
    # Symmetries differ in what a square costs beside its orbits, so that each is a line of its own.
    for symmetry in dict.fromkeys(symmetry for _, symmetry in GROWTH):
        own = [point for point, (_, other) in zip(points, GROWTH, strict=True) if other == symmetry]
        power = np.polyfit(*np.log(np.array(own)).T, 1)[0]
        print(f"  {symmetry:15} fits orbits to the power {power:.2f} (aim: at most {POWER})")


def solvers() -> None:
    """CP-SAT beside two others, from compositions and from rough fields."""
    print("solving only, warm, one process: 24 squares at equal difference and least match")
    for half_size, symmetry in ((24, "full"), (34, "quarter-turn")):
        for name in SETTINGS:
            compare(half_size, symmetry, name, read(built_in(STAMP)))


def main(wanted: list[str]) -> None:
    parts = {"jobs": jobs, "growth": growth, "solvers": solvers}
    print(f"{multiprocessing.cpu_count()} cores, Python {platform.python_version()}")
    for name in wanted or parts:
        parts[name]()
        print()


if __name__ == "__main__":
    main(sys.argv[1:])

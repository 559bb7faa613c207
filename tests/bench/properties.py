"""Runs the properties of the tests with fresh examples for some minutes and prints what fails, with its seed.

`python tests/bench/properties.py --minutes 10 [PATH ...]`: round after round with the profile `search`, each with a
seed of its own. A failure is printed with its example and the command that finds it again.
"""

from __future__ import annotations

import argparse
import os
import re
import secrets
import signal
import subprocess
import sys
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
_PROPERTY = re.compile(r"^@given\(|^@given$", re.MULTILINE)


def properties(paths: list[str]) -> list[str]:
    """The test modules that hold a property."""
    places = [ROOT / path for path in paths]
    files = {file for place in places for file in (place.rglob("test_*.py") if place.is_dir() else [place])}
    return sorted(str(file.relative_to(ROOT)) for file in files if _PROPERTY.search(file.read_text("utf-8")))


def command(module: str, seed: int) -> list[str]:
    """One module's properties with one seed; hypothesis marks them itself."""
    chosen = ["-m", "hypothesis", "--hypothesis-profile", "search", f"--hypothesis-seed={seed}"]
    return [sys.executable, "-m", "pytest", "-q", "-p", "no:cacheprovider", *chosen, module]


def ended(asked: list[str], seconds: float) -> tuple[int | None, str]:
    """The exit code, None where the time was over first, and what was printed. All that it started ends with it."""
    process = subprocess.Popen(
        asked, cwd=ROOT, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True, start_new_session=True
    )
    try:
        said, _ = process.communicate(timeout=seconds)
        return process.returncode, said
    except subprocess.TimeoutExpired:
        os.killpg(process.pid, signal.SIGKILL)
        return None, process.communicate()[0]


def main() -> int:
    words = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    words.add_argument("paths", nargs="*", default=["tests"])
    words.add_argument("--minutes", type=float, default=10)
    words.add_argument("--seed", type=int, help="of the first round; the next ones count on from it")
    asked = words.parse_args()
    seed = secrets.randbelow(10**9) if asked.seed is None else asked.seed
    modules, end, failures, runs = properties(asked.paths), time.monotonic() + 60 * asked.minutes, 0, 0
    if not modules:
        raise SystemExit(f"no properties in {', '.join(asked.paths)}")
    while (left := end - time.monotonic()) > 0:
        module = modules[runs % len(modules)]
        code, said = ended(command(module, seed), left)
        if code is None:
            print(f"{module} seed {seed}: the time was over", flush=True)
            break
        runs += 1
        failures += code != 0
        print(f"{module} seed {seed}: {'holds' if code == 0 else 'FAILS'}", flush=True)
        if code:
            print(f"{said}\nagain: {' '.join(['python', *command(module, seed)[1:]])}\n", flush=True)
        seed += runs % len(modules) == 0
    print(f"{runs} runs of {len(modules)} modules, {failures} failed")
    return 1 if failures else 0


if __name__ == "__main__":
    sys.exit(main())

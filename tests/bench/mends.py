"""Briefs that cannot be had or give nothing: every mend that is told is followed, those that do not hold are counted.

    python tests/bench/mends.py [--cores N] [WORD...]

Only briefs that hold every WORD are run. Prints a line a mend and a count at the end; exit code 1 if one does not hold.
"""

from __future__ import annotations

import argparse
import contextlib
import io
import shlex
import sys
import tempfile
import time
from itertools import pairwise
from pathlib import Path

sys.path.append(str(Path(__file__).parents[1] / "explore"))

from asked import followed, mends

from explore import cli
from explore.exits import DONE, IMPOSSIBLE, NOTHING_FOUND

# What is made first, for the commands that begin with a study.
STUDIES = (
    "explore tulip --pairs 20 --count 6 --out squares",
    "explore --no-stamp --pairs 14 --count 3 --out plain",
    "explore --no-stamp --form strip --pairs 12 --count 3 --out strips",
    "explore --no-stamp --form strip --pairs 14 --edging 'cloth fan 2' --count 2 --out fans",
)
PRINTS = ("tulip", "leaf", "bee", "snail", "watering-can")
BRIEFS = (
    "explore watering-can --half-size 14 --pairs 30",
    "explore watering-can --pairs 16",
    "explore tulip --pairs 12",
    "explore tulip --passives 25 --pairs 20",
    "explore --no-stamp --passives 25 --pairs 20",
    "explore --width 143mm --pitch 50-60mm",
    "explore --no-stamp --width 143mm --pitch 50-60mm",
    "explore --width 80mm --pitch 30mm --pairs 2 --worked across",
    "explore tulip --copies 6",
    "explore leaf --copies 4 --half-size 12 --symmetry half-turn",
    "explore tulip --pairs 14 --width 14",
    "explore --no-stamp --pairs 14 --width 12",
    "explore tulip --pairs 28 --pitch 4-5mm --width 140mm",
    "explore leaf --pairs 20 --match 0.95",
    "explore leaf --pairs 20 --match 0.95 --stamp-size 6-8",
    "explore bee --pairs 24 --match 0.9 --symmetry none",
    "explore snail --half-size 16 --stamp-size 14",
    "explore tulip --half-size 14 --stamp-size 13 --symmetry half-turn",
    "explore bee --half-size 12 --narrowest 5",
    "explore tulip --half-size 14 --widest 3 --match 0.8",
    "explore --no-stamp --pairs 10 --stitches cloth,spider:60",
    "explore --no-stamp --half-size 10 --stitches cloth,rose:90",
    "explore --no-stamp --half-size 6 --stitches cloth --solid 90-100%",
    "explore --no-stamp --half-size 8 --narrowest 6 --margin 4",
    "explore --no-stamp --half-size 12 --widest 2 --solid 40-50%",
    "explore --no-stamp --pairs 24 --half-size 18 --edging 'cloth fan 4'",
    "explore --no-stamp --pairs 12 --half-size 20 --worked across",
    "explore leaf --half-size 18 --edging 'half fan 4'",
    "explore tulip --half-size 16 --solid 0-3%",
    "explore tulip --pairs 14 --corners swung",
    "explore tulip --pairs 14 --corners clear",
    "explore --no-stamp --half-size 10 --solid 40-60% --corners clear",
    "explore --no-stamp --half-size 10 --solid 40-60% --corners swung",
    *(f"explore {name} --form frame --width 290mm --height 410mm --band 22" for name in PRINTS),
    "explore tulip --form frame --half-size 40 --pairs 20",
    "explore --no-stamp --form frame --half-size 20 --band 3",
    "explore tulip --form rectangle --pairs 14",
    "explore --no-stamp --form strip --pairs 8",
    "explore --no-stamp --form strip --columns 30",
    "explore tulip --form strip --pairs 14",
    "explore bee --form strip --pairs 20 --match 0.95",
    "count --pairs 4 --half-size 9",
    "count --pairs 12 --width 100mm",
    "budget --no-stamp --pairs 12-20 --width 140mm",
    "budget --no-stamp --pairs 9 --stitches cloth,spider:60",
    "budget tulip --pairs 10-12 --match 0.95",
    "stamp tulip --stamp-size 1",
    "stamp snail --stamp-size 8 --narrowest 14",
    "stamp bee --stamp-size 20 --effort 0.01",
    "vary squares 1 --keep centre --keep edge --change 60-80%",
    "vary squares 1 --keep blocks --change 60%",
    "vary squares 2 --keep blocks --keep fillings --steps",
    "vary squares 2 --change 0.1%",
    "vary plain 1 --keep corner --keep blocks --change 30-40%",
    "series squares 1 --squares 40 --share trail",
    "series squares 1 --share border --order pairs",
    "series squares 1 2 3 --share border",
    "series squares 1 --squares 40 --share centre --order filling",
    "series plain 1 --squares 5 --share trail",
    "fit strips 1 --for 45x183mm --ease 0.5mm",
    "fit strips 2 --for 300x200mm --as frame --ease 0.1mm",
    "fit squares 1 --for 137x137mm --ease 0.4mm",
    "fit fans 1 --for 61x207mm --ease 1mm",
    "fit fans 1 --for 61x207mm --ease 1mm --pitch 2mm",
    "frame strips 1 --repeats 0 --fill centre",
    "frame strips 2 --repeats 2x3 --fill centre",
    "frame strips 1 --repeats 0",
    "frame fans 1 --repeats 1x2 --fill centre --symmetry none",
)

_OUT = ("explore", "budget", "stamp", "vary", "series")


def run(words: list[str]) -> tuple[int, str]:
    """The exit code of a command, and the last line that it said beside its result."""
    out, err = io.StringIO(), io.StringIO()
    with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
        status = cli.run(words)
    return status, (err.getvalue().splitlines() or [""])[-1]


def follow(command: str, cores: list[str]) -> tuple[int, int]:
    """Run a brief and every mend that it is told; how many these are, and how many do not hold."""
    words = shlex.split(command)
    into = ["--out", "made", "--force"] if words[0] in _OUT else []
    into += cores if words[0] not in ("count", "fit") else []
    begun = time.monotonic()
    status, line = run([*words, *into])
    took = time.monotonic() - begun
    if status == DONE:
        print(f"found      {command}  ({took:.0f} s)")
        return 0, 0
    if status not in (IMPOSSIBLE, NOTHING_FOUND) and not mends(line):
        print(f"REFUSED    {command}: {line}")
        return 0, 1
    told, failed = mends(line), 0
    if not told:
        print(f"no mend    {command}  ({took:.0f} s)\n           {line}")
    for mend in told:
        added = mend[: mend.index("without")] if "without" in mend else mend
        own = any(pair in list(pairwise(words)) for pair in zip(added[::2], added[1::2], strict=True))
        few = ["--count", "1"] if words[0] == "explore" or "--fill" in words else []
        holds = run([*followed(words, mend), *few, *into])[0] == DONE
        failed += own or not holds
        print(f"{'holds' if holds and not own else 'FAILS':<10} {command}  + {shlex.join(mend)}  ({took:.0f} s)")
    return len(told), failed


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("words", nargs="*")
    parser.add_argument("--cores", default="2")
    asked = parser.parse_args()
    told = failed = 0
    with tempfile.TemporaryDirectory() as folder, contextlib.chdir(folder):
        for command in STUDIES:
            assert run([*shlex.split(command), "--cores", asked.cores])[0] == DONE, command
        for command in BRIEFS:
            if all(word in command for word in asked.words):
                mended, wrong = follow(command, ["--cores", asked.cores])
                told, failed = told + mended, failed + wrong
    print(f"{failed} of {told} mends do not hold, over {len(BRIEFS)} briefs")
    return int(failed > 0)


if __name__ == "__main__":
    raise SystemExit(main())

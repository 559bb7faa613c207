"""How soon the first square is there: `python tests/bench/first.py [runs]`.

Cold: a new interpreter, from its start to the first square of the tulip at 30 pairs, before drawing. Warm: the same in
a program that goes on, whose processes have made one square before. Least and median seconds, on two cores.
"""

from __future__ import annotations

import subprocess
import sys
import time
from statistics import median

from constraints.brief import Brief
from explore import asking
from explore.reading import built_in, read
from explore.serving.events import Found
from explore.serving.searches import Searches, Wanted

WISHES: dict[str, dict[str, str]] = {
    "symmetry and size given": {"symmetry": "none", "stamp_size": "18"},
    "nothing else given": {},
}
COLD = """
import sys
from explore import asking, reading
from explore.search.search import search
if __name__ == "__main__":
    asked = asking.read(None, dict(each.split("=") for each in sys.argv[1:])).brief
    stamp = reading.read(reading.built_in("tulip"))
    print(next(each.design.number for each in search(asked, stamp, cores=2) if each.design), flush=True)
"""


def flags(wish: dict[str, str]) -> dict[str, str]:
    return {"stamp": "tulip", "pairs": "30", **wish}


def cold(wish: dict[str, str]) -> float:
    """Seconds until the first square is told; the process is ended then."""
    start = time.monotonic()
    told = [f"{name}={value}" for name, value in flags(wish).items()]
    with subprocess.Popen([sys.executable, "-c", COLD, *told], stdout=subprocess.PIPE) as process:
        assert process.stdout is not None
        process.stdout.readline()
        took = time.monotonic() - start
        process.kill()
    return took


def warm(searches: Searches, brief: Brief) -> float:
    """Seconds until the first square; the search is stopped then."""
    start = time.monotonic()
    running = searches.begin(Wanted(brief, (read(built_in("tulip")),)))
    next(each for each in running.events() if isinstance(each, Found))
    took = time.monotonic() - start
    running.cancel()
    return took


def main(runs: int) -> None:
    """One line a wish."""
    with Searches(2) as searches:
        for name, wish in WISHES.items():
            brief = asking.read(None, flags(wish)).brief
            colds = [cold(wish) for _ in range(runs)]
            warm(searches, brief)
            warms = []
            for _ in range(runs):
                time.sleep(0.3)  # the processes are free by then
                warms.append(warm(searches, brief))
            times = "; ".join(
                f"{word} {min(each):.2f}, {median(each):.2f} s" for word, each in (("cold", colds), ("warm", warms))
            )
            print(f"{name}: {times}", flush=True)


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 5)

"""Cards that the program pricked read back: `python tests/bench/redrafting.py [cards of each edging] [first seed]`.

Strips with every edging, on one side and on both, each printed, seen in twelve ways and read. One line a way: how many
come back pin for pin, how many of them with doubts named besides; how many otherwise but with the doubts named;
how many are refused; how many are wrong without a word. Exit code 1 if there are any of these.
"""

from __future__ import annotations

import sys
import tempfile
from collections import Counter
from pathlib import Path

sys.path.append(str(Path(__file__).parents[1] / "explore"))

from redrafting_prints import EDGES, Edge, Scan, expected, least_apart, pins, pricked, printed

from explore.bad_input import BadInput
from explore.editing.redrafting.blank import StripWorking
from explore.editing.redrafting.proposals import propose
from explore.editing.redrafting.redraft import CardRequest, redraft
from explore.editing.redrafting.repeat import one_repeat

SCANS = {
    "as printed": Scan(),
    "tilted, noise, 2 % lost": Scan(tilt=3, noise=6, lost=0.02),
    "aslant by a tenth": Scan(tilt=2, noise=4, aslant=0.1),
    "aslant by a fifth": Scan(tilt=2, noise=4, aslant=0.2),
    "aslant by three tenths": Scan(tilt=2, noise=4, aslant=0.3),
    "photograph with shadow and table": Scan(tilt=-4, noise=4, aslant=0.1, shadow=0.5, table=True, quality=60),
    "pricked by hand, soiled": Scan(tilt=1, noise=4, off=0.15, smudges=25),
    "pencil lines": Scan(tilt=1, noise=4, lines=8),
    "turned by 90 degrees": Scan(tilt=-2, noise=4, turned=1),
    "turned by 180 degrees": Scan(tilt=2, noise=4, turned=2),
    "mirrored": Scan(tilt=2, noise=4, mirrored=True),
    "bent": Scan(tilt=1, noise=4, bent=0.04),
}
EXACT, NAMED, OTHERWISE, REFUSED, WRONG = "exact", "exact, doubts named", "otherwise, doubts named", "refused", "wrong"


def outcome(edge: Edge, scan: Scan, seed: int, file: Path) -> str:
    """What becomes of one card."""
    design = printed(edge, seed)
    file.write_bytes(pricked(design, scan, seed)[0])
    try:
        made = redraft(file, CardRequest())
        found = propose(made.repeat or one_repeat(made.draft), StripWorking())
    except BadInput as refused:
        print(f"    {edge} {seed}: {refused}")
        return REFUSED
    named = bool(made.draft.doubts or made.draft.lost or found.assumed or found.loose)
    apart = min(least_apart(each, pins(found.found[0].design)) for each in expected(design, scan))
    if not apart:
        return NAMED if named else EXACT
    print(f"    {edge} {seed}: {apart} pins otherwise, {len(made.draft.doubts)} doubts, {len(found.assumed)} assumed")
    return OTHERWISE if named else WRONG


def main(cards: int, first: int) -> int:
    """Print the table."""
    wrong = 0
    with tempfile.TemporaryDirectory() as folder:
        for name, scan in SCANS.items():
            seeds = range(first, first + cards)
            counts = Counter(outcome(edge, scan, seed, Path(folder, "card.png")) for edge in EDGES for seed in seeds)
            told = ", ".join(f"{each} {counts[each]}" for each in (EXACT, NAMED, OTHERWISE, REFUSED, WRONG))
            print(f"{name}: of {counts.total()} cards {told}", flush=True)
            wrong += counts[WRONG]
    return 1 if wrong else 0


if __name__ == "__main__":
    asked = [int(each) for each in sys.argv[1:]]
    sys.exit(main(*(asked + [1, 1][len(asked) :])))

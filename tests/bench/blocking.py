"""Figures of blocking a print alone: `python tests/bench/blocking.py [prints]`, 40 prints by default.

Each print is laid upright on open ground at three sizes, without a split and with four. How near the best: its worth to
the eye beside the most that is proven, by a longer search where the first leaves a gap. How it looks: overlap of the
pictures as an eye at 40 cm blurs them. Seconds: of one core.
"""

from __future__ import annotations

import sys
from time import process_time

import numpy as np

from constraints.brief import KNOWN, Brief
from constraints.stamp import Stamp, shape_of
from explore.reading import built_in, built_in_names, read
from explore.search.laying.falls import EFFORT, fall
from gallery.seeing.knowing import surely
from gallery.seeing.signs import signs

SIZES, SPLITS = (8.0, 12.0, 16.0), (0, 4)
SEED = 14
# The aim: no answer is further from the most that is proven.
MOST_GAP = 0.03
_LONGER = 20.0


def prints(count: int) -> list[Stamp]:
    """The built-in stamps and signs drawn by seed."""
    own = [read(built_in(name)) for name in built_in_names()]
    every = sorted(signs().items())
    drawn = np.random.default_rng(SEED).permutation(len(every))[: count - len(own)]
    return own + [Stamp(every[number][0], shape_of(every[number][1])) for number in sorted(drawn.tolist())]


def main(count: int) -> None:
    """One line a size and number of splits: means over the prints and the worst."""
    chosen = prints(count)
    print(f"{len(chosen)} prints, {EFFORT:g} units of deterministic time each")
    print("size  splits  overlap  known  of the most: mean, least  within 3 %  seconds")
    for size in SIZES:
        for splits in SPLITS:
            overlaps, known, near, seconds = [], 0, [], []
            for stamp in chosen:
                brief = Brief.of(own_splits=splits)
                start = process_time()
                found = fall(stamp, brief, size, 0.0)
                seconds.append(process_time() - start)
                if found is None:
                    print(f"  nothing of {stamp.name} at {size:g}")
                    continue
                worth, most = found.worth, found.most
                if worth < (1 - MOST_GAP) * most:
                    longer = fall(stamp, brief, size, 0.0, effort=_LONGER * EFFORT)
                    assert longer is not None
                    most = min(most, longer.most)
                    if worth < (1 - MOST_GAP) * most:
                        near_by_longer = longer.worth / most
                        print(f"  {stamp.name}: {worth / most:.3f} of the most; by longer {near_by_longer:.3f}")
                near.append(worth / most)
                overlaps.append(found.seen.overlap)
                known += surely(found.seen.known, KNOWN)
            within = sum(each >= 1 - MOST_GAP for each in near)
            means = f"{np.mean(overlaps):7.3f}  {known:5}  {np.mean(near):11.3f}, {min(near):.3f}"
            print(f"{size:4g}  {splits:6}  {means}  {within:10}  {np.mean(seconds):7.2f}", flush=True)


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 40)

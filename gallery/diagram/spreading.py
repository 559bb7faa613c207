"""Crossings spread along straight lines, so that what crosses them runs as straight as it can. Knows no lace."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from constraints.lattice import BoolArray, FloatArray, IntArray, places_in_groups

# How close two crossings of one line may come, and a crossing to its end.
_GAP, _BORDER = 0.3, 0.4
_ROUNDS = 24
# How much an even spread along the line counts, against the straightness of what crosses it.
_EVEN = 0.35
# How far a crossing may be drawn out of its even place, counted in crossings: where arms of a block merge, the
# passives of a row do not lie above those of the next one.
_ASTRAY = 1.5


def spread(places: FloatArray, runs: Sequence[list[int]], ends: FloatArray, free: BoolArray, beside: IntArray) -> None:
    """Give the crossings of every run their places on its line, in their order.

    places: (k, 2) of all crossings, changed in place. runs: crossings along each line; ends: (runs, 2, 2). free:
    (k,) which are spread; another one, the last of its run, keeps its place. beside: (k, 2) the crossing before and
    after each on what crosses the line there, itself where there is none.
    """
    order, count = np.concatenate(runs), np.array([len(run) for run in runs])
    place = places_in_groups(count)
    first, line = np.repeat(ends[:, 0], count, axis=0), np.repeat(ends[:, 1] - ends[:, 0], count, axis=0)
    square = np.maximum((line * line).sum(axis=1), 1e-9)
    each = np.repeat(np.maximum(count - [not free[run[-1]] for run in runs], 1), count)
    gap, border = (np.minimum(most / np.sqrt(square), part / each) for most, part in ((_GAP, 0.5), (_BORDER, 0.25)))
    least, most = border + place * gap, 1 - border - (each - 1 - place) * gap
    apart = place * gap - 2.0 * np.repeat(np.arange(len(count)), count)
    share = even = (place + 0.5) / each
    spreads = free[order]
    for _ in range(_ROUNDS):
        places[order[spreads]] = (first + share[:, None] * line)[spreads]
        middle = places[beside[order]].mean(axis=1)
        wanted = ((middle - first) * line).sum(axis=1) / square
        wanted = np.clip(wanted, even - _ASTRAY / each, even + _ASTRAY / each)
        share = np.maximum((share + (1 - _EVEN) * wanted + _EVEN * even) / 2, least)
        # In their order, run by run, and never too close.
        share = np.minimum(np.maximum.accumulate(share - apart) + apart, most)

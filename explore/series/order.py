"""The order along the wall: pairs rising, open to dense, symmetry loosening, one filling after another.

An order sorts squares onto rungs. A series reads best if its squares stand evenly on the rungs; where that
would make it less different than it can be, looser bounds are tried.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from constraints.lattice import FloatArray, IntArray
from constraints.layout import lay
from constraints.square import Square
from constraints.stitches import DOUBLE, ROSE, SPIDER
from constraints.symmetry import SYMMETRIES
from explore.dispersion import Bounds

PAIRS, DENSITY, SYMMETRY, FILLING = "pairs", "density", "symmetry", "filling"
ORDERS = (PAIRS, DENSITY, SYMMETRY, FILLING)

# From full to none; of those with as many turns and reflections, the one with turns first.
LOOSENING = (
    "full", "quarter-turn", "upright-mirrors", "diagonal-mirrors", "half-turn", "upright-mirror", "diagonal-mirror",
    "none",
)  # fmt: skip
assert set(LOOSENING) == set(SYMMETRIES)

# Fillings as they follow each other; "mixed" where no one of them takes this share of all that is filled.
PLAIN, MIXED = "plain ground", "mixed"
FILLINGS = (PLAIN, ROSE, SPIDER, DOUBLE, MIXED)
_CLEARLY = 0.8
# With less than this share of its pinholes in fillings a square counts as plain ground.
_HARDLY = 0.02


@dataclass(frozen=True)
class Ladder:
    """One way to spread a series over an order. words: how it reads."""

    words: str
    bounds: Bounds


def solid(square: Square) -> float:
    """Share of the pinholes that lie in blocks."""
    return lay(square).solid


def filled(square: Square) -> dict[str, float]:
    """Share of the pinholes that lie in roses, spiders' bodies and double ground."""
    layout = lay(square)
    shares = {ROSE: 0.0, SPIDER: 0.0, DOUBLE: float(layout.double.mean())}
    for placed in layout.units:
        shares[placed.unit.kind] += placed.places.size / len(layout.piece)
    return shares


def filling(square: Square) -> str:
    """Which of FILLINGS a square shows."""
    shares = filled(square)
    total = sum(shares.values())
    if total < _HARDLY:
        return PLAIN
    most = max(shares, key=lambda name: shares[name])
    return most if shares[most] >= _CLEARLY * total else MIXED


def place(order: str, square: Square) -> tuple[float, float, int]:
    """Where a square stands along the wall: its rung or figure, then its solid share, then its number."""
    rung = {
        PAIRS: lambda: float(square.pairs),
        DENSITY: lambda: solid(square),
        SYMMETRY: lambda: float(LOOSENING.index(square.symmetry)),
        FILLING: lambda: float(FILLINGS.index(filling(square))),
    }[order]()
    return rung, solid(square), square.number


def figure(order: str, square: Square) -> int | float | str:
    """What the order goes by, as a file tells it."""
    if order == PAIRS:
        return square.pairs
    if order == DENSITY:
        return round(solid(square), 4)
    return square.symmetry if order == SYMMETRY else filling(square)


def ladders(order: str, pool: Sequence[Square], given: Sequence[int], count: int) -> list[Ladder]:
    """Ways to spread `count` squares of the pool over the order, the most even first."""
    if order == DENSITY:
        shares = np.array([solid(square) for square in pool])
        words = "evenly from open to dense, in {} steps of solid share"
        bands = range(count, 1, -1)
        return [Ladder(words.format(number), even(_bands(shares, number), given, count)) for number in bands]
    on = rungs(order, pool)
    return [
        Ladder(_EVENLY[order], even(on, given, count)),
        Ladder(_EVERY[order], even(on, given, count, slack=1)),
        Ladder(_EVERY[order], every(on, count)),
    ]


def rungs(order: str, pool: Sequence[Square]) -> IntArray:
    """(k,) the rung of each square, counted from 0 in the order; rungs without a square are left out."""
    return np.unique([place(order, square)[0] for square in pool], return_inverse=True)[1]


def some(on: IntArray, needed: Sequence[int]) -> Bounds:
    """At least one from each of the rungs that are needed."""
    there = np.bincount(on)
    least = np.zeros_like(there)
    least[list(needed)] = 1
    return Bounds(on, least, there)


_EVENLY = {
    PAIRS: "pairs rising, as many different numbers of pairs as can be",
    SYMMETRY: "symmetry loosening, spread over the symmetries as evenly as can be",
    FILLING: "one filling after another, spread over the fillings as evenly as can be",
}
_EVERY = {
    PAIRS: "pairs rising, some numbers of pairs more than once",
    SYMMETRY: "symmetry loosening from full to none, some symmetries more often than others",
    FILLING: "one filling after another, some more often than others",
}
# The same in a few words, and all that is said where some rungs are left out.
SHORT = {
    PAIRS: "pairs rising",
    DENSITY: "from open to dense",
    SYMMETRY: "symmetry loosening",
    FILLING: "one filling after another",
}


def _ends(rungs: IntArray) -> IntArray:
    """0 for the first rung, 2 for the last, 1 between."""
    last = int(rungs.max())
    return np.unique(np.where(rungs == 0, 0, np.where(rungs == last, 2, 1)), return_inverse=True)[1]


def even(rungs: IntArray, given: Sequence[int], count: int, slack: int = 0) -> Bounds:
    """As many from every rung as from every other, so far as they go and the given ones allow.

    slack: by so many a rung may have fewer or more, but never none where it could have one.
    """
    there = np.bincount(rungs)
    held = np.bincount(rungs[list(given)], minlength=len(there))
    level = 1
    while np.minimum(there, np.maximum(held, level)).sum() < min(count, len(rungs)):
        level += 1
    least = np.minimum(there, np.maximum(held, level - 1 if level == 1 else max(1, level - 1 - slack)))
    most = np.minimum(there, np.maximum(held, level) + slack)
    return Bounds(rungs, least if least.sum() <= count else held, most)


def every(rungs: IntArray, count: int) -> Bounds:
    """At least one from every rung, if there are no more rungs than squares."""
    there = np.bincount(rungs)
    return Bounds(rungs, np.minimum(there, 1) if len(there) <= count else np.zeros_like(there), there)


def _bands(shares: FloatArray, bands: int) -> IntArray:
    """The band of each share between the least and the greatest, all equally wide; empty bands left out."""
    low, high = float(shares.min()), float(shares.max())
    number = np.floor((shares - low) / max(high - low, 1e-9) * bands).astype(np.int64)
    return np.unique(np.minimum(number, bands - 1), return_inverse=True)[1]

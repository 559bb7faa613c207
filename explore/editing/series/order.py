"""The order along the wall: pairs rising, open to dense, symmetry loosening, one filling after another.

An order sorts squares onto rungs. A series reads best if its squares stand evenly on the rungs; where that
would make it less different than it can be, looser bounds are tried. How a wall reads is told in
`explore.editing.series.reading`, from its squares alone.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from constraints.design import Design
from constraints.fillings import FILLINGS
from constraints.lattice import FloatArray, IntArray
from constraints.layout import lay
from constraints.places import map_without_headside
from constraints.repeats import laid_once
from constraints.symmetry import FRIEZES, SYMMETRIES, matrices
from explore.search.dispersion import Bounds

PAIRS, DENSITY, SYMMETRY, FILLING = "pairs", "density", "symmetry", "filling"
ORDERS = (PAIRS, DENSITY, SYMMETRY, FILLING)
# Hers, by which nothing is chosen: those that she names as she names them, then the rest from open to dense.
NAMED = "named"

# From full to none; of those with as many turns and reflections, the one with turns first. Glides are of strips alone.
LOOSENING = (
    "full", "quarter-turn", "upright-mirrors", "glide-mirrors", "diagonal-mirrors", "half-turn", "upright-mirror",
    "level-mirror", "glide", "diagonal-mirror", "none",
)  # fmt: skip
assert set(LOOSENING) == {*SYMMETRIES, *FRIEZES}

# Fillings as they follow each other; "mixed" where no one of them takes this share of all that is filled.
PLAIN, MIXED = "plain ground", "mixed"
FILLED = (PLAIN, *FILLINGS, MIXED)
_CLEARLY = 0.8
# With less than this share of its pinholes in fillings a square counts as plain ground.
_HARDLY = 0.02


def solid(design: Design) -> float:
    """Share of the pinholes that lie in blocks."""
    return lay(design).solid


def filled(design: Design) -> dict[str, float]:
    """Share of the pinholes that lie in the figures and grounds of each filling."""
    layout = lay(design)
    shares = dict.fromkeys(FILLINGS, 0.0)
    for name, held in layout.grounds.items():
        shares[name] = float(held.mean())
    for placed in layout.units:
        shares[placed.unit.filling] += placed.places.size / len(layout.piece)
    return shares


def filling(design: Design) -> str:
    """Which of FILLED a square shows."""
    shares = filled(design)
    total = sum(shares.values())
    if total < _HARDLY:
        return PLAIN
    most = max(shares, key=lambda name: shares[name])
    return most if shares[most] >= _CLEARLY * total else MIXED


def own_symmetry(design: Design) -> str:
    """The most of LOOSENING that a square keeps, stitches and fillings too; it may keep more than its brief asked."""
    form, worked = design.form, design.worked
    found = map_without_headside(laid_once(design))

    def keeps(name: str) -> bool:
        # What lies on the way from a place to its figure's centre turns with the place.
        return all(
            (found[image] == np.column_stack([found[:, 0], found[:, 1:] @ turn.T])).all()
            for image, turn in zip(form.once(worked, name).images, matrices(name), strict=True)
        )

    allowed = form.symmetries_allowed(worked)
    return next(name for name in LOOSENING if name in allowed and keeps(name))


def standing(order: str, design: Design) -> tuple[float, float, int]:
    """Where a square stands along the wall: its rung or its measure, then its solid share, then its number."""
    rung = {
        PAIRS: lambda: float(design.pairs),
        DENSITY: lambda: solid(design),
        SYMMETRY: lambda: float(LOOSENING.index(own_symmetry(design))),
        FILLING: lambda: float(FILLED.index(filling(design))),
    }[order]()
    return rung, solid(design), design.number


def ordered_by(order: str, design: Design) -> int | float | str:
    """What the order goes by, as a file tells it."""
    if order == NAMED:
        return design.number
    if order == PAIRS:
        return design.pairs
    if order == DENSITY:
        return round(solid(design), 4)
    return own_symmetry(design) if order == SYMMETRY else filling(design)


def ladders(order: str, pool: Sequence[Design], given: Sequence[int], count: int) -> list[Bounds]:
    """Ways to spread `count` squares of the pool over the order, the most even first."""
    if order == DENSITY:
        shares = np.array([solid(design) for design in pool])
        return [even(_bands(shares, number), given, count) for number in range(count, 1, -1)]
    on = rungs(order, pool)
    return [even(on, given, count), even(on, given, count, slack=1), every(on, count)]


def rungs(order: str, pool: Sequence[Design]) -> IntArray:
    """(k,) the rung of each square, counted from 0 in the order; rungs without a square are left out."""
    return np.unique([standing(order, design)[0] for design in pool], return_inverse=True)[1]


def some(on: IntArray, needed: Sequence[int]) -> Bounds:
    """At least one from each of the rungs that are needed."""
    there = np.bincount(on)
    least = np.zeros_like(there)
    least[list(needed)] = 1
    return Bounds(on, least, there)


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

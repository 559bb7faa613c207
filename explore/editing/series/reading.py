"""How a wall reads along its order: said of the squares as they hang, and of nothing else."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from constraints.design import Design
from constraints.fillings import FILLINGS
from constraints.symmetry import told
from explore.editing.series.order import DENSITY, MIXED, NAMED, PAIRS, PLAIN, SYMMETRY, filling, own_symmetry, solid

FILLED_WITH = {PLAIN: PLAIN, **{name: filling.field for name, filling in FILLINGS.items()}, MIXED: "mixed fillings"}


@dataclass(frozen=True)
class WallReading:
    """short: how the wall reads, in a few words. words: the same with its figures."""

    short: str
    words: str


def reading(order: str, wall: Sequence[Design]) -> WallReading:
    """How squares read that hang in an order."""
    if order == NAMED:
        return WallReading("hung by hand", "hung by hand")
    if order == DENSITY:
        return _density(wall)
    if order == PAIRS:
        return _pairs(wall)
    by_symmetry = order == SYMMETRY
    seen = Counter(own_symmetry(design) if by_symmetry else FILLED_WITH[filling(design)] for design in wall)
    if len(seen) == 1:
        (only,) = seen
        return _alike(f"all with {told(only) if by_symmetry else only}", wall)
    short = "symmetry loosening" if by_symmetry else "one filling after another"
    listed = ", ".join(f"{name} ({count})" if count > 1 else name for name, count in seen.items())
    return WallReading(short, f"{short}: {listed}")


def _pairs(wall: Sequence[Design]) -> WallReading:
    pairs = [design.pairs for design in wall]
    if pairs[0] == pairs[-1]:
        return _alike(f"all of {pairs[0]} pairs", wall)
    numbers = len(set(pairs))
    each = "each has more than the one before" if numbers == len(wall) else f"{numbers} different numbers of pairs"
    return WallReading("pairs rising", f"pairs rising from {pairs[0]} to {pairs[-1]}, {each}")


def _density(wall: Sequence[Design]) -> WallReading:
    shares = _in_blocks(wall)
    if shares[0] == shares[-1]:
        short = f"all with {shares[0]:g} % in blocks"
        return WallReading(short, short)
    steps = [round(then - now, 1) for now, then in pairwise(shares)]
    by = f"{min(steps):g} to {max(steps):g}" if min(steps) < max(steps) else f"{steps[0]:g}"
    ends = f"{shares[0]:g} % to {shares[-1]:g} %"
    words = f"from open to dense, {ends} in blocks, each {by} points more than the one before"
    return WallReading("from open to dense", words)


def _alike(what: str, wall: Sequence[Design]) -> WallReading:
    """Where all stand on one rung the solid share alone goes on."""
    shares = _in_blocks(wall)
    return WallReading(what, what if shares[0] == shares[-1] else f"{what}, from open to dense")


def _in_blocks(wall: Sequence[Design]) -> list[float]:
    """Shares in per cent, to one digit."""
    return [round(100 * solid(design), 1) for design in wall]

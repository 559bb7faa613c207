"""What a small step changes besides what it is called for: figures and grounds that go or come."""

from __future__ import annotations

from collections import Counter

import numpy as np

from constraints.design import Design
from constraints.fillings import GROUNDS, NUMBERS, OF_KIND, UNITS
from constraints.lattice import BoolArray, Point
from constraints.places import differ
from constraints.repeats import laid_once
from explore.editing.varying import worked
from explore.editing.varying.setting import VaryingContext


def called(kind: str, count: int = 2) -> str:
    """A filling in words; so many of its figures."""
    if kind == "":
        return "plain ground"
    return OF_KIND[kind].called(count, UNITS.get(kind))


def besides(before: Design, after: Design) -> str:
    """All that a step changes besides its blocks: figures that go or come, and grounds on open pinholes."""
    old, new = _figures(before), _figures(after)
    told = []
    for found, word in ((old - new, "gone"), (new - old, "new")):
        counts = Counter(kind for kind, _ in found)
        told += [f"{count} {called(kind, count)} {word}" for kind, count in sorted(counts.items())]
    was, now = laid_once(before), laid_once(after)
    for name, ground in GROUNDS.items():
        before_it, after_it = was.ground == NUMBERS[name], now.ground == NUMBERS[name]
        for there, word in ((before_it & ~after_it, "gone"), (after_it & ~before_it, "new")):
            count = int((there & ~now.inside).sum())
            told += [f"{ground.one} {word} at {count} pinhole{'s' if count > 1 else ''}"] if count else []
    return "".join(f", {each}" for each in told)


def spread(setting: VaryingContext, design: Design, inside: BoolArray) -> bool:
    """Whether a step reaches beyond the field that it fills, (m,) holes of it and of all fields alike."""
    piece = setting.context.piece
    reached = np.zeros(len(piece), dtype=np.bool_)
    reached[piece.holes[np.any(inside[piece.hole_images], axis=0)].reshape(-1)] = True
    return bool((changed(setting, design) & ~reached).any())


def changed(setting: VaryingContext, design: Design) -> BoolArray:
    """(n,) the pinholes in which a step differs."""
    return differ(worked.exact(setting.design), worked.exact(design))


def _figures(design: Design) -> set[tuple[str, Point]]:
    return {(placed.unit.name, (x, y)) for placed in laid_once(design).units for x, y in placed.centres.tolist()}

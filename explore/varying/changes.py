"""What becomes of the fillings in a small step, and words by which steps are told apart."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from constraints.lattice import BoolArray, Point
from constraints.layout import lay
from constraints.places import otherwise
from constraints.square import Square
from constraints.stitches import DOUBLE, UNITS
from explore.varying import worked
from explore.varying.setting import Setting

if TYPE_CHECKING:
    from explore.varying.steps import SmallStep


def called(kind: str, count: int = 2) -> str:
    """A filling in words; so many of its figures."""
    if kind == "":
        return "plain ground"
    if kind == DOUBLE:
        return "double ground"
    several, legs = "s" if count > 1 else "", UNITS[kind].legs
    return f"spider{several} of {legs} legs" if legs else f"rose{several}"


def besides(before: Square, after: Square) -> str:
    """All that a step changes besides its blocks: figures that go or come, and double ground on open pinholes."""
    old, new = _figures(before), _figures(after)
    told = []
    for found, word in ((old - new, "gone"), (new - old, "new")):
        counts = Counter(kind for kind, _ in found)
        told += [f"{count} {called(kind, count)} {word}" for kind, count in sorted(counts.items())]
    was, now = lay(before), lay(after)
    for there, word in ((was.double & ~now.double, "gone"), (now.double & ~was.double, "new")):
        count = int((there & ~now.inside).sum())
        told += [f"double ground {word} at {count} pinhole{'s' if count > 1 else ''}"] if count else []
    return "".join(f", {each}" for each in told)


def spread(setting: Setting, square: Square, inside: BoolArray) -> bool:
    """Whether a step reaches beyond the field that it fills, (m,) holes of it and of all fields alike."""
    piece = setting.bench.piece
    reached = np.zeros(len(piece), dtype=np.bool_)
    reached[piece.holes[np.any(inside[piece.hole_images], axis=0)].reshape(-1)] = True
    return bool((_changes(setting, square) & ~reached).any())


def _changes(setting: Setting, square: Square) -> BoolArray:
    """(n,) the pinholes in which a step differs."""
    return otherwise(worked.exact(setting.square), worked.exact(square))


def _figures(square: Square) -> set[tuple[str, Point]]:
    return {(placed.unit.name, (x, y)) for placed in lay(square).units for x, y in placed.centres.tolist()}


def told_apart(setting: Setting, found: Sequence[SmallStep]) -> list[SmallStep]:
    """The steps with words that differ: where two say the same, how far out they are is told, or where, or which way
    it is of several."""
    for tell in (_distance, _spot):
        found = _told(setting, found, tell)
    seen: Counter[str] = Counter()
    apart = []
    for step in found:
        seen[step.words] += step.square is not None
        again = step.square is not None and seen[step.words] > 1
        apart.append(replace(step, words=f"{step.words}, way {seen[step.words]}") if again else step)
    return apart


def _told(setting: Setting, found: Sequence[SmallStep], tell: Callable[[Setting, Square], str]) -> list[SmallStep]:
    """The steps, those of the same words with more words, if these tell all of them apart or none can more."""
    alike: dict[str, list[Square]] = {}
    for step in found:
        if step.square is not None:
            alike.setdefault(step.words, []).append(step.square)
    last = tell is _spot
    told = []
    for step in found:
        group = alike.get(step.words, [])
        telling = last or len({tell(setting, each) for each in group}) == len(group)
        if step.square is not None and len(group) > 1 and telling:
            step = replace(step, words=f"{step.words}, {tell(setting, step.square)}")
        told.append(step)
    return told


def _distance(setting: Setting, square: Square) -> str:
    far = float(np.abs(setting.bench.piece.pinholes[_changes(setting, square)]).max(axis=1).mean()) / 2
    return f"{far:.0f} pitches from the centre"


def _spot(setting: Setting, square: Square) -> str:
    x, y = setting.bench.piece.pinholes[_changes(setting, square)][0].tolist()
    return f"near {x},{y}"

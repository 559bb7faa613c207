"""Small steps told apart, where the words for two of them are the same."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import replace

import numpy as np

from constraints.design import Design
from explore.editing.varying.besides import changed
from explore.editing.varying.setting import VaryingContext
from explore.editing.varying.steps import SmallStep


def told_apart(setting: VaryingContext, found: Sequence[SmallStep]) -> list[SmallStep]:
    """The steps with words that differ: where two say the same, how far out they are is told, or where, or which way
    it is of several."""
    for tell in (_distance, _spot):
        found = _told(setting, found, tell)
    seen: Counter[str] = Counter()
    apart = []
    for step in found:
        seen[step.words] += step.design is not None
        again = step.design is not None and seen[step.words] > 1
        apart.append(replace(step, words=f"{step.words}, way {seen[step.words]}") if again else step)
    return apart


def _told(
    setting: VaryingContext, found: Sequence[SmallStep], tell: Callable[[VaryingContext, Design], str]
) -> list[SmallStep]:
    """The steps, those of the same words with more words, if these tell all of them apart or none can more."""
    alike: dict[str, list[Design]] = {}
    for step in found:
        if step.design is not None:
            alike.setdefault(step.words, []).append(step.design)
    last = tell is _spot
    told = []
    for step in found:
        group = alike.get(step.words, [])
        telling = last or len({tell(setting, each) for each in group}) == len(group)
        if step.design is not None and len(group) > 1 and telling:
            step = replace(step, words=f"{step.words}, {tell(setting, step.design)}")
        told.append(step)
    return told


def _distance(setting: VaryingContext, design: Design) -> str:
    form, points = design.form, setting.context.piece.pinholes[changed(setting, design)]
    if form.has_opening or form.repeating:
        return f"{_pitches(float(form.inwards(points).mean()))} from an edge"
    return f"{_pitches(float(np.abs(points).max(axis=1).mean()))} from the centre"


def _pitches(units: float) -> str:
    many = round(units / 2)
    return f"{many} pitch{'' if many == 1 else 'es'}"


def _spot(setting: VaryingContext, design: Design) -> str:
    x, y = setting.context.piece.pinholes[changed(setting, design)][0].tolist()
    return f"near {x},{y}"

"""One attempt at one design, the same for whoever asks: a composition settled, decoded and checked."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from constraints.check import check
from constraints.design import Design
from constraints.formula import truth
from constraints.lattice import BoolArray
from constraints.rules.match import match
from explore.search.context import Context
from explore.search.laying.placement import Laid

# Deterministic time for the whole model, starting from a composed hint.
EFFORT = 0.5


class Defect(RuntimeError):
    """The second check refuses what the model allowed: a defect of the program, never of the brief."""


@dataclass(frozen=True)
class Making:
    """What of a design no rule sees. stamps: their names, as they are laid. effort: deterministic time of a solve."""

    pitch_mm: float
    passives: int
    seed: int
    stamps: tuple[str, ...] = ()
    effort: float = EFFORT


def attempt(
    context: Context, values: BoolArray, laid: Sequence[Laid], making: Making, composition: str, what: str
) -> tuple[Design | None, str]:
    """The design nearest to composed values, (size,), that keeps every rule and shows each stamp; or None and why
    not.

    composition: what leads in it. what: the attempt in words, for a Defect.
    """
    further = [match(context.model, each.target, context.rules.match) for each in laid]
    found, note = context.settled(values, making.effort, further)
    if found is None:
        return None, note
    block = truth(found, context.model.block)
    design = context.decoded(
        found,
        pitch_mm=making.pitch_mm,
        passives=making.passives,
        seed=making.seed,
        prints=[each.printed(name, block) for each, name in zip(laid, making.stamps, strict=True)],
        composition=composition,
    )
    return sound(design, what), ""


def sound(design: Design, what: str) -> Design:
    """The design itself, which has stood the second check. Raises Defect if it has not; what: how it came about."""
    findings = check(design)
    if findings:
        raise Defect(f"{what}: {findings[0]}")
    return design

"""One attempt at one design, the same for whoever asks: a composition settled, decoded and checked."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from constraints.check import check
from constraints.design import Design, Print
from constraints.encoding import decode
from constraints.eyes import with_eyes, with_kept
from constraints.flow import quietest_start
from constraints.formula import truth
from constraints.lattice import BoolArray, Point
from constraints.repeats import unrolled
from constraints.rules.match import match
from constraints.rules.one_worker import splits
from explore.search.context import Context
from explore.search.laying.placement import Laid
from gallery.seeing.knowing import seen_in


class Defect(RuntimeError):
    """The second check refuses what the model allowed: a defect of the program, never of the brief."""


@dataclass(frozen=True)
class Making:
    """What of a design no rule sees. composition: what leads in it. what: how it comes about, in words for a Defect.
    eyes: of what it is made from, kept where their blocks are. fresh: whether holes of its print get eyes too."""

    pitch_mm: float
    passives: int
    seed: int
    composition: str
    what: str
    eyes: tuple[Point, ...] = ()
    fresh: bool = True


def attempt(
    context: Context, values: BoolArray, laid: Sequence[Laid], making: Making, effort: float
) -> tuple[Design | None, str]:
    """The design nearest to composed values, (size,), that keeps every rule and shows each stamp; or None and why not.

    effort: deterministic time. Raises Defect.
    """
    further = [match(context.model, each.target, context.rules.match) for each in laid]
    found, note = context.settled(values, effort, further)
    if found is None:
        return None, note
    block = truth(found, context.model.block)
    return made(context, found, [each.printed(block) for each in laid], making), ""


def made(context: Context, values: BoolArray, prints: Sequence[Print], making: Making) -> Design:
    """The design that these values describe, not numbered, which has stood the second check. Raises Defect."""
    return sound(decoded(context, values, prints, making), making.what)


def decoded(context: Context, values: BoolArray, prints: Sequence[Print], making: Making) -> Design:
    """The same, not checked: of a strip, whose values describe one repeat, all of it."""
    form, piece, model = context.form, context.piece, context.model
    blocks, fillings = decode(model, values)
    block = truth(values, model.block)
    design = Design(
        number=0,
        form=form,
        pitch_mm=making.pitch_mm,
        worked=piece.worked,
        symmetry=piece.symmetry,
        passives=making.passives,
        pairs=form.pairs(piece.worked, making.passives),
        splits=splits(piece, block, model.rules.corners),
        blocks=blocks,
        fillings=fillings,
        prints=tuple(prints),
        seed=making.seed,
        brief=model.rules.told(),
        start=quietest_start(piece, block),
        composition=making.composition,
    )
    whole = with_kept(design if form.repeating is None else unrolled(design, form.repeating), making.eyes)
    if not making.fresh:
        return whole
    shown = [each for each in prints if not each.reverse]  # of one left open the blocks are what it is not
    opened = with_eyes(whole, [ring for each in shown for ring in each.outlines])
    # They are made where the print is known no less surely for them.
    return opened if opened.eyes != whole.eyes and seen_in(opened).score >= seen_in(whole).score else whole


def sound(design: Design, what: str) -> Design:
    """The design itself, which has stood the second check. Raises Defect if it has not; what: how it came about."""
    findings = check(design)
    if findings:
        raise Defect(f"{what}: {findings[0]}")
    return design

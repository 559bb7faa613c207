"""How many block layouts a brief allows, on every form that it allows: counted, put into words and into a file."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import ClassVar

from constraints.brief import Brief
from constraints.counting import answer
from constraints.counting.answer import LayoutCount
from constraints.counting.space import Space
from constraints.forms import Form
from constraints.symmetry import SUITS
from explore.bad_input import BadInput
from explore.editing.plain import USUAL, refuse_several_ways
from explore.mending.briefs import BriefDoor
from explore.mending.trying import Options
from explore.search.sizing import SIZING
from explore.storage.free import Output

# Beyond this a sweep takes too much memory to say anything. About the pinholes of a square of half-size 64.
MOST_PINHOLES = 8192


@dataclass(frozen=True)
class Counted:
    """What was counted on one form. up_to: the motions that make layouts one, in words."""

    form: Form
    found: answer.SpaceSize
    up_to: str


@dataclass(frozen=True)
class CountedApart:
    """The layouts on one form under each of several symmetries, by its name."""

    form: Form
    layouts: Mapping[str, LayoutCount]


def measures_of(form: Form) -> dict[str, int]:
    """How often a repeat comes changes nothing."""
    return {name: value for name, value in form.measures.items() if name != "repeats"}


def measured(form: Form) -> str:
    """Such as "half-size 6" or "half-width 6, half-height 9"."""
    return ", ".join(f"{name.replace('_', '-')} {value}" for name, value in measures_of(form).items())


def why_none(brief: Brief) -> str | None:
    """One line on why a brief allows no form; None if it allows one."""
    return SIZING[brief.piece.form].conflict(brief)


def refuse_to_count(brief: Brief, out: Path | None, force: bool) -> None:
    """Refused if a form is too large to count or the file cannot be written."""
    refuse_several_ways("count", brief.piece)
    forms = SIZING[brief.piece.form].allowed(brief)
    largest = max(forms, key=lambda form: form.area_once, default=None)
    if largest is not None and largest.area_once > MOST_PINHOLES:
        once = "a repeat" if largest.repeating else f"a {largest.name}"
        raise BadInput(
            f"{measured(largest)}: about {largest.area_once:,} pinholes are too many to count; "
            f"allowed: {once} of {MOST_PINHOLES:,}, as many as half-size 64 has"
        )
    if out is None:
        return
    Output(out, force).file(out, ".json", "a file of numbers")
    if not out.parent.is_dir():
        raise BadInput(f"{out} cannot be written: {out.parent} is not a folder")


@dataclass(frozen=True)
class Counting(BriefDoor):
    """The door of `count`."""

    usual: ClassVar[Options] = USUAL

    def allows(self, brief: Brief) -> bool:
        """Whether there is a size that can be counted."""
        try:
            refuse_to_count(brief, None, False)
        except BadInput:
            return False
        return why_none(brief) is None

    def finds(self, brief: Brief) -> bool:
        """Whether a layout is found; they are not counted for it."""
        return any(
            answer.any_found(Space(form, brief.changed(symmetry=name)), brief.run.effort, brief.run.seed)
            for form in SIZING[brief.piece.form].allowed(brief)
            for name in _symmetries(brief, form)
        )


def counted(brief: Brief, watch: Callable[[str], None]) -> Sequence[Counted | CountedApart]:
    """The numbers for every form of the brief, smallest first; of several symmetries the layouts that each allows, all
    in the effort that one takes. watch: told what is being done."""
    found: list[Counted | CountedApart] = []
    run = brief.run
    for form in SIZING[brief.piece.form].allowed(brief):

        def at(words: str, measured: str = measured(form)) -> None:
            watch(f"{measured}: {words}")

        names = _symmetries(brief, form)
        every = {name: Space(form, brief.changed(symmetry=name)) for name in names}
        if brief.piece.symmetry in every:
            space = every[brief.piece.symmetry]
            numbers = answer.size(space, run.effort, run.seed, at)
            found.append(Counted(form, numbers, _up_to(space) if numbers.classes else ""))
        elif every:
            found.append(CountedApart(form, answer.by_symmetry(every, run.effort, run.seed, at)))
    return found


def _symmetries(brief: Brief, form: Form) -> list[str]:
    """Those of the brief that a form may have."""
    possible = form.symmetries_allowed(brief.piece.first_way)
    return [name for name in possible if brief.piece.symmetry == SUITS or name in brief.piece.symmetries]


def _up_to(space: Space) -> str:
    """What makes two layouts of a space one, in words."""
    kinds = {"shifting": False, "turning": False, "reflecting": False}
    for ((a, b), (c, d)), shift in space.motions:
        kinds["turning"] |= a * d - b * c > 0 and a < 1
        kinds["reflecting"] |= a * d - b * c < 0
        kinds["shifting"] |= a == d == 1 and any(shift)
    *others, last = [kind for kind, is_there in kinds.items() if is_there] or ["nothing"]
    words = f"{', '.join(others)} and {last}" if others else last
    return words if len(space.keeping) == len(space.motions) else f"{words} that keep the way of working"


def layouts_of(found: Sequence[Counted | CountedApart]) -> list[LayoutCount]:
    """Every number of layouts that was counted."""
    return [
        number
        for each in found
        for number in (each.layouts.values() if isinstance(each, CountedApart) else [each.found.layouts])
    ]

"""How many block layouts a brief allows, size by size: counted, put into words and into a file."""

from __future__ import annotations

import json
import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, ClassVar

from constraints import symmetry as symmetries
from constraints.brief import Brief
from constraints.counting import answer
from constraints.counting.answer import Certainty, LayoutCount
from constraints.counting.space import EIGHT, Space
from constraints.explain import size_conflict
from constraints.square_sizes import Size, sizes
from explore.bad_input import BadInput
from explore.editing.plain import USUAL, refuse_unless_plain
from explore.files import write_whole
from explore.mending.briefs import BriefDoor
from explore.mending.trying import Options
from explore.storage.free import Output

FORMAT, VERSION = "stampwork count", 1
# Beyond this a sweep takes too much memory to say anything.
LARGEST = 64


@dataclass(frozen=True)
class Counted:
    """What was counted at one size. all_eight: whether every turn and reflection keeps the way of working."""

    size: Size
    found: answer.SpaceSize
    all_eight: bool


@dataclass(frozen=True)
class CountedApart:
    """The layouts at one size under each of several symmetries, by its name."""

    size: Size
    layouts: Mapping[str, LayoutCount]


def refuse_to_count(brief: Brief, out: Path | None, force: bool) -> None:
    """Refused if a size is too large to count or the file cannot be written."""
    refuse_unless_plain("count", brief.piece, symmetries=True)
    largest = max((size.half_size for size in sizes(brief)), default=0)
    if largest > LARGEST:
        raise BadInput(f"half-size {largest} is too large to count; allowed: half-sizes to {LARGEST}")
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
        return size_conflict(brief) is None

    def finds(self, brief: Brief) -> bool:
        """Whether a layout is found."""
        return any(each.log >= 0 for each in layouts_of(counted(brief, lambda words: None)))


def counted(brief: Brief, watch: Callable[[str], None]) -> Sequence[Counted | CountedApart]:
    """The numbers for every size of the brief, smallest first; of several symmetries the layouts that each allows, all
    in the effort that one takes. watch: told what is being done."""
    found: list[Counted | CountedApart] = []
    run = brief.run
    for size in sizes(brief):

        def at(words: str, half_size: int = size.half_size) -> None:
            watch(f"half-size {half_size}: {words}")

        if len(brief.piece.symmetries) > 1:
            every = {name: Space(size.half_size, brief.changed(symmetry=name)) for name in brief.piece.symmetries}
            found.append(CountedApart(size, answer.by_symmetry(every, run.effort, run.seed, at)))
        else:
            space = Space(size.half_size, brief)
            numbers = answer.size(space, run.effort, run.seed, at)
            found.append(Counted(size, numbers, len(space.keeping) == len(EIGHT)))
    return found


def layouts_of(found: Sequence[Counted | CountedApart]) -> list[LayoutCount]:
    """Every number of layouts that was counted."""
    return [
        number
        for each in found
        for number in (each.layouts.values() if isinstance(each, CountedApart) else [each.found.layouts])
    ]


def report(brief: Brief, found: Sequence[Counted | CountedApart]) -> list[str]:
    """The numbers in plain lines, and what they number."""
    lines = [_rules(brief)]
    for each in found:
        lines.append(f"half-size {each.size.half_size} ({each.size.pairs} pairs)")
        lines += _apart(each) if isinstance(each, CountedApart) else _one(each, brief)
    lines.append("which pinholes lie in blocks is counted; stamp, stitches and fillings are set aside")
    return lines


def _one(each: Counted, brief: Brief) -> list[str]:
    which = "turning and reflecting" + ("" if each.all_eight else " that keep the way of working")
    return [
        f"  block layouts: {in_words(each.found.layouts)}",
        f"  up to {which}: {in_words(each.found.classes)}",
        f"  {_how(each, brief)}",
    ]


def _apart(each: CountedApart) -> list[str]:
    lines = [f"  {symmetries.told(name)}: {in_words(number)}" for name, number in each.layouts.items()]
    head = "  block layouts under each symmetry, in its share of the effort; --symmetry NAME counts one with all of it:"
    return [head, *(f"  {line}" for line in lines)]


def in_words(number: LayoutCount) -> str:
    """Such as "1,234 exactly" or "about 2.5 x 10^40, standard error 12%"."""
    if number.kind is Certainty.EXACT:
        return f"{number.value:,} exactly" + _rounded(number)
    if number.kind is Certainty.ESTIMATE:
        return f"about {_power(number.log)}, standard error {max(0.1, 100 * number.error):.2g}%"
    return f"at least {number.value:,}" + _rounded(number) if number.value else "none found; nothing is proven"


def _rounded(number: LayoutCount) -> str:
    return f" ({_power(number.log)})" if number.value is not None and number.value >= 10**9 else ""


def _power(log: float) -> str:
    power = math.floor(log / math.log(10))
    digits = math.exp(log - power * math.log(10))
    if f"{digits:.1f}" == "10.0":
        digits, power = 1.0, power + 1
    return f"{digits:.1f} x 10^{power}" if power >= 6 else f"{math.exp(log):,.0f}"


def _rules(brief: Brief) -> str:
    least, most = (f"{share:g}" for share in brief.rules.solid)
    return (
        f"{symmetries.told(brief.piece.symmetry)}, worked {brief.piece.worked}; "
        f"blocks {brief.rules.narrowest} to {brief.rules.widest} pinholes wide, "
        f"ground {brief.rules.narrowest_ground}, margin {brief.rules.margin}, "
        f"splits {brief.rules.splits}, solid {least}-{most}"
    )


def _how(each: Counted, brief: Brief) -> str:
    found = each.found
    work = f"{found.visited:,} states looked at, {found.states:,} at once"
    if found.layouts.kind is Certainty.EXACT:
        return f"counted by a sweep over the pinholes: {work}"
    if found.layouts.kind is Certainty.ESTIMATE:
        return f"mean of {found.runs} random sweeps, seed {brief.run.seed}: {work}"
    which = f"those of {found.among} symmetry, counted exactly" if found.among else "those that one sweep followed"
    return f"an estimate would be too rough; these are {which}: {work}; --effort 4 tries harder"


def numbers(brief: Brief, found: Sequence[Counted | CountedApart]) -> dict[str, Any]:
    """The numbers for a program, and what they number: of several symmetries an entry for each at every size."""
    kept = ("narrowest", "widest", "narrowest_ground", "margin", "splits", "solid")
    rules = {name: value for name, value in brief.rules.told().items() if name in kept}
    return {
        "brief": {"symmetry": brief.piece.symmetry, "worked": brief.piece.worked, **rules},
        "seed": brief.run.seed,
        "effort": brief.run.effort,
        "sizes": [entry for each in found for entry in _entries(each)],
    }


def write_numbers(out: Path, brief: Brief, found: Sequence[Counted | CountedApart]) -> None:
    """Write the numbers as JSON, in one step. Raises OSError."""
    data = {"format": FORMAT, "version": VERSION, **numbers(brief, found)}
    write_whole(out, json.dumps(data, indent=1) + "\n")


def _entries(each: Counted | CountedApart) -> list[dict[str, Any]]:
    size = {"half_size": each.size.half_size, "pairs": each.size.pairs}
    if isinstance(each, CountedApart):
        return [{**size, "symmetry": name, "layouts": _number(number)} for name, number in each.layouts.items()]
    return [{**size, **_as_data(each)}]


def _as_data(each: Counted) -> dict[str, Any]:
    return {
        "layouts": _number(each.found.layouts),
        "up_to_turning_and_reflecting": _number(each.found.classes),
        "states": each.found.states,
        "visited": each.found.visited,
        "runs": each.found.runs,
        "among": each.found.among,
    }


def _number(number: LayoutCount) -> dict[str, Any]:
    """The value in digits, as a text since it may be longer than numbers of other programs; or its logarithm."""
    data: dict[str, Any] = {"kind": number.kind.value}
    if number.value is not None:
        data["value"] = str(number.value)
    if number.kind is Certainty.ESTIMATE and math.isfinite(number.log):
        data |= {"log10": round(number.log / math.log(10), 6), "standard_error": round(number.error, 6)}
    return data

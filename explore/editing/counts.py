"""How many block layouts a brief allows, size by size: counted, put into words and into a file."""

from __future__ import annotations

import json
import math
from collections.abc import Callable, Sequence
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
from explore.storage.free import refuse_taken

FORMAT, VERSION = "stampwork count", 1
# Beyond this a sweep takes too much memory to say anything.
LARGEST = 64


@dataclass(frozen=True)
class Counted:
    """What was counted at one size. all_eight: whether every turn and reflection keeps the way of working."""

    size: Size
    found: answer.SpaceSize
    all_eight: bool

    @property
    def none(self) -> bool:
        """Whether it is certain that there is no layout."""
        return self.found.layouts.kind is Certainty.EXACT and self.found.layouts.value == 0


def refuse_to_count(brief: Brief, out: Path | None, force: bool) -> None:
    """Refused if a size is too large to count or the file cannot be written."""
    refuse_unless_plain("count", brief.piece)
    largest = max((size.half_size for size in sizes(brief)), default=0)
    if largest > LARGEST:
        raise BadInput(f"half-size {largest} is too large to count; allowed: half-sizes to {LARGEST}")
    if out is None:
        return
    if out.suffix != ".json":
        raise BadInput(f"--out is {out}; allowed: a file that ends in .json")
    if out.is_dir():
        raise BadInput(f"--out is {out}, a folder; allowed: a file that ends in .json")
    refuse_taken([out], force, "file")
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
        return any(each.found.layouts.log >= 0 for each in count_sizes(brief, lambda words: None))


def count_sizes(brief: Brief, watch: Callable[[str], None]) -> list[Counted]:
    """The numbers for every size of the brief, smallest first. watch: told what is being done."""
    found = []
    for size in sizes(brief):

        def at(words: str, half_size: int = size.half_size) -> None:
            watch(f"half-size {half_size}: {words}")

        space = Space(size.half_size, brief)
        numbers = answer.size(space, brief.run.effort, brief.run.seed, at)
        found.append(Counted(size, numbers, len(space.keeping) == len(EIGHT)))
    return found


def report(brief: Brief, found: Sequence[Counted]) -> list[str]:
    """The numbers in plain lines, and what they number."""
    lines = [_rules(brief)]
    for each in found:
        lines.append(f"half-size {each.size.half_size} ({each.size.pairs} pairs)")
        lines.append(f"  block layouts: {in_words(each.found.layouts)}")
        which = "turning and reflecting" + ("" if each.all_eight else " that keep the way of working")
        lines.append(f"  up to {which}: {in_words(each.found.classes)}")
        lines.append(f"  {_how(each, brief)}")
    lines.append("which pinholes lie in blocks is counted; stamp, stitches and fillings are set aside")
    return lines


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


def write_numbers(out: Path, brief: Brief, found: Sequence[Counted]) -> None:
    """Write the numbers as JSON, in one step. Raises OSError."""
    kept = ("narrowest", "widest", "narrowest_ground", "margin", "splits", "solid")
    rules = {name: value for name, value in brief.rules.told().items() if name in kept}
    data = {
        "format": FORMAT,
        "version": VERSION,
        "brief": {"symmetry": brief.piece.symmetry, "worked": brief.piece.worked, **rules},
        "seed": brief.run.seed,
        "effort": brief.run.effort,
        "sizes": [_as_data(each) for each in found],
    }
    write_whole(out, json.dumps(data, indent=1) + "\n")


def _as_data(each: Counted) -> dict[str, Any]:
    return {
        "half_size": each.size.half_size,
        "pairs": each.size.pairs,
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

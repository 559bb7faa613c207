"""Numbers of block layouts in words and in a file."""

from __future__ import annotations

import json
import math
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from constraints import symmetry as symmetries
from constraints.brief import Brief
from constraints.counting.answer import Certainty, LayoutCount
from explore.editing.counts import Counted, CountedApart, measured, measures_of
from explore.files import write_whole

FORMAT, VERSION = "stampwork count", 1


def report(brief: Brief, found: Sequence[Counted | CountedApart]) -> list[str]:
    """The numbers in plain lines, and what they number."""
    lines = [_rules(brief)]
    for each in found:
        pairs = each.form.pairs(brief.piece.first_way, brief.piece.passives)
        lines.append(f"{measured(each.form)} ({pairs} pairs)")
        lines += _apart(each) if isinstance(each, CountedApart) else _one(each, brief)
    of_repeat = " of one repeat" if any(each.form.repeating for each in found) else ""
    blocks = "" if brief.piece.headside is None else f", the {brief.piece.edging}"
    aside = f"stamp, stitches{blocks} and fillings are set aside"
    return [*lines, f"which pinholes{of_repeat} lie in blocks is counted; {aside}"]


def _one(each: Counted, brief: Brief) -> list[str]:
    classes = each.found.classes
    up = (
        f"up to {each.up_to}: {in_words(classes)}"
        if classes
        else "its repeat is too long to tell layouts up to shifting"
    )
    return [f"  block layouts: {in_words(each.found.layouts)}", f"  {up}", f"  {_how(each, brief)}"]


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
    edging = "" if brief.piece.headside is None else f" with {brief.piece.edging}"
    return (
        f"{symmetries.told(brief.piece.symmetry)}, worked {brief.piece.worked}{edging}; "
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
    told = ("form", "edging", "symmetry", "worked")
    piece = {name: getattr(brief.piece, name) for name in told}
    return {
        "brief": {**piece, **rules},
        "seed": brief.run.seed,
        "effort": brief.run.effort,
        "sizes": [entry for each in found for entry in _entries(each, brief)],
    }


def write_numbers(out: Path, brief: Brief, found: Sequence[Counted | CountedApart]) -> None:
    """Write the numbers as JSON, in one step. Raises OSError."""
    data = {"format": FORMAT, "version": VERSION, **numbers(brief, found)}
    write_whole(out, json.dumps(data, indent=1) + "\n")


def _entries(each: Counted | CountedApart, brief: Brief) -> list[dict[str, Any]]:
    size = {**measures_of(each.form), "pairs": each.form.pairs(brief.piece.first_way, brief.piece.passives)}
    if isinstance(each, CountedApart):
        return [{**size, "symmetry": name, "layouts": _number(number)} for name, number in each.layouts.items()]
    return [{**size, **_as_data(each)}]


def _as_data(each: Counted) -> dict[str, Any]:
    classes = each.found.classes
    return {
        "layouts": _number(each.found.layouts),
        **({"up_to": each.up_to, "up_to_turning_and_reflecting": _number(classes)} if classes else {}),
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

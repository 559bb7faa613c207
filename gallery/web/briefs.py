"""A brief in words."""

from __future__ import annotations

from constraints import symmetry as symmetries
from constraints.brief import Brief
from constraints.edging import FOOTSIDE
from constraints.explain import shown
from constraints.forms import FORMS


def in_words(brief: Brief) -> str:
    """What the brief asks for, in two or three sentences; what every brief says by itself is left out."""
    worked = FORMS[brief.form].asked_for(brief.worked)
    asked = [f"Up to {brief.pairs} pairs", worked, symmetries.told(brief.symmetry)]
    if brief.edging != FOOTSIDE:
        asked.append(f"edge of {brief.edging}{' on both sides' if brief.both_sides else ''}")
    if brief.half_size is not None:
        asked.append(f"half-size {_span(brief.half_size)}")
    if brief.width_mm is not None:
        asked.append(f"{shown(brief.width_mm)} mm wide")
    asked.append(f"pitch {_span(brief.pitch_mm)} mm")
    if brief.passives != 1:
        asked.append(f"{brief.passives} passive pairs at the edge")
    stitches = ", ".join(_stitch(brief, name) for name in brief.stitches)
    carried = f"Stamp: {brief.stamp}." if brief.stamp else "Without a stamp."
    words = [carried, f"{', '.join(asked)}.", f"Stitches: {stitches}."]
    solid = [round(100 * share) for share in brief.solid]
    further = [f"{solid[0]} to {solid[1]} % solid", f"seed {brief.seed}"]
    if brief.stamp:
        further.insert(0, f"match from {brief.least_match:.2f}")
    if brief.splits:
        further.insert(-1, f"at most {brief.splits} splits")
    sentence = ", ".join(further)
    return " ".join([*words, f"{sentence[0].upper()}{sentence[1:]}."])


def _stitch(brief: Brief, name: str) -> str:
    least = brief.least.get(name, 0)
    return f"{name.replace('-', ' ')} (at least {least})" if least else name.replace("-", " ")


def _span(span: tuple[float, float]) -> str:
    return shown(span[0]) if span[0] == span[1] else f"{shown(span[0])} to {shown(span[1])}"

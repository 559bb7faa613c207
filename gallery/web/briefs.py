"""A brief in words."""

from __future__ import annotations

from constraints import symmetry as symmetries
from constraints.brief import Brief
from constraints.forms import FORMS
from constraints.wording import shown


def in_words(brief: Brief) -> str:
    """What the brief asks for, in two or three sentences; what every brief says by itself is left out."""
    worked = FORMS[brief.piece.form].asked_for(brief.piece.worked)
    asked = [f"Up to {brief.rules.pairs} pairs", worked, symmetries.told(brief.piece.symmetry)]
    if brief.piece.headside is not None:
        asked.append(f"edge of {brief.piece.edging}{' on both sides' if brief.piece.both_sides else ''}")
    if brief.piece.half_size is not None:
        asked.append(f"half-size {_span(brief.piece.half_size)}")
    if brief.piece.width_mm is not None:
        asked.append(f"{shown(brief.piece.width_mm)} mm wide")
    asked.append(f"pitch {_span(brief.piece.pitch_mm)} mm")
    if brief.piece.passives != 1:
        asked.append(f"{brief.piece.passives} passive pairs at the edge")
    stitches = ", ".join(_stitch(brief, name) for name in brief.rules.stitches)
    carried = f"Stamp: {brief.stamp.name}." if brief.stamp.name else "Without a stamp."
    words = [carried, f"{', '.join(asked)}.", f"Stitches: {stitches}."]
    solid = [round(100 * share) for share in brief.rules.solid]
    further = [f"{solid[0]} to {solid[1]} % solid", f"seed {brief.run.seed}"]
    if brief.stamp.name:
        further.insert(0, f"match from {brief.rules.match:.2f}")
    if brief.rules.splits:
        further.insert(-1, f"at most {brief.rules.splits} splits")
    sentence = ", ".join(further)
    return " ".join([*words, f"{sentence[0].upper()}{sentence[1:]}."])


def _stitch(brief: Brief, name: str) -> str:
    least = brief.rules.least.get(name, 0)
    return f"{name.replace('-', ' ')} (at least {least})" if least else name.replace("-", " ")


def _span(span: tuple[float, float]) -> str:
    return shown(span[0]) if span[0] == span[1] else f"{shown(span[0])} to {shown(span[1])}"

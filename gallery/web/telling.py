"""What the page tells of each square, in figures and in words, and of the brief."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from constraints import symmetry as symmetries
from constraints import wording
from constraints.brief import UNKNOWN, Brief
from constraints.design import Design
from constraints.forms import FORMS, USUAL
from constraints.layout import lay
from constraints.links import round_corner
from constraints.pins import pins
from constraints.seams import seams_of
from constraints.stamp import Stamp
from constraints.symmetry import FRIEZES, SYMMETRIES
from gallery.looks.excerpt import TALL, shown
from gallery.seeing.knowing import KNOWN_AS, seen_if_any
from gallery.sheets.captions import FACTS, seams_told, stitches_used

# The symmetries from most to least.
BY_RANK = (*(name for name in SYMMETRIES if name != "none"), *FRIEZES, "none")


def told_of(design: Design, stamps: Sequence[Stamp] = ()) -> dict[str, Any]:
    """A square in figures and words. stamps: what it carries, as they were drawn. Shares are rounded as they are
    shown, so that filters do what they say."""
    stitches = [name.replace("-", " ") for name in stitches_used(design)]
    layout = lay(design)
    seams, seen = seams_of(layout), seen_if_any(design)
    return {
        "number": design.number,
        "pairs": design.pairs,
        "width": round(design.width_mm, 1),
        "size": _size(design),
        "form": _form(design),
        "pitch": round(design.pitch_mm, 2),
        "pins": pins(design),
        "symmetry": design.symmetry,
        "rank": BY_RANK.index(design.symmetry),
        "lies": ", ".join(_lying(design, stamps)),
        "known": "" if seen is None else KNOWN_AS[seen.known],
        "surely": None if seen is None else round(seen.score, 2),
        "solid": round(100 * layout.solid),
        "splits": design.splits,
        "seams": seams.number,
        "seam pins": len(seams.pins),
        "round corners": round_corner(layout.piece),
        "stitches": stitches,
        "kinds": len(stitches),
    }


def words_of(each: Mapping[str, Any]) -> dict[str, str]:
    """The figures of a square, as a caption says them."""
    splits = each["splits"]
    return {
        "pairs": f"{each['pairs']} pairs",
        "width": each["size"],
        "form": "" if each["form"] == USUAL else each["form"],
        "pitch": f"pitch {each['pitch']:g} mm",
        "rank": symmetries.told(each["symmetry"]),
        "lies": each["lies"],
        "known": each["known"],
        "solid": f"{each['solid']} % solid",
        "splits": f"{splits or 'no'} split{'' if splits == 1 else 's'}",
        "seams": seams_told(each["seams"], each["seam pins"]),
    }


def _size(design: Design) -> str:
    return f"{round(design.width_mm, 1):g} mm" if design.form.one_side else wording.measures(design)


def _lying(design: Design, stamps: Sequence[Stamp]) -> list[str]:
    """How the print lies, and whether it is left open."""
    told = ("how the print lies", "left open")
    return [words for name in told for words in FACTS[name].words(design, stamps) if words]


def _form(design: Design) -> str:
    """Such as "strip, 2 of 40 repeats shown, half scallop 3"."""
    words = [design.form.name]
    if design.form.repeating:
        words.append(shown(design, TALL) or design.form.told)
    if design.form.headside is not None:
        words.append(design.form.headside.name)
    return ", ".join(words)


def facts(each: Mapping[str, Any], forms: bool) -> list[tuple[str, str]]:
    """What is told of a square enlarged, as label and words. forms: whether its form is among it."""
    return [
        ("Pairs", str(each["pairs"])),
        *([("Form", each["form"])] if forms else []),
        ("Size", each["size"]),
        ("Pitch", f"{each['pitch']:g} mm"),
        ("Pins", str(each["pins"])),
        ("Symmetry", each["symmetry"]),
        ("The print lies", each["lies"] or "-"),
        ("Stitches", ", ".join(each["stitches"]) or "-"),
        ("The print is", each["known"] or "-"),
        ("Solid", f"{each['solid']} %"),
        ("Splits", str(each["splits"])),
        *([("Seams", seams_told(each["seams"], each["seam pins"]))] if each["seams"] else []),
        *([("Corner edging", f"{each['round corners']} pairs turn in it")] if each["round corners"] else []),
    ]


# --- the brief -------------------------------------------------------------------------------------------


def told_of_brief(brief: Brief) -> str:
    """What the brief asks for, in two or three sentences; what every brief says by itself is left out."""
    worked = FORMS[brief.piece.form].asked_for(brief.piece.worked)
    asked = [f"Up to {brief.rules.pairs} pairs", worked, symmetries.told(brief.piece.symmetry)]
    if brief.piece.headside is not None:
        asked.append(f"edge of {brief.piece.edging}{' on both sides' if brief.piece.both_sides else ''}")
    if brief.piece.half_size is not None:
        asked.append(f"half-size {_span(brief.piece.half_size)}")
    if brief.piece.width_mm is not None:
        asked.append(f"{wording.shown(brief.piece.width_mm)} mm wide")
    asked.append(f"pitch {_span(brief.piece.pitch_mm)} mm")
    if brief.piece.passives != 1:
        asked.append(f"{brief.piece.passives} passive pairs at the edge")
    stitches = ", ".join(_stitch(brief, name) for name in brief.rules.stitches)
    names = [each.name for each in brief.stamps if each.name]
    carried = f"{'Stamp' if len(names) == 1 else 'Stamps'}: {', '.join(names)}." if names else "Without a stamp."
    words = [carried, f"{', '.join(asked)}.", f"Stitches: {stitches}."]
    solid = [round(100 * share) for share in brief.rules.solid]
    further = [f"{solid[0]} to {solid[1]} % solid", f"seed {brief.run.seed}"]
    if names and brief.stamp.known != UNKNOWN:
        further.insert(0, f"{'the print' if len(names) == 1 else 'each print'} {KNOWN_AS[brief.stamp.known]}")
    if brief.rules.splits:
        further.insert(-1, f"at most {brief.rules.splits} splits")
    sentence = ", ".join(further)
    return " ".join([*words, f"{sentence[0].upper()}{sentence[1:]}."])


def _stitch(brief: Brief, name: str) -> str:
    least = brief.rules.least.get(name, 0)
    return f"{name.replace('-', ' ')} (at least {least})" if least else name.replace("-", " ")


def _span(span: tuple[float, float]) -> str:
    return wording.shown(span[0]) if span[0] == span[1] else f"{wording.shown(span[0])} to {wording.shown(span[1])}"

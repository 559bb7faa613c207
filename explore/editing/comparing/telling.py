"""Two squares compared in words."""

from __future__ import annotations

from collections.abc import Callable

from constraints.design import Design
from constraints.difference import difference
from constraints.differing import PinholeChange
from constraints.layout import lay
from constraints.pins import pins
from constraints.seams import seams_of
from constraints.wording import shown
from explore.editing.comparing.pair import Pair
from explore.lines import Row, columns
from explore.storage.listing import figures
from gallery.seeing.knowing import known_as
from gallery.seeing.traits import outstanding


def figures_of(design: Design) -> Row:
    """One of the two in figures."""
    from gallery.sheets.captions import stitches_used

    layout = lay(design)
    return {
        **figures(design),
        "pins": pins(design),
        "known": known_as(design) or None,
        "splits": design.splits,
        "seams": seams_of(layout).number,
        "in_blocks": layout.solid,
        "stitches": list(stitches_used(design)),
        "looks": outstanding(design),
    }


_MEASURES: dict[str, Callable[[Row], str]] = {
    "pairs": lambda row: str(row["pairs"]),
    "width": lambda row: f"{shown(row['width_mm'])} mm",
    "height": lambda row: f"{shown(row['height_mm'])} mm",
    "pitch": lambda row: f"{shown(row['pitch_mm'])} mm",
    "pins": lambda row: str(row["pins"]),
    "the print is": lambda row: row["known"] or "-",
    "splits": lambda row: str(row["splits"]),
    "seams": lambda row: str(row["seams"]),
    "in blocks": lambda row: f"{100 * row['in_blocks']:.1f}%",
    "stitches": lambda row: ", ".join(row["stitches"]) or "-",
    "looks": lambda row: ", ".join(row["looks"]) or "like most",
}


def compared(pair: Pair) -> list[tuple[str, str, str]]:
    """What holds for each of the two, a heading first in every row."""
    first, second = map(figures_of, pair.designs)
    one_side = all(design.form.one_side for design in pair.designs)
    return [(head, tell(first), tell(second)) for head, tell in _MEASURES.items() if head != "height" or not one_side]


def told(pair: Pair) -> Row:
    """The comparison in figures: the two, how the second lies on the first, and in how many pinholes they differ."""
    return {
        "squares": [
            {"called": name, **figures_of(design)} for name, design in zip(pair.names, pair.designs, strict=True)
        ],
        "lies": lie(pair),
        "pinholes": len(pair.found.change),
        "differing": pair.found.differing,
        "changes": [
            {"change": change.name.lower(), "told": words, "pinholes": n} for change, words, n in changes(pair)
        ],
    }


def changes(pair: Pair) -> list[tuple[PinholeChange, str, int]]:
    """The ways in which pinholes differ that occur, each with its words and how many."""
    first, second = pair.names
    alike = "alike, in another stitch or with other legs"
    if pair.found.eyes_differ:
        alike = "alike but for stitch, legs or an eye"
    words = {
        PinholeChange.GAINED: f"block in {second} only",
        PinholeChange.LOST: f"block in {first} only",
        PinholeChange.FILLING: "other filling of the ground",
        PinholeChange.ALIKE: alike,
    }
    found = [(change, told, pair.found.count(change)) for change, told in words.items()]
    return [each for each in found if each[2]]


def amount(pair: Pair, count: int) -> str:
    """Such as "120 pinholes, 7.4%"."""
    return f"{count} pinhole{'' if count == 1 else 's'}, {100 * count / len(pair.found.change):.1f}%"


def lie(pair: Pair) -> str:
    """How the second lies on the first, and which pinholes were compared."""
    found, second = pair.found, pair.names[1]
    words = f"{second} {found.turn}"
    if found.first.half_size != found.second.half_size and found.first.form.repeating:
        words += f"; {len(found.change)} pinholes of the shorter one compared"
    elif found.first.half_size != found.second.half_size:
        words += f"; half-sizes {found.first.half_size} and {found.second.half_size}: compared centre on centre"
        words += f" on the {len(found.change)} pinholes of the smaller"
    if found.first.worked != found.second.worked:
        words += f"; worked {found.first.worked} and {found.second.worked}"
    return words


def report(pair: Pair) -> list[str]:
    """The comparison in plain lines."""
    lines = [*columns([("", *pair.names), *compared(pair)]), lie(pair)]
    if not changes(pair):
        return [*lines, "the same, pinhole for pinhole"]
    told = [(words, amount(pair, count)) for _, words, count in changes(pair)]
    told.append(("differ in all", amount(pair, pair.found.differing)))
    if pair.found.first.form.repeating:
        moved = difference(pair.found.first, pair.found.second)
        told.append(("differ, moved along and turned over to lie closest", f"{100 * moved:.1f}%"))
    return [*lines, *columns(told)]

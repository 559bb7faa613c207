"""Two squares compared in words."""

from __future__ import annotations

from constraints.design import Design
from constraints.difference import difference
from constraints.differing import PinholeChange
from constraints.layout import lay
from constraints.pins import pins
from constraints.seams import seams_of
from constraints.wording import shown
from explore.editing.comparing.pair import Pair
from explore.lines import columns
from gallery.seeing.knowing import known_as


def _stitches(design: Design) -> str:
    from gallery.sheets.captions import stitches_used

    return ", ".join(stitches_used(design)) or "-"


_MEASURES = {
    "pairs": lambda design: str(design.pairs),
    "width": lambda design: f"{shown(design.width_mm)} mm",
    "height": lambda design: f"{shown(design.height_mm)} mm",
    "pitch": lambda design: f"{shown(design.pitch_mm)} mm",
    "pins": lambda design: str(pins(design)),
    "the print is": lambda design: known_as(design) or "-",
    "splits": lambda design: str(design.splits),
    "seams": lambda design: str(seams_of(lay(design)).number),
    "in blocks": lambda design: f"{100 * lay(design).solid:.1f}%",
    "stitches": _stitches,
}


def compared(pair: Pair) -> list[tuple[str, str, str]]:
    """What holds for each of the two, a heading first in every row."""
    first, second = pair.designs
    one_side = first.form.one_side and second.form.one_side
    return [(head, tell(first), tell(second)) for head, tell in _MEASURES.items() if head != "height" or not one_side]


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

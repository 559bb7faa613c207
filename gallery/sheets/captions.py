"""What a square is, in a few words under its picture."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from constraints.design import Design
from constraints.fillings import ALLOWED, OF_KIND
from constraints.layout import lay
from constraints.links import round_corner
from constraints.pins import pins
from constraints.seams import seams_of
from constraints.wording import measure, shown

BETWEEN = " \N{MIDDLE DOT} "


def stitches_used(design: Design) -> tuple[str, ...]:
    """Names of the stitches and fillings in a square, in the order in which a brief names them."""
    used = {block.stitch for block in design.blocks}
    used |= {OF_KIND[each.kind].name for each in design.fillings if each.places}
    return tuple(name for name in ALLOWED if name in used)


def facts(design: Design, part: str = "") -> list[str]:
    """The facts of a caption, each a few words that stay together on a line. part: what of it the picture shows, where
    that is not all."""
    return [f"{design.pairs} pairs", measure(design), f"pitch {shown(design.pitch_mm)} mm", *further(design, part)]


def further(design: Design, part: str = "") -> list[str]:
    """The facts beside pairs, size and pitch."""
    told = [f"{pins(design)} pins"]
    named = [name.replace("-", " ") for name in stitches_used(design)]
    if design.form.told and not part:
        told.append(design.form.told)
    if design.form.headside is not None:
        told.append(design.form.headside.name)
    told += [f"{name}," for name in named[:-1]] + named[-1:]
    if design.stamp is not None:
        told.append(f"match {design.stamp.match:.2f}")
    if design.splits:
        told.append(f"{design.splits} split" + ("s" if design.splits > 1 else ""))
    layout = lay(design)
    seams = seams_of(layout)
    if seams.number:
        told.append(seams_told(seams.number, len(seams.pins)))
    turning, headside = round_corner(layout.piece), design.form.headside
    if headside is not None and turning:
        told.append(f"{turning} pairs turn in each corner {headside.kind}")
    return [*told, part] if part else told


def seams_told(number: int, pins: int) -> str:
    """Such as "8 seams with 24 pins"; "no seams" where no block crosses a corner line in halves.

    Where both rows at a line are of one place each, no pin stands on it.
    """
    told = f"{number or 'no'} seam{'' if number == 1 else 's'}"
    return f"{told} with {pins} pin{'' if pins == 1 else 's'}" if pins else told


def wrapped(told: list[str], first_width: float, width: float, measure: Callable[[str], float]) -> list[str]:
    """Facts set in lines that measure no more than `width`, the first no more than `first_width`.

    A fact wider than a line is broken between its words; a word wider than a line stands on a line of its own.
    """
    lines = [""]
    used = 0.0
    for between_facts, words in _pieces(told, min(first_width, width), measure):
        between = (" " if lines[-1].endswith(",") else between_facts) if lines[-1] else ""
        wide = measure(words)
        longer = used + (measure(between) if between else 0.0) + wide
        if between and longer > (width if len(lines) > 1 else first_width):
            lines.append(words)
            used = wide
        else:
            lines[-1] += between + words
            used = longer
    return lines


def _pieces(told: list[str], width: float, measure: Callable[[str], float]) -> Iterator[tuple[str, str]]:
    """What must stay together, each with what stands before it on the same line."""
    for fact in told:
        words = [fact] if measure(fact) <= width else fact.split(" ")
        yield BETWEEN, words[0]
        for word in words[1:]:
            yield " ", word

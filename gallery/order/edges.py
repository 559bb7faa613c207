"""Outline and edges of a piece in words: what it is, where footside and headside lie, what runs along them."""

from __future__ import annotations

from constraints.design import Design
from constraints.piece import LEFT_EDGE, RIGHT_EDGE, ROUND
from constraints.wording import measures, shown
from gallery.hands import Side


def outline(design: Design) -> str:
    """What is made and how large, such as "a square 95 mm by 95 mm"."""
    words = f"a {design.form.name} {measures(design).replace(' x ', ' mm by ')}"
    unit = design.pitch_mm / 2
    if design.form.has_opening:
        width, height = (shown(2 * side * unit) for side in design.form.opening)
        words += f" round an opening of {width} mm by {height} mm"
    if strip := design.form.repeating:
        words += f", {strip.repeats} repeats of {strip.rows} rows ({shown(strip.rows * unit)} mm)"
    return words


def edges(design: Design, side: Side) -> str:
    """What lies along its edges, and from which of them pairs are counted: a few words and a sentence."""
    left, right = side("left"), side("right")
    kinds = [_edge(design, edge) for edge in range(design.form.edges(design.worked))]
    near = counted_from(design)
    if design.worked != ROUND:
        place = f"Pairs are counted from the {near} on the {left}."
        if kinds[0] == kinds[1]:
            place = place if near == "footside" else f"Pairs are counted from the {left}."
            return f"{_either(design, kinds[0])}. {place}"
        return f"{kinds[0]} on the {left}, {kinds[1]} on the {right}. {place}"
    if len(kinds) == 1:
        return f"{kinds[0].replace('headside', 'headside all round')}. The {near} is on the {left}."
    outer_left = f"The outer edge is on the {left}, the inner edge on the {right}."
    if kinds[0] == kinds[1]:
        return f"{kinds[0]} at the outer edge and at the inner edge. {outer_left}"
    return f"{kinds[0]} at the outer edge, {kinds[1]} at the inner edge. {outer_left}"


def counted_from(design: Design) -> str:
    """The edge from which pairs are counted."""
    return "headside" if LEFT_EDGE in dressed(design) else "footside"


def far_edge(design: Design) -> str:
    """The edge where the last pair runs; "" if there is none."""
    if design.form.edges(design.worked) == 1:
        return ""
    return "inner edge" if design.worked == ROUND else "other edge"


def dressed(design: Design) -> tuple[int, ...]:
    """The edges that have a headside."""
    return design.form.headside_edges


def footsides(design: Design) -> tuple[tuple[str, int], ...]:
    """What is worked as a footside is, such as "footside" or "footside and scalloped edge", each with its passives."""
    found: dict[int, dict[str, None]] = {}
    for edge, count in enumerate(design.form.passives(design.worked, design.passives)):
        if edge not in dressed(design):
            found.setdefault(count, {})["footside"] = None
        elif design.form.headside is not None and not design.form.headside.solid:
            found.setdefault(count, {})[design.form.headside.as_footside] = None
    return tuple((" and ".join(names), count) for count, names in found.items())


def edge_pairs(design: Design, edge: int) -> str:
    """The edge pair with its passives of an edge."""
    count = design.form.passives(design.worked, design.passives)[edge]
    return "the edge pair" + (f" and its {'passive' if count == 1 else f'{count} passives'}" if count else "")


def _edge(design: Design, edge: int) -> str:
    if edge in dressed(design) and design.form.headside is not None:
        return design.form.headside.words
    count = design.passives
    return f"footside of cloth with {count} {'passive' if count == 1 else 'passives'}" if count else "twisted footside"


def _either(design: Design, words: str) -> str:
    """The same words for both edges."""
    if RIGHT_EDGE in dressed(design):
        return words.replace("headside", "headside at either edge", 1)
    return words.replace("footside", "footside at either edge")

"""Outline and edges of a piece in words: what it is, where footside and headside lie, what runs along them."""

from __future__ import annotations

from collections.abc import Callable

from constraints.edging import SCALLOP, Headside
from constraints.explain import measures, shown
from constraints.forms import Frame, Strip, headside_edges, passives_of
from constraints.piece import LEFT_EDGE, RIGHT_EDGE, ROUND
from constraints.square import Design
from constraints.stitches import STITCHES

# "left" or "right" as she sees it.
Side = Callable[[str], str]


def outline(square: Design) -> str:
    """What is made and how large, such as "a square 95 mm by 95 mm"."""
    words = f"a {square.form.name} {measures(square).replace(' x ', ' mm by ')}"
    unit = square.pitch_mm / 2
    if isinstance(square.form, Frame):
        width, height = (shown(2 * side * unit) for side in square.form.opening)
        words += f" round an opening of {width} mm by {height} mm"
    if isinstance(square.form, Strip):
        words += f", {square.form.repeats} repeats of {square.form.rows} rows ({shown(square.form.rows * unit)} mm)"
    return words


def edges(square: Design, side: Side) -> str:
    """What lies along its edges, and from which of them pairs are counted: a few words and a sentence."""
    left, right = side("left"), side("right")
    kinds = [_edge(square, edge) for edge in range(square.form.edges(square.worked))]
    near = counted_from(square)
    if square.worked != ROUND:
        place = f"Pairs are counted from the {near} on the {left}."
        if kinds[0] == kinds[1]:
            place = place if near == "footside" else f"Pairs are counted from the {left}."
            return f"{_either(square, kinds[0])}. {place}"
        return f"{kinds[0]} on the {left}, {kinds[1]} on the {right}. {place}"
    if len(kinds) == 1:
        return f"{kinds[0].replace('headside', 'headside all round')}. The {near} is on the {left}."
    outer_left = f"The outer edge is on the {left}, the inner edge on the {right}."
    if kinds[0] == kinds[1]:
        return f"{kinds[0]} at the outer edge and at the inner edge. {outer_left}"
    return f"{kinds[0]} at the outer edge, {kinds[1]} at the inner edge. {outer_left}"


def counted_from(square: Design) -> str:
    """The edge from which pairs are counted."""
    return "headside" if LEFT_EDGE in dressed(square) else "footside"


def far_edge(square: Design) -> str:
    """The edge where the last pair runs; "" if there is none."""
    if square.form.edges(square.worked) == 1:
        return ""
    return "inner edge" if square.worked == ROUND else "other edge"


def dressed(square: Design) -> tuple[int, ...]:
    """The edges that have a headside."""
    form = square.form
    return () if form.headside is None else headside_edges(form)


def footsides(square: Design) -> tuple[tuple[str, int], ...]:
    """What is worked as a footside is, such as "footside" or "footside and scalloped edge", each with its passives."""
    found: dict[int, dict[str, None]] = {}
    for edge, count in enumerate(passives_of(square.form, square.worked, square.passives)):
        if edge not in dressed(square):
            found.setdefault(count, {})["footside"] = None
        elif square.form.headside is not None and not square.form.headside.solid:
            found.setdefault(count, {})["scalloped edge"] = None
    return tuple((" and ".join(names), count) for count, names in found.items())


def edge_pairs(square: Design, edge: int) -> str:
    """The edge pair with its passives of an edge."""
    count = passives_of(square.form, square.worked, square.passives)[edge]
    return "the edge pair" + (f" and its {'passive' if count == 1 else f'{count} passives'}" if count else "")


def headside_words(headside: Headside) -> str:
    """Such as "headside of fans in cloth stitch"."""
    if not headside.solid:
        count = "1 passive" if headside.passives == 1 else f"{headside.passives} passives"
        return f"headside of ground scallops, a spider of {headside.legs} legs in each and {count} along them"
    stitch = STITCHES[headside.stitch].words
    if headside.kind != SCALLOP:
        return f"headside of fans in {stitch}"
    return f"headside, a scallop in {stitch} with {headside.pairs} pairs at its narrowest"


def _edge(square: Design, edge: int) -> str:
    if edge in dressed(square) and square.form.headside is not None:
        return headside_words(square.form.headside)
    count = square.passives
    return f"footside of cloth with {count} {'passive' if count == 1 else 'passives'}" if count else "twisted footside"


def _either(square: Design, words: str) -> str:
    """The same words for both edges."""
    if RIGHT_EDGE in dressed(square):
        return words.replace("headside", "headside at either edge", 1)
    return words.replace("footside", "footside at either edge")

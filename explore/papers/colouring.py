"""Threads that she wants coloured, such as 7a=crimson: the left thread of the pair that hangs seventh."""

from __future__ import annotations

import difflib
from collections.abc import Sequence

from matplotlib.colors import CSS4_COLORS, is_color_like, to_hex

from constraints.working.ends import ends_of
from constraints.working.threads import play
from constraints.working.work import Work
from explore.asking.names import ThreadColour
from explore.bad_input import BadInput


def coloured(work: Work, asked: Sequence[ThreadColour]) -> dict[int, str]:
    """The threads to colour, by their numbers in `threads.play`. Raises BadInput."""
    hung = [length for held in ends_of(work).hung for length in held.segments]
    begin = play(work).begin
    found: dict[int, str] = {}
    for each in asked:
        if not 1 <= each.pair <= len(hung):
            nearest = min(max(each.pair, 1), len(hung))
            there = f"pairs are 1 to {len(hung)} as they are hung; the nearest is {nearest}"
            raise BadInput(f"colour: '{each}': {there}", of="colour")
        colour = each.colour.lower()
        if colour not in CSS4_COLORS and not (colour.startswith("#") and is_color_like(colour)):
            close = difflib.get_close_matches(colour, CSS4_COLORS, 1)
            hint = f"; did you mean {close[0]}?" if close else ""
            raise BadInput(
                f"colour: {each.colour!r} is no colour; a colour is a CSS name or #rrggbb{hint}", of="colour"
            )
        threads = begin[hung[each.pair - 1]].tolist()
        for thread in threads if not each.thread else [threads["ab".index(each.thread)]]:
            found[thread] = to_hex(CSS4_COLORS.get(colour, colour))
    return found


def told(asked: Sequence[ThreadColour]) -> list[str]:
    """What the picture says of its coloured threads."""
    if not asked:
        return []
    names = ", ".join(str(each).replace("=", " ") for each in asked)
    return [
        f"Coloured: {names}, numbered as the pairs are hung (a left, b right)",
        "Workers change places with passives, and in half stitch threads change partners: so a bobbin wanders",
    ]

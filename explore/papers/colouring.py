"""Threads that she wants coloured, such as 7a=crimson: the left thread of the pair that hangs seventh."""

from __future__ import annotations

import difflib
import re
from collections.abc import Sequence

from matplotlib.colors import CSS4_COLORS, is_color_like, to_hex

from constraints.working.ends import ends_of
from constraints.working.threads import play
from constraints.working.work import Work
from explore.bad_input import BadInput

_ONE = re.compile(r"\s*([0-9]{1,5})\s*([a-z]?)\s*=\s*(\S+)\s*", re.ASCII)
_ALLOWED = "a pair as it is hung, its thread a (left) or b (right), or neither for both, and a colour: 7a=crimson"


def coloured(work: Work, asked: Sequence[str]) -> dict[int, str]:
    """The threads to colour, by their numbers in `threads.play`. Raises BadInput."""
    hung = [length for held in ends_of(work).hung for length in held.segments]
    begin = play(work).begin
    found: dict[int, str] = {}
    for text in asked:
        read = _ONE.fullmatch(text)
        if read is None:
            raise BadInput(f"--colour: {text!r} is not {_ALLOWED}")
        if read[2] not in ("", "a", "b"):
            raise BadInput(f"--colour: {text!r}: a pair has the threads a and b; the nearest is {read[1]}b={read[3]}")
        number, side, colour = int(read[1]), read[2], read[3].lower()
        if not 1 <= number <= len(hung):
            nearest = min(max(number, 1), len(hung))
            raise BadInput(f"--colour: {text!r}: pairs are 1 to {len(hung)} as they are hung; the nearest is {nearest}")
        if colour not in CSS4_COLORS and not (colour.startswith("#") and is_color_like(colour)):
            close = difflib.get_close_matches(colour, CSS4_COLORS, 1)
            hint = f"; did you mean {close[0]}?" if close else ""
            raise BadInput(f"--colour: {read[3]!r} is no colour; a colour is a CSS name or #rrggbb{hint}")
        threads = begin[hung[number - 1]].tolist()
        for thread in threads if not side else [threads["ab".index(side)]]:
            found[thread] = to_hex(CSS4_COLORS.get(colour, colour))
    return found


def told(asked: Sequence[str]) -> list[str]:
    """What the picture says of its coloured threads."""
    if not asked:
        return []
    names = ", ".join(text.replace("=", " ") for text in asked)
    return [
        f"Coloured: {names}, numbered as the pairs are hung (a left, b right)",
        "Workers change places with passives, and in half stitch threads change partners: so a bobbin wanders",
    ]

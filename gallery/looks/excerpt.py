"""The part of a long strip that is shown where there is little room."""

from __future__ import annotations

from dataclasses import replace

from constraints.forms import Strip, bounds
from constraints.repeats import repeat_of, unrolled
from constraints.square import Design


def excerpt(square: Design, most: float) -> Design:
    """The first repeats of a strip, two at least, as many as are no longer than `most` times its width; any other piece
    and a shorter strip whole."""
    form = square.form
    if not isinstance(form, Strip):
        return square
    left, _, right, _ = bounds(form)
    repeats = max(2, int(most * (right - left) / form.rows))
    if repeats >= form.repeats:
        return square
    return unrolled(repeat_of(square).square, replace(form, repeats=repeats))


def shown(square: Design, most: float) -> str:
    """What of a strip an excerpt draws, such as "2 of 40 repeats shown"; "" if all of it."""
    drawn = excerpt(square, most).form
    if not isinstance(square.form, Strip) or not isinstance(drawn, Strip) or drawn == square.form:
        return ""
    return f"{drawn.repeats} of {square.form.repeats} repeats shown"

"""The part of a long strip that is shown where there is little room."""

from __future__ import annotations

from dataclasses import replace

from constraints.design import Design
from constraints.forms import Strip, bounds
from constraints.repeats import repeat_of, unrolled


def excerpt(design: Design, most: float) -> Design:
    """The first repeats of a strip, two at least, as many as are no longer than `most` times its width; any other piece
    and a shorter strip whole."""
    form = design.form
    if not isinstance(form, Strip):
        return design
    left, _, right, _ = bounds(form)
    repeats = max(2, int(most * (right - left) / form.rows))
    if repeats >= form.repeats:
        return design
    return unrolled(repeat_of(design).design, replace(form, repeats=repeats))


def shown(design: Design, most: float) -> str:
    """What of a strip an excerpt draws, such as "2 of 40 repeats shown"; "" if all of it."""
    drawn = excerpt(design, most).form
    if not isinstance(design.form, Strip) or not isinstance(drawn, Strip) or drawn == design.form:
        return ""
    return f"{drawn.repeats} of {design.form.repeats} repeats shown"

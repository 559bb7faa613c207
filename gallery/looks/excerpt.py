"""The part of a long strip that is shown where there is little room."""

from __future__ import annotations

from dataclasses import replace

from constraints.design import Design
from constraints.repeats import repeat_of, unrolled

# On sheets and pages a longer strip is shown in part, so many times as long as it is wide.
TALL = 1.6


def excerpt(design: Design, most: float) -> Design:
    """The first repeats of a strip, two at least, as many as are no longer than `most` times its width; any other piece
    and a shorter strip whole."""
    form = design.form.repeating
    if form is None:
        return design
    left, _, right, _ = form.bounds
    repeats = max(2, int(most * (right - left) / form.rows))
    if repeats >= form.repeats:
        return design
    return unrolled(repeat_of(design).design, replace(form, repeats=repeats))


def shown(design: Design, most: float) -> str:
    """What of a strip an excerpt draws, such as "2 of 40 repeats shown"; "" if all of it."""
    whole, drawn = design.form.repeating, excerpt(design, most).form.repeating
    if whole is None or drawn is None or drawn == whole:
        return ""
    return f"{drawn.repeats} of {whole.repeats} repeats shown"

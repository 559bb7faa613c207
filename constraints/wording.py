"""Numbers and measures as texts have them."""

from __future__ import annotations

import math

from constraints.design import Design

# Two numbers that are not alike are told with so many decimals at the most.
_DECIMALS = 6


def shown(number: float) -> str:
    """A number for a sentence: at most two decimals, none that say nothing."""
    return f"{round(number, 2):.2f}".rstrip("0").rstrip(".")


def shown_apart(one: float, other: float) -> tuple[str, str]:
    """Two numbers for a sentence that says they differ: with as many decimals as tell them apart."""
    for decimals in range(2, _DECIMALS + 1):
        told = f"{one:.{decimals}f}", f"{other:.{decimals}f}"
        if told[0] != told[1]:
            break
    return told[0].rstrip("0").rstrip("."), told[1].rstrip("0").rstrip(".")


def rounded_up(number: float, decimals: int = 0) -> str:
    """What must be had at least, so many decimals: more rather than less, but for what arithmetic leaves behind."""
    least = math.ceil(number * 10**decimals - 1e-6) / 10**decimals
    return f"{least:.{decimals}f}"


def measures(design: Design) -> str:
    """Finished width and height, such as "95 x 95 mm"."""
    return f"{shown(design.width_mm)} x {shown(design.height_mm)} mm"


def measure(design: Design) -> str:
    """The side of a square, such as "95 mm", or both sides of another form."""
    return f"{shown(design.width_mm)} mm" if design.form.one_side else measures(design)


def shown_pitch(pitch_mm: tuple[float, float]) -> str:
    """A pitch or a range of pitches, such as "4-5 mm"."""
    finest, coarsest = (shown(end) for end in pitch_mm)
    return f"{finest} mm" if finest == coarsest else f"{finest}-{coarsest} mm"

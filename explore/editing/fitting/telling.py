"""The ways to fit as a table."""

from __future__ import annotations

import math
from collections.abc import Sequence

from constraints.wording import rounded_up, shown
from explore.editing.fitting.fits import Fit, Fitting
from explore.lines import columns

_HEADS = ("way", "size", "off by", "pitch", "made of", "pairs", "pins", "thread", "hours")
# Of frames made of a strip: pinholes worked otherwise than the strip has them.
_CHANGED = ("changed at corners", "at turnovers")


def table(fitting: Fitting, fits: Sequence[Fit]) -> list[str]:
    """One line a way, under its heads."""
    rows = [_HEADS, *(_row(fitting, number, fit) for number, fit in enumerate(fits, 1))]
    if any(fit.turned for fit in fits):
        told = [_CHANGED, *(_changed(fit) for fit in fits)]
        rows = [(*row[:5], *each, *row[5:]) for row, each in zip(rows, told, strict=True)]
    return columns(rows)


def _row(fitting: Fitting, number: int, fit: Fit) -> tuple[str, ...]:
    took, sized = fitting.takes(fit), fit.sized
    low, high = took.hours
    return (
        str(number),
        f"{shown(sized.size[0])} x {shown(sized.size[1])} mm",
        f"{shown(sized.error)} mm",
        f"{shown(sized.pitch_mm)} mm",
        ", ".join([_made_of(fit), *([fit.variant.told] if fit.variant.told else [])]),
        str(took.pairs),
        str(took.pins),
        f"{rounded_up(took.thread_m)} m",
        f"{math.floor(low)} to {rounded_up(high)}",
    )


def _changed(fit: Fit) -> tuple[str, str]:
    return (fit.turned.at_corners.told, fit.turned.at_turnovers.told) if fit.turned else ("0", "0")


def _made_of(fit: Fit) -> str:
    """Repeats, and of a frame the numbers of the corner and the turnovers."""
    sized = fit.sized
    if fit.turned is None:
        return sized.form.told or sized.form.name
    across, down = fit.turned.turnovers
    turned = f"turnover {across}" if across == down else f"turnovers {across} and {down}"
    return f"{sized.repeats[0]} and {sized.repeats[1]} repeats from corner {fit.turned.corner} to {turned}"

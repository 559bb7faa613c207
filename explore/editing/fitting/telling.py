"""The ways to fit as a table."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

from constraints.wording import rounded_up, shown
from explore.editing.fitting.fits import Fit, Fitting
from explore.lines import Row, RowTable

_TOLD: dict[str, Callable[[Row], str]] = {
    "way": lambda row: str(row["way"]),
    "size": lambda row: f"{shown(row['width_mm'])} x {shown(row['height_mm'])} mm",
    "off by": lambda row: f"{shown(row['off_by_mm'])} mm",
    "pitch": lambda row: f"{shown(row['pitch_mm'])} mm",
    "made of": lambda row: row["made_of"],
    # Of frames made of a strip: pinholes worked otherwise than the strip has them.
    "changed at corners": lambda row: row["changed_at_corners"],
    "at turnovers": lambda row: row["changed_at_turnovers"],
    "pairs": lambda row: str(row["pairs"]),
    "pins": lambda row: str(row["pins"]),
    "thread": lambda row: f"{rounded_up(row['thread_m'])} m",
    "hours": lambda row: f"{math.floor(row['hours'][0])} to {rounded_up(row['hours'][1])}",
}


def table(fitting: Fitting, fits: Sequence[Fit]) -> RowTable:
    """A row a way."""
    left_out = () if any(fit.turned for fit in fits) else ("changed at corners", "at turnovers")
    told = {head: tell for head, tell in _TOLD.items() if head not in left_out}
    return RowTable(told, [_row(fitting, number, fit) for number, fit in enumerate(fits, 1)])


def _row(fitting: Fitting, number: int, fit: Fit) -> Row:
    took, sized, turned = fitting.takes(fit), fit.sized, fit.turned
    return {
        "way": number,
        "width_mm": sized.size[0],
        "height_mm": sized.size[1],
        "off_by_mm": sized.error,
        "pitch_mm": sized.pitch_mm,
        "made_of": ", ".join([_made_of(fit), *([fit.variant.told] if fit.variant.told else [])]),
        "changed_at_corners": turned.at_corners.told if turned else "0",
        "changed_at_turnovers": turned.at_turnovers.told if turned else "0",
        "pairs": took.pairs,
        "pins": took.pins,
        "thread_m": took.thread_m,
        "hours": took.hours,
    }


def _made_of(fit: Fit) -> str:
    """Repeats, and of a frame the numbers of the corner and the turnovers."""
    sized = fit.sized
    if fit.turned is None:
        return sized.form.told or sized.form.name
    across, down = fit.turned.turnovers
    turned = f"turnover {across}" if across == down else f"turnovers {across} and {down}"
    return f"{sized.repeats[0]} and {sized.repeats[1]} repeats from corner {fit.turned.corner} to {turned}"

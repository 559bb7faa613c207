"""The table of a survey, one line a row."""

from __future__ import annotations

from collections.abc import Mapping

from explore.editing.budget.frontier import Verdict
from explore.editing.budget.survey import Survey
from explore.editing.budget.words import best_told, half_sizes, pitches, span, with_verdict, wraps
from explore.lines import columns

_SIZES = ("pairs", "half-sizes", "size", "pitch", "wraps/cm")
_SHOWING = ("match", "its detail", "most detail", "readable")
HEAD = (*_SIZES, *_SHOWING, "fillings", "squares")


def table(survey: Survey, numbers: Mapping[int, tuple[int, ...]], reasons: Mapping[int, str]) -> list[str]:
    """A line a row under a line of headings; a row without squares says why in place of them.

    Without a stamp its columns are left out.
    """
    rows = [HEAD, *(_row(survey, pairs, numbers, reasons[pairs]) for pairs in survey.rows)]
    if survey.stamp is None:
        rows = [row[: len(_SIZES)] + row[len(_SIZES) + len(_SHOWING) :] for row in rows]
    return columns(rows)


def _row(survey: Survey, pairs: int, numbers: Mapping[int, tuple[int, ...]], reason: str) -> tuple[str, ...]:
    budget, afforded = survey.budget(pairs), survey.afforded(pairs)
    if not afforded:
        return (str(pairs), *["-"] * (len(HEAD) - 2), reason)
    shown, best = survey.shown(pairs), survey.best_print(budget)
    held = numbers[shown.size.half_size] if shown else ()
    fillings = ", ".join(with_verdict(budget, Verdict.FOUND)) or "-"
    return (
        str(pairs),
        half_sizes(afforded),
        f"{span(afforded[-1].width_mm)} mm",
        f"{span(pitches(afforded))} mm",
        span(wraps(afforded)),
        best_told(budget.match),
        "-" if best is None else f"{best.detail:.2f}",
        best_told(budget.detail),
        best_told(budget.readable),
        fillings,
        "-".join(f"{number:02d}" for number in dict.fromkeys((held[0], held[-1]))) if held else reason,
    )

"""Budgets in words: what a row of the table and of the sheet says."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any

from constraints.brief import Span
from constraints.fillings import FILLINGS, OF_KIND, UNITS
from constraints.wording import shown as length
from explore.editing.budget.frontier import Budget, Showing, Verdict
from explore.editing.budget.sizes import AffordedSize, measure_of
from explore.editing.budget.survey import Survey
from explore.lines import Row, RowTable
from gallery.seeing.knowing import KNOWN_AS

_DASH = "\N{EN DASH}"


def span(ends: Span, dash: str = "-") -> str:
    """A number or a range, at most one decimal."""
    low, high = (length(round(end, 1)) for end in sorted(ends))
    return low if low == high else f"{low}{dash}{high}"


def pitches(afforded: Sequence[AffordedSize]) -> Span:
    """The finest and the coarsest pitch of any of the sizes, mm."""
    return min(each.pitch_mm[0] for each in afforded), max(each.pitch_mm[1] for each in afforded)


def wraps(afforded: Sequence[AffordedSize]) -> Span:
    """Wraps per cm of the thickest and of the finest thread that the pitches ask for, whole."""
    ends = [round(end) for each in afforded for end in each.wraps]
    return min(ends), max(ends)


def measures(afforded: Sequence[AffordedSize], dash: str = "-") -> str:
    """The least and the greatest measure of any of the sizes."""
    return span((afforded[0].measure, afforded[-1].measure), dash)


def figure_name(figure: str) -> str:
    """A figure or a ground as she says it, with its legs."""
    return OF_KIND[figure].called(1, UNITS.get(figure))


def with_verdict(budget: Budget, verdict: Verdict) -> list[str]:
    """The figures and grounds on which that is the verdict, those told apart by their legs together."""
    found = [name for name, best in budget.verdicts.items() if best.value is verdict]
    told = []
    for filling in FILLINGS.values():
        kinds = [kind for kind in filling.kinds if kind in found]
        legs = [str(UNITS[kind].legs) for kind in kinds if kind in UNITS and UNITS[kind].legs]
        noun = filling.one if len(kinds) == 1 else filling.several
        told += [f"{noun} {', '.join(legs)}".strip()] if kinds else []
    return told


def heading(survey: Survey, budget: Budget) -> list[str]:
    """The lines beside a row of designs."""
    afforded, shown = survey.afforded(budget.pairs), survey.best_print(budget)
    if not afforded:
        return []
    last = afforded[-1]
    told = [
        measure_of(survey.brief).said(measures(afforded, _DASH)) if afforded[0].measure > 1 else _up_to(survey, last),
        f"{span(last.width_mm, _DASH)} mm wide",
        f"pitch {span(pitches(afforded), _DASH)} mm",
        f"thread {span(wraps(afforded), _DASH)} wraps/cm",
    ]
    if shown is not None:
        told.append(_known(survey, shown))
    return told + _fillings(budget)


def _up_to(survey: Survey, largest: AffordedSize) -> str:
    return f"up to {measure_of(survey.brief).said(str(largest.measure))}"


def _known(survey: Survey, shown: Showing) -> str:
    """How the print is known; of several the one that is known least."""
    which = f"{shown.name}, " if len(survey.stamps) > 1 else ""
    return f"{KNOWN_AS[shown.known]} ({which}{length(shown.size)} pitches)"


def _fillings(budget: Budget) -> list[str]:
    told = []
    for verdict, words in (
        (Verdict.FOUND, ""),
        (Verdict.ALONE, "without the stamp: "),
        (Verdict.NOT_FOUND, "not found: "),
    ):
        names = with_verdict(budget, verdict)
        if names:
            told.append(words + ", ".join(names))
    return told


def unfinished(survey: Survey) -> str:
    """What Ctrl-C left undone; "" for nothing."""
    if survey.left:
        first = survey.left[0]
        what = measure_of(survey.brief).said(str(first.measure))
        return f"stopped before {first.pairs} pairs ({what}) were worked out"
    if survey.unasked:
        return f"stopped before it was worked out whether there is room for {', '.join(survey.unasked)}"
    return ""


def _or_dash(name: str, tell: Callable[[Any], str]) -> Callable[[Row], str]:
    return lambda row: "-" if row[name] is None else tell(row[name])


def _held(row: Row) -> str:
    held = row["squares"]
    return (
        "-".join(f"{number:02d}" for number in dict.fromkeys((held[0], held[-1]))) if held else str(row["reason"] or "")
    )


_TOLD: dict[str, Callable[[Row], str]] = {
    "pairs": lambda row: str(row["pairs"]),
    "size": _or_dash("width_mm", lambda ends: f"{span(ends)} mm"),
    "pitch": _or_dash("pitch_mm", lambda ends: f"{span(ends)} mm"),
    "wraps/cm": _or_dash("wraps_per_cm", span),
    "the print is": _or_dash("known", str),
    "pitches": _or_dash("size_pitches", length),
    "fillings": lambda row: ", ".join(row["fillings"]) or "-",
    "squares": _held,
}
_OF_PRINTS = ("the print is", "pitches")


def table(survey: Survey, numbers: Mapping[int, tuple[int, ...]], reasons: Mapping[int, str]) -> RowTable:
    """A row for each of some budgets; one without squares says why in place of them.

    Without a stamp its columns are left out.
    """
    told = {head: tell for head, tell in _TOLD.items() if survey.stamps or head not in _OF_PRINTS}
    measured = {"pairs": told.pop("pairs"), measure_of(survey.brief).told: _or_dash("measures", span)}
    return RowTable({**measured, **told}, [_row(survey, pairs, numbers, reasons[pairs]) for pairs in survey.rows])


def _row(survey: Survey, pairs: int, numbers: Mapping[int, tuple[int, ...]], reason: str) -> Row:
    budget, afforded = survey.budget(pairs), survey.afforded(pairs)
    of_sizes = dict.fromkeys(("measures", "width_mm", "pitch_mm", "wraps_per_cm", "known", "size_pitches"))
    if not afforded:
        return {"pairs": pairs, **of_sizes, "fillings": [], "squares": [], "reason": reason}
    shown, best = survey.shown(pairs), survey.best_print(budget)
    return {
        "pairs": pairs,
        "measures": (afforded[0].measure, afforded[-1].measure),
        "width_mm": afforded[-1].width_mm,
        "pitch_mm": pitches(afforded),
        "wraps_per_cm": wraps(afforded),
        "known": None if best is None else KNOWN_AS[best.known],
        "size_pitches": None if best is None else best.size,
        "fillings": with_verdict(budget, Verdict.FOUND),
        "squares": numbers[shown.size.measure] if shown else (),
        "reason": reason or None,
    }

"""Budgets in words: what a row of the table and of the sheet says."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from constraints.brief import Span
from constraints.fillings import FILLINGS, OF_KIND, UNITS
from constraints.wording import shown as length
from explore.editing.budget.frontier import Budget, Showing, Verdict
from explore.editing.budget.sizes import AffordedSize
from explore.editing.budget.survey import Survey
from explore.lines import columns
from gallery.seeing.knowing import KNOWN_AS

_DASH = "\N{EN DASH}"
_SIZES = ("pairs", "half-sizes", "size", "pitch", "wraps/cm")
_SHOWING = ("the print is", "pitches")
HEAD = (*_SIZES, *_SHOWING, "fillings", "squares")


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


def half_sizes(afforded: Sequence[AffordedSize], dash: str = "-") -> str:
    return span((afforded[0].half_size, afforded[-1].half_size), dash)


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


def heading(budget: Budget, afforded: Sequence[AffordedSize], shown: Showing | None) -> list[str]:
    """The lines beside a row of squares. shown: the print that is known best, if there is one."""
    if not afforded:
        return []
    last = afforded[-1]
    sizes = f"up to half-size {last.half_size}"
    if afforded[0].half_size > 1:
        sizes = f"half-size {half_sizes(afforded, _DASH)}"
    told = [
        sizes,
        f"{span(last.width_mm, _DASH)} mm wide",
        f"pitch {span(pitches(afforded), _DASH)} mm",
        f"thread {span(wraps(afforded), _DASH)} wraps/cm",
    ]
    if shown is not None:
        told.append(f"{KNOWN_AS[shown.known]} ({length(shown.size)} pitches)")
    return told + _fillings(budget)


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
        "-" if best is None else KNOWN_AS[best.known],
        "-" if best is None else length(best.size),
        fillings,
        "-".join(f"{number:02d}" for number in dict.fromkeys((held[0], held[-1]))) if held else reason,
    )

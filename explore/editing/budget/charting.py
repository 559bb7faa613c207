"""The plot of a survey: which stairs and bars it has."""

from __future__ import annotations

from constraints import symmetry as symmetries
from constraints.fillings import OF_KIND
from constraints.forms import FORMS
from constraints.stitches import CLOTH
from explore.editing.budget.frontier import Reached, Verdict
from explore.editing.budget.record import known_from
from explore.editing.budget.sizes import measure_of
from explore.editing.budget.survey import Survey
from explore.editing.budget.words import figure_name, span
from gallery.looks.drawing import COLOURS
from gallery.looks.palette import BARS
from gallery.seeing.knowing import KNOWN_AS
from gallery.sheets.chart import Bar, Chart, Stair, StairsPanel

_PRINT = COLOURS[CLOTH][0]
_DASH = "\N{EN DASH}"
_PALE = " (pale: without the stamp)"
# So many numbers of pairs are named below at the most.
_NAMED = 12


def chart(survey: Survey) -> Chart:
    """How surely the print is known, and the fillings that find room, against pairs."""
    brief = survey.brief
    pairs = [each.pairs for each in survey.budgets]
    first = known_from(survey)
    asked = [name for name in survey.fillings if name not in survey.unasked]
    bars = [_bar(survey.reached, name, bool(survey.stamps)) for name in asked]
    pale = any(_begins(bar.partly, pairs) < _begins(bar.whole, pairs) for bar in bars)
    shown = survey.rows[:: -(-len(survey.rows) // _NAMED)]
    return Chart(
        title=f"{brief.called or 'Patterns without a stamp'}: what fits {span((pairs[0], pairs[-1]), _DASH)} pairs",
        note=f"{asked_for(survey)}; a budget reaches the best of all sizes that it affords",
        pairs=pairs,
        panel=_stamp(survey) if survey.stamps else None,
        bars=bars,
        bars_title=f"Fillings that find room{_PALE if pale else ''}",
        named=[(each, _told(survey, each)) for each in shown],
        under=(f"most: {measure_of(brief).told}", "its width, mm"),
        closed=[each for each in pairs if not survey.afforded(each)],
        closed_words="no size",
        mark=first if first is not None and first <= pairs[-1] and survey.stamps else None,
        mark_words=_known(survey, first),
    )


def _begins(first: int | None, pairs: list[int]) -> int:
    """Where a bar begins that holds from `first` pairs; past the last one if it does not."""
    return pairs[-1] + 1 if first is None else min(max(first, pairs[0]), pairs[-1] + 1)


def _known(survey: Survey, first: int | None) -> str:
    if not survey.stamps:
        return ""
    most = survey.budgets[-1].pairs
    words = KNOWN_AS[survey.asked]
    return f"not {words} with up to {most} pairs" if first is None or first > most else f"{words} from {first} pairs"


def asked_for(survey: Survey) -> str:
    """The brief in a line, for the head of a page."""
    brief = survey.brief
    width = "" if brief.piece.width_mm is None else f", {span((brief.piece.width_mm, brief.piece.width_mm))} mm wide"
    piece = brief.piece
    what = FORMS[piece.form].asked_for(piece.worked)
    return f"{symmetries.told(piece.symmetry)}, {what}{width}, pitch {span(piece.pitch_mm)} mm"


def _stamp(survey: Survey) -> StairsPanel:
    best = [each.eyes for each in survey.budgets]
    values = [None if each is None else each.value for each in best]
    measures = [None if each is None else each.measure for each in best]
    there = [Stair("the print", values, measures, _PRINT, 0.9)] if any(best) else []
    what = "the print" if len(survey.stamps) == 1 else "the print that is known least"
    return StairsPanel(f"Share of eyes that would name {what}", there, measure_of(survey.brief).told)


def _bar(reached: tuple[Reached, ...], name: str, stamped: bool) -> Bar:
    def first(least: Verdict) -> int | None:
        return min((f.size.pairs for f in reached if f.verdicts.get(name, Verdict.IMPOSSIBLE) >= least), default=None)

    whole, partly = first(Verdict.FOUND), first(Verdict.ALONE)
    if whole is not None:
        words = f"from {whole} pairs"
    elif partly is not None:
        words = f"from {partly} without the stamp"
    else:
        proven = all(f.verdicts.get(name) is Verdict.IMPOSSIBLE for f in reached)
        words = "impossible" if proven and reached else "not found"
    return Bar(figure_name(name), partly if stamped else whole, whole, words, BARS[OF_KIND[name].colour])


def _told(survey: Survey, pairs: int) -> tuple[str, str]:
    afforded = survey.afforded(pairs)
    if not afforded:
        return "none", ""
    return str(afforded[-1].measure), span(afforded[-1].width_mm, _DASH)

"""A survey as JSON: every number, and nothing of when, where or how fast it was made."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any

from constraints.brief import Span
from explore.editing.budget.frontier import Budget, Reached, Showing
from explore.editing.budget.sizes import AffordedSize, measure_of
from explore.editing.budget.survey import Survey
from gallery.seeing.knowing import surely

FORMAT, VERSION = "stampwork budget", 3


def to_text(survey: Survey, numbers: Mapping[int, tuple[int, ...]], reasons: Mapping[int, str]) -> str:
    """The text of budget.json. numbers: of the designs saved, by measure. reasons: of empty rows, by pairs."""
    brief = survey.brief
    told = {key: value for key, value in brief.rules.told().items() if key != "pairs"}
    data: dict[str, Any] = {
        "format": FORMAT,
        "version": VERSION,
        "stamps": _stamps(survey),
        "known_from_pairs": known_from(survey),
        "form": brief.piece.form,
        "measure": measure_of(brief).told,
        "worked": brief.piece.worked,
        "symmetry": brief.piece.symmetry,
        "passives": brief.piece.passives,
        "seed": brief.run.seed,
        "effort": brief.run.effort,
        "brief": told,
        "budgets": [_budget(survey, each) for each in survey.budgets],
        "rows": [_row(survey, pairs, numbers, reasons) for pairs in survey.rows],
        "sizes": [_reached(each, numbers) for each in survey.reached],
        "not_worked_out": [each.measure for each in survey.left],
    }
    return json.dumps(data, indent=1) + "\n"


def _stamps(survey: Survey) -> list[dict[str, Any]]:
    alone = survey.alone or (None,) * len(survey.stamps)
    return [
        {"name": stamp.name, "known_alone_pitches": None if fall is None else fall.size}
        for stamp, fall in zip(survey.stamps, alone, strict=False)
    ]


def known_from(survey: Survey) -> int | None:
    """The fewest pairs with which the print is known as surely as is asked, if they were met; of any budget, asked for
    or not."""
    shown = [(each.size.pairs, each.showing) for each in survey.reached if each.showing is not None]
    return min((pairs for pairs, showing in shown if surely(showing.known, survey.asked)), default=None)


def _budget(survey: Survey, budget: Budget) -> dict[str, Any]:
    afforded, best = survey.afforded(budget.pairs), survey.best_print(budget)
    return {
        "pairs": budget.pairs,
        "measures": [afforded[0].measure, afforded[-1].measure] if afforded else None,
        "print": None if best is None or budget.eyes is None else {"measure": budget.eyes.measure, **_shown(best)},
        "fillings": {
            name: {"room": best.value.words, "measure": best.measure} for name, best in budget.verdicts.items()
        },
    }


def _shown(showing: Showing) -> dict[str, Any]:
    return {
        "name": showing.name,
        "known": showing.known,
        "eyes": showing.eyes,
        "size_pitches": showing.size,
        "turn_degrees": showing.turn,
        "symmetry": showing.symmetry,
        "match": showing.match,
    }


def _row(
    survey: Survey, pairs: int, numbers: Mapping[int, tuple[int, ...]], reasons: Mapping[int, str]
) -> dict[str, Any]:
    shown = survey.shown(pairs)
    row: dict[str, Any] = {"pairs": pairs, "measure": None, "squares": []}
    if shown is not None:
        row.update(measure=shown.size.measure, squares=list(numbers.get(shown.size.measure, ())))
    if reasons.get(pairs):
        row["reason"] = reasons[pairs]
    return row


def _reached(reached: Reached, numbers: Mapping[int, tuple[int, ...]]) -> dict[str, Any]:
    showing = reached.showing
    return {
        **_size(reached.size),
        "print": None if showing is None else _shown(showing),
        "fillings": {name: verdict.words for name, verdict in reached.verdicts.items()},
        "squares": list(numbers.get(reached.size.measure, ())),
    }


def _size(size: AffordedSize) -> dict[str, Any]:
    def rounded(ends: Span) -> list[float]:
        return [round(end, 4) for end in ends]

    return {
        "measure": size.measure,
        "pairs": size.pairs,
        "pitch_mm": rounded(size.pitch_mm),
        "width_mm": rounded(size.width_mm),
        "wraps_per_cm": rounded(size.wraps),
    }

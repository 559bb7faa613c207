"""A survey as JSON: every number, and nothing of when, where or how fast it was made."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any

from constraints.brief import Span
from explore.editing.budget.frontier import Best, Budget, Reached
from explore.editing.budget.sizes import AffordedSize
from explore.editing.budget.survey import Survey

FORMAT, VERSION = "stampwork budget", 1


def to_text(survey: Survey, numbers: Mapping[int, tuple[int, ...]], reasons: Mapping[int, str]) -> str:
    """The text of budget.json. numbers: of the squares saved, by half-size. reasons: of empty rows, by pairs."""
    brief, stamp = survey.brief, survey.stamp
    told = {key: value for key, value in brief.rules.told().items() if key != "pairs"}
    data: dict[str, Any] = {
        "format": FORMAT,
        "version": VERSION,
        "stamp": None if stamp is None else stamp.name,
        "readable_print_pitches": None if survey.readable is None else survey.readable.size,
        "readable_from_pairs": readable_from(survey),
        "worked": brief.piece.worked,
        "symmetry": brief.piece.symmetry,
        "passives": brief.piece.passives,
        "seed": brief.run.seed,
        "effort": brief.run.effort,
        "brief": told,
        "budgets": [_budget(survey, each) for each in survey.budgets],
        "rows": [_row(survey, pairs, numbers, reasons) for pairs in survey.rows],
        "half_sizes": [_reached(each, numbers) for each in survey.reached],
        "not_worked_out": [each.half_size for each in survey.left],
    }
    return json.dumps(data, indent=1) + "\n"


def readable_from(survey: Survey) -> int | None:
    """The fewest pairs with which the stamp can be read, if they were met; of any budget, asked for or not."""
    pairs = [each.size.pairs for each in survey.reached if each.showing is not None and each.showing.readable > 0]
    return min(pairs, default=None)


def _budget(survey: Survey, budget: Budget) -> dict[str, Any]:
    afforded, best = survey.afforded(budget.pairs), survey.best_print(budget)
    return {
        "pairs": budget.pairs,
        "half_sizes": [afforded[0].half_size, afforded[-1].half_size] if afforded else None,
        "match": None if best is None else {**(_best(budget.match) or {}), "detail": best.detail},
        "most_detail": _best(budget.detail),
        "readable_match": _best(budget.readable),
        "fillings": {
            name: {"room": best.value.words, "half_size": best.half_size} for name, best in budget.verdicts.items()
        },
    }


def _best(best: Best[float] | None) -> dict[str, Any] | None:
    return None if best is None else {"value": best.value, "half_size": best.half_size}


def _row(
    survey: Survey, pairs: int, numbers: Mapping[int, tuple[int, ...]], reasons: Mapping[int, str]
) -> dict[str, Any]:
    shown = survey.shown(pairs)
    row: dict[str, Any] = {"pairs": pairs, "half_size": None, "squares": []}
    if shown is not None:
        row.update(half_size=shown.size.half_size, squares=list(numbers.get(shown.size.half_size, ())))
    if reasons.get(pairs):
        row["reason"] = reasons[pairs]
    return row


def _reached(reached: Reached, numbers: Mapping[int, tuple[int, ...]]) -> dict[str, Any]:
    showing = reached.showing
    return {
        **_size(reached.size),
        "stamp": None
        if showing is None
        else {
            "match": showing.match,
            "detail": showing.detail,
            "size_pitches": showing.size,
            "turn_degrees": showing.turn,
            "most_detail": showing.most_detail,
            "readable_match": showing.readable or None,
        },
        "fillings": {name: verdict.words for name, verdict in reached.verdicts.items()},
        "squares": list(numbers.get(reached.size.half_size, ())),
    }


def _size(size: AffordedSize) -> dict[str, Any]:
    def rounded(ends: Span) -> list[float]:
        return [round(end, 4) for end in ends]

    return {
        "half_size": size.half_size,
        "pairs": size.pairs,
        "pitch_mm": rounded(size.pitch_mm),
        "width_mm": rounded(size.width_mm),
        "wraps_per_cm": rounded(size.wraps),
    }

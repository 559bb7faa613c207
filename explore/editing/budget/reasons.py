"""Why a budget has no squares, in one line."""

from __future__ import annotations

from constraints.brief import Brief
from constraints.conflict import conflict
from constraints.explain import size_conflict
from constraints.solver import Status
from constraints.square_sizes import Size
from constraints.wording import shown_apart
from explore.editing.budget.survey import Survey
from explore.search.laying import why


def reason(survey: Survey, pairs: int) -> tuple[str, tuple[Brief, ...]]:
    """Why the row of a budget is empty, "" if it is not, and briefs that ask for as much as was reached."""
    brief = survey.brief
    too_few = size_conflict(brief.changed(pairs=pairs))
    if too_few:
        return too_few, ()
    if survey.shown(pairs) is not None:
        return "", ()
    tried = [each for each in survey.reached if each.size.pairs <= pairs]
    largest = tried[-1]
    own = largest.size.brief(brief)
    proven = conflict(own, Size(largest.size.half_size, own.piece.pitch_mm[0], largest.size.pairs), brief.run.effort)
    if proven:
        return proven.words, tuple(
            brief.changed(least=each.rules.least, solid=each.rules.solid) for each in proven.near
        )
    if survey.stamp is None:
        return _in_vain(largest.reason), ()
    matches = [(each.showing.match, each.size.half_size) for each in tried if each.showing is not None]
    if not matches:
        return why.too_large(own, survey.stamp), ()
    match, half_size = max(matches)
    if match < brief.rules.match:
        told, asked = shown_apart(match, brief.rules.match)
        words = f"{survey.stamp.name} matches {told} at best (half-size {half_size}), {asked} is asked for"
        return words, why.lower_matches(brief, match)
    return _in_vain(largest.reason), ()


def _in_vain(note: str) -> str:
    # The solver may have refused each composition; that proves nothing of the brief.
    told = f" ({note})" if note and note != Status.IMPOSSIBLE.value else ""
    return f"no square was found in the effort given{told}"

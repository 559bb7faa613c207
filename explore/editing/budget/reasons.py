"""Why a budget has no designs, in one line."""

from __future__ import annotations

from constraints.brief import Brief
from constraints.solver import Status
from constraints.wording import shown as length
from constraints.wording import shown_apart
from explore.editing.budget.sizes import measure_of
from explore.editing.budget.survey import Survey
from explore.search.laying import why
from explore.search.sizing import SIZING
from explore.search.workshops import workshop
from gallery.seeing.knowing import KNOWN_AS, surely


def reason(survey: Survey, pairs: int) -> tuple[str, tuple[Brief, ...]]:
    """Why the row of a budget is empty, "" if it is not, and briefs that ask for as much as was reached."""
    brief = survey.brief
    stamps = survey.stamps
    if not survey.afforded(pairs):
        too_few = SIZING[brief.piece.form].conflict(brief.changed(pairs=pairs))
        assert too_few is not None
        return too_few, ()
    if survey.shown(pairs) is not None:
        return "", ()
    tried = [each for each in survey.reached if each.size.pairs <= pairs]
    largest = tried[-1]
    own = largest.size.brief
    shop = workshop(own, *stamps)
    proven = shop.conflict()
    if proven:
        return proven.words, tuple(
            brief.changed(least=each.rules.least, solid=each.rules.solid) for each in proven.near
        )
    if not stamps:
        return _in_vain(largest.reason), ()
    shown = [(each.showing.score, each.size.measure, each.showing) for each in tried if each.showing is not None]
    if not shown:
        return shop.nowhere, ()
    _, measure, best = max(shown, key=lambda each: each[:2])
    where = f"({measure_of(brief).said(str(measure))}, {length(best.size)} pitches)"
    if not surely(best.known, brief.stamp.known):
        words = f"{best.name} is {KNOWN_AS[best.known]} at best {where}, {brief.stamp.known} is asked for"
        return words, (brief.changed(known=best.known),)
    if best.match < brief.rules.match:
        told, asked = shown_apart(best.match, brief.rules.match)
        words = f"{best.name} matches {told} where it is known best {where}, {asked} is asked for"
        return words, why.lower_matches(brief, best.match)
    return _in_vain(largest.reason), ()


def _in_vain(note: str) -> str:
    # The solver may have refused each composition; that proves nothing of the brief.
    told = f" ({note})" if note and note != Status.IMPOSSIBLE.value else ""
    return f"no square was found in the effort given{told}"

"""How surely a stamp is known in squares of one half-size: laid and blocked as the search begins it."""

from __future__ import annotations

from collections.abc import Sequence

from explore.editing.budget.frontier import Showing
from explore.search.squares.placing import Placing
from explore.search.squares.suited import LaidThere
from explore.search.squares.suiting import room, suiting

# So many places are laid at one half-size.
_PLACES = 10
# Where there is no room for a print that is known: such a share of the largest there is room for.
_NEARLY = 0.75


def lay_out(placings: Sequence[Placing], least: float) -> list[LaidThere]:
    """The stamp at the places that suit it best, those that have blocks. least: pitches from which it may be known."""
    least = min(least, _NEARLY * max(room(placings).values(), default=0.0))
    laid = [LaidThere(number, placings[number].lay(place)) for number, place in suiting(placings, least, _PLACES)]
    return [each for each in laid if each.laid.blocking is not None]


def showing(placings: Sequence[Placing], laid: Sequence[LaidThere]) -> Showing | None:
    """The best of laid stamps; None if there is none."""
    best = max(laid, key=lambda each: each.laid.score, default=None)
    if best is None or best.laid.seen is None:
        return None
    seen, place = best.laid.seen, best.laid.place
    return Showing(
        score=round(seen.score, 4),
        known=seen.known,
        size=place.size,
        turn=round(place.turn, 2),
        symmetry=placings[best.number].brief.piece.symmetry,
        match=round(best.laid.match, 4),
    )

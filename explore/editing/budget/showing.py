"""How well a stamp shows in squares of one half-size: laid and blocked as the search begins it."""

from __future__ import annotations

from collections.abc import Sequence

from constraints.brief import Brief
from explore.editing.budget.frontier import Showing
from explore.search.laying.falls import keeps_character
from explore.search.laying.laid import PlaceLaid, usable
from explore.search.squares.placing import Placing


def lay_out(placing: Placing) -> list[PlaceLaid]:
    """The stamp at the placing's places and at some more like the best of them, the most telling first.

    Prints in reverse are left out: their match tells of the band round them.
    """
    laid = [placing.lay(place) for place in placing.places if not place.reverse]
    laid += [placing.lay(place) for place in placing.more_places(laid) if not place.reverse]
    return sorted((each for each in laid if each.blocking is not None), key=lambda each: -each.worth)


def showing(laid: Sequence[PlaceLaid], brief: Brief, most_detail: float, least_size: float) -> Showing | None:
    """The best of laid stamps in numbers; None if there is none.

    most_detail: what the stamp shows at any size. least_size: pitches, the smallest print that keeps its character.
    """
    if not laid:
        return None
    best = max(laid, key=lambda each: (each.match, each.detail))
    kept = [each for each in laid if usable(each, brief)]
    readable = [
        each.match
        for each in kept
        if each.place.size >= least_size and keeps_character(each.match, each.detail, most_detail)
    ]
    return Showing(
        match=round(best.match, 4),
        detail=round(best.detail, 4),
        size=best.place.size,
        turn=round(best.place.turn, 2),
        most_detail=round(max((each.detail for each in kept), default=0.0), 4),
        readable=round(max(readable, default=0.0), 4),
    )

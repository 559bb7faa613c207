"""How surely stamps are known in pieces of one size: laid and blocked as the search begins it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from explore.editing.budget.frontier import Showing
from explore.search.workshop import Ground, LaidPrints


def showing(grounds: Mapping[int, Ground], laid: Sequence[LaidPrints]) -> Showing | None:
    """The best of laid stamps; None if there is none. grounds: by their numbers."""
    weakest = [(min(each.prints, key=lambda one: one.score), each.number) for each in laid]
    best, number = max(weakest, key=lambda each: each[0].score, default=(None, 0))
    if best is None or best.seen is None:
        return None
    return Showing(
        name=best.placement.stamp,
        score=round(best.seen.score, 4),
        known=best.seen.known,
        size=best.placement.size,
        turn=round(best.placement.turn, 2),
        symmetry=grounds[number].context.piece.symmetry,
        match=round(best.match, 4),
    )

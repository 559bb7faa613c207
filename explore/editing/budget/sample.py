"""A sample of different squares of one half-size, made as the search makes them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from constraints.brief import Brief
from constraints.design import Design
from explore.search.diversity import Collection
from explore.search.laying.laid import PlaceLaid
from explore.search.squares.workshop import SquareWorkshop

# So many squares stand in a row, and so many jobs are tried for them.
WANTED, _JOBS = 4, 12
# They take turns with so many of the best places of the stamp.
_PLACES = 4


def sample(workshop: SquareWorkshop, brief: Brief, laid: Sequence[PlaceLaid]) -> tuple[tuple[Design, ...], str]:
    """Up to four squares that differ, and what stood most in the way if there is none.

    laid: the stamp where a square may use it, the most telling first; without a stamp there is none.
    """
    if workshop.stamp is not None and not laid:
        return (), ""
    collection = Collection(brief.run.apart)
    notes: Counter[str] = Counter()
    for job in range(_JOBS):
        place = laid[job % min(len(laid), _PLACES)] if laid else None
        design, note = workshop.run(job, place)
        if design is None:
            notes[note] += 1
        elif collection.takes(design) and len(collection.designs) == WANTED:
            break
    reason = "" if collection.designs or not notes else notes.most_common(1)[0][0]
    return tuple(collection.designs), reason

"""What a reading assumes of a card becomes doubtful: dots that it fills in, and what one or two repeats leave open."""

from __future__ import annotations

from dataclasses import replace

from constraints.fillings import GATHERED
from constraints.lattice import Point
from explore.editing.redrafting.bed import Bed, joined
from explore.editing.redrafting.blank import USUAL
from explore.editing.redrafting.draft import Doubt, Draft
from explore.editing.redrafting.proposals import NoReading, read_edges
from explore.editing.redrafting.repeat import Repeat

# A dot that so many repeats lack is not lost in all of them.
BORNE_OUT = 3
# With more places filled in than this it is another thing than a strip with a few lost dots.
MOST_FILLED = 24
# Beside a figure's pin so many of the dots around it may be lost.
MOST_AROUND = 2


def with_assumed(draft: Draft, repeat: Repeat) -> Draft:
    """The draft with what its likeliest reading assumes among its doubtful dots.

    Filled in, and so taken: a place without a dot that no block can hold, and the dots that a figure with its pin lacks
    around it. Not taken: places beside those that have no dot either, and one that lies alone, a small block or a lost
    dot. What three repeats agree on is none of these. The same draft if its edge is that of no strip.
    """
    try:
        own, _, bed, readings = read_edges(repeat, USUAL)[0]
    except NoReading:
        return draft
    bare = bed.places - bed.pinned
    filled = {*readings.assumed, *_around_figures(bed, readings.loose)}
    if len(filled) > MOST_FILLED:
        return draft
    why = dict.fromkeys(sorted(filled), ("missing, no block can hold it", True))
    lone = {place for part in joined(bare - bed.barred, bed) if len(part) == 1 for place in part}
    for place in sorted(lone - _of_figures(bed)):
        why.setdefault(place, ("missing, a small block or a lost dot", False))
    for place in sorted(filled):
        for near in bed.around(place):
            if near in bare:
                why.setdefault(near, ("missing, as one beside it that no block can hold", False))
    doubts = {doubt.place: doubt for doubt in draft.doubts}
    there, (first, last) = {*draft.taken, *draft.taken_centres}, draft.rows
    for (x, y), (words, taken) in why.items():
        rows = range(first + (own.first + y - first) % own.rows, last + 1, own.rows)
        if len(rows) < BORNE_OUT:
            for row in rows:
                if (x, row) not in there:
                    doubts.setdefault((x, row), Doubt(0, (float(x), float(row)), (x, row), words, taken))
    return replace(draft, doubts=tuple(doubts.values()))


def _around_figures(bed: Bed, loose: tuple[Point, ...]) -> set[Point]:
    """The places that lack a dot around the pins in holes that would be figures with them."""
    found: set[Point] = set()
    for unit in GATHERED:
        for centre in loose if unit.pin_in_hole else ():
            square = bed.lattice_square(centre, unit.size)
            ring = {step for place in square for step in bed.steps(place)} - square
            missing = (ring & bed.places) - bed.pinned
            if ring <= bed.places and not square & bed.pinned and 0 < len(missing) <= MOST_AROUND:
                found |= missing
    return found


def _of_figures(bed: Bed) -> set[Point]:
    """The places of figures whose pins have dots."""
    found: set[Point] = set()
    for unit in GATHERED:
        for centre in bed.centres if unit.pin_in_hole else bed.pinned:
            square = bed.lattice_square(centre, unit.size) - {centre}
            if not square & bed.pinned:
                found |= square
    return found

"""Why a stamp finds no place under a brief, and the match that it reaches where it finds one."""

from __future__ import annotations

import math
from collections.abc import Sequence

from constraints import symmetry as symmetries
from constraints.brief import Brief
from constraints.square_sizes import sizes
from constraints.stamp import Stamp
from constraints.wording import shown, shown_apart
from explore.search.laying.laid import PlaceLaid, enough_for_reverse

# Matches are offered in the first of these steps, and in the second, which leaves more room.
_STEPS = (0.01, 0.05)


def too_large(brief: Brief, stamp: Stamp) -> str:
    """No print of the sizes and turns asked for lies whole in any part of the square."""
    asked_size = ""
    if brief.stamp.size is not None:
        least, most = brief.stamp.size
        asked_size = f" at {shown(least)} pitches" if least == most else f" at {shown(least)} to {shown(most)} pitches"
    half_size = max(size.half_size for size in sizes(brief))
    copies = "its copies keep clear of each other and" if brief.piece.symmetry != "none" else "it keeps clear"
    where = f"a square of half-size {half_size} with {symmetries.told(brief.piece.symmetry)}"
    return f"{stamp.name}{asked_size} finds no place in {where} where {copies} of the edge"


def no_place(brief: Brief, stamp: Stamp, laid: Sequence[PlaceLaid]) -> tuple[str, tuple[Brief, ...]]:
    """The stamp lies in several places but can be used in none: why, and briefs that would take the best of them."""
    every = [each for each in laid if len(each.target.inside)]
    if not every and brief.stamp.copies > 1:
        words = (
            f"{brief.stamp.copies} copies of {stamp.name} keep clear of each other in none of {len(laid)} places tried"
        )
        return words, tuple(brief.changed(copies=fewer) for fewer in range(brief.stamp.copies - 1, 0, -1))
    tried = [each for each in laid if each.blocking is not None]
    if not tried:
        return f"no blocking of {stamp.name} was found in the effort given", ()
    # In reverse it is the ground that shows a print, which must be close to be known.
    best = max([each for each in tried if enough_for_reverse(each)] or tried, key=lambda each: each.match)
    where = f"{shown(best.place.size)} pitches, turned {shown(best.place.turn)} degrees"
    if best.match >= brief.rules.match:
        least = min((each for each in tried if each.match >= brief.rules.match), key=lambda each: each.share)
        share, most = shown_apart(100 * least.share, 100 * brief.rules.solid[1])
        room = brief.changed(solid=(brief.rules.solid[0], min(1.0, math.ceil(20 * least.share + 1) / 20)))
        return f"{stamp.name} alone takes {share}% of the pinholes where it takes least, solid allows {most}%", (room,)
    reached = best.match
    told, asked = shown_apart(reached, brief.rules.match)
    words = f"{stamp.name} matches {told} in the best of {len(tried)} places tried ({where}), {asked} is asked for"
    return words, lower_matches(brief, reached)


def lower_matches(brief: Brief, reached: float) -> tuple[Brief, ...]:
    """The brief with a least match that is reached, and with one that leaves more room."""
    lower = dict.fromkeys(round(math.floor(reached / step + 1e-9) * step, 2) for step in _STEPS)
    return tuple(brief.changed(match=each) for each in lower)

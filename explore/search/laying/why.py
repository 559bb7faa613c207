"""Why a stamp finds no place under a brief, and the match that it reaches where it finds one."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from itertools import islice

from constraints import symmetry as symmetries
from constraints.brief import Brief
from constraints.square_sizes import sizes
from constraints.stamp import Stamp
from constraints.symmetry import SUITS
from constraints.wording import shown, shown_apart
from explore.search.laying.falls import Fall, known_from, sizes_known
from explore.search.laying.placement import Laid, enough_for_reverse
from explore.search.sizing import SIZING

# Matches are offered in the first of these steps, and in the second, which leaves more room.
_STEPS = (0.01, 0.05)
# Where a print has too little room to be known, room for so many larger sizes is offered.
_FURTHER = 3


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


def no_place(brief: Brief, stamp: Stamp, laid: Sequence[Laid]) -> tuple[str, tuple[Brief, ...]]:
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
    where = f"{shown(best.placement.size)} pitches, turned {shown(best.placement.turn)} degrees"
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


def unknown(
    brief: Brief,
    stamp: Stamp,
    laid: Sequence[Laid],
    fallen: Sequence[Fall],
    largest: float,
    has_room: Callable[[Brief, float], bool],
) -> tuple[str, tuple[Brief, ...]]:
    """The stamp is known in none of those laid, or what is known cannot be used: why, and briefs in which it may be.

    fallen: the stamp alone, at the sizes that fit and larger ones. largest: at which it lies anywhere, pitches.
    has_room: whether it lies anywhere under a brief, so large.
    """
    asked = brief.stamp.known
    solid = [each for each in laid if not each.target.reverse]
    known = [each for each in solid if each.known_as(asked)]
    if known:
        return no_place(brief, stamp, known)
    free = SIZING[brief.piece.form].symmetry(brief) == SUITS != brief.piece.symmetry
    near = [brief.changed(symmetry=SUITS)] if free else []
    seen = [each for each in solid if each.seen is not None]
    nearest = max(seen, key=lambda each: each.score, default=None)
    if nearest is not None and nearest.seen is not None:
        lower = brief.changed(known=nearest.seen.known)
        near += [lower] if nearest.match >= brief.rules.match else lower_matches(lower, nearest.match)
        words = (
            f"{stamp.name} is not {asked} in any of {len(seen)} places tried; what comes nearest has "
            f"{shown(nearest.placement.size)} pitches ({nearest.seen.known})"
        )
    else:
        words = f"no blocking of {stamp.name} was found in the effort given"
    least = known_from(fallen, asked)
    if least is not None and least > largest:
        words = (
            f"{stamp.name} is {asked} from {shown(least)} pitches, and the largest place for it has {shown(largest)}"
        )
    # At the first of these sizes it may be known by chance alone.
    for size in [each for each in sizes_known(fallen, asked) if each > largest][:_FURTHER]:
        for wider in SIZING[brief.piece.form].wider(brief):
            near += islice((each for each in wider if has_room(each, size)), 1)
    return words, tuple(near)

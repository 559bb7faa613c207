"""Why a stamp finds no place under a brief, and what would mend it: each mend is worked out, not guessed."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from constraints.brief import Brief, Size, pairs_needed, sizes
from constraints.explain import shown
from constraints.stamp import Stamp
from constraints.symmetry import SYMMETRIES
from explore.bench import Bench
from explore.laying.laid import Laid

# Splits that are worth trying before a designer would rather change the stamp's size.
_SPLITS = (8, 16, 32)
# Matches are offered in steps that read well.
_STEP = 0.05


def too_large(brief: Brief, stamp: Stamp) -> str:
    """No print of the sizes and turns asked for lies whole in any part of the square."""
    wish = ""
    if brief.stamp_size is not None:
        least, most = brief.stamp_size
        wish = f" at {shown(least)} pitches" if least == most else f" at {shown(least)} to {shown(most)} pitches"
    half_size = max(size.half_size for size in sizes(brief))
    mends = []
    for larger in range(half_size + 1, 4 * half_size + 40):
        if _places(brief, stamp, larger):
            pairs = pairs_needed(larger, brief.worked, brief.edge_passives)
            mends.append(f"take {pairs} pairs (half-size {larger})")
            break
    for symmetry in SYMMETRIES:
        if symmetry != brief.symmetry and _places(replace(brief, symmetry=symmetry), stamp, half_size):
            mends.append(f"symmetry {symmetry}")
            break
    if brief.stamp_size is not None and _places(replace(brief, stamp_size=None), stamp, half_size):
        mends.append("a smaller stamp_size")
    return (
        f"{stamp.name}{wish} finds no place in a square of half-size {half_size} where its copies under "
        f"{brief.symmetry} symmetry keep clear of each other and of the edge"
        + (f"; what mends it: {' or '.join(mends)}" if mends else "")
    )


def _places(brief: Brief, stamp: Stamp, half_size: int) -> bool:
    if brief.form_of(half_size) is None:
        return False
    return bool(Bench(brief, stamp, Size(half_size, 5.0, 0)).places)


def no_place(brief: Brief, stamp: Stamp, size: Size, laid: Sequence[Laid]) -> str:
    """The stamp lies in several places but matches too little in all: the best of them, and what mends it."""
    tried = [each for each in laid if each.blocking is not None]
    if not tried:
        return f"no blocking of {stamp.name} was found in the effort given; raise effort or narrow stamp_size"
    best = max(tried, key=_match)
    reached = _match(best)
    place = f"{shown(best.place.size)} pitches, turned {shown(best.place.turn)} degrees"
    mends = [f"lower match to {shown(math.floor(reached / _STEP) * _STEP)}"]
    for change, words in _changes(brief):
        again = Bench(change, stamp, size).lay(best.place)
        if _match(again) >= brief.least_match:
            mends.append(f"{words} (reaches {shown(_match(again))})")
    return (
        f"{stamp.name} matches {shown(reached)} in the best of {len(tried)} places tried ({place}), "
        f"{shown(brief.least_match)} is asked for; {' or '.join(mends)}"
    )


def _changes(brief: Brief) -> list[tuple[Brief, str]]:
    changes = [
        (replace(brief, narrowest_ground=brief.narrowest_ground - 1), f"narrowest_ground {brief.narrowest_ground - 1}")
    ] if brief.narrowest_ground > 1 else []
    if brief.narrowest > 1:
        changes.append((replace(brief, narrowest=brief.narrowest - 1), f"narrowest {brief.narrowest - 1}"))
    changes += [(replace(brief, splits=more), f"allow {more} splits") for more in _SPLITS if more > brief.splits][:1]
    return changes


def _match(laid: Laid) -> float:
    return 0.0 if laid.blocking is None else laid.blocking.match

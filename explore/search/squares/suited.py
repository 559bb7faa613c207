"""The places where a print is known on the squares that a brief leaves open, blocked and looked at."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import islice
from math import inf

from constraints.brief import AT_ONCE, Brief
from constraints.square_sizes import sizes
from constraints.stamp import Stamp
from constraints.symmetry import SUITS
from constraints.wording import shown
from explore.search.laying import why
from explore.search.laying.falls import SIZES, Fall, known_from
from explore.search.laying.laid import USED, PlaceLaid, usable
from explore.search.laying.sectors import Place
from explore.search.sizing import SIZING
from explore.search.squares.placing import Placing
from explore.search.squares.suiting import room, suiting
from explore.search.workshop import NoPlace

# So many places are laid for each that is used, and so many of them left open too.
_TRIED, _TRIED_OPEN = 2, 3
# One print in so many may be left open.
_OPEN = 8
# So many times the pairs are offered at the most.
_MORE = 3.0


@dataclass(frozen=True, eq=False)
class LaidThere:
    """A stamp laid on the placing of this number."""

    number: int
    laid: PlaceLaid


def placings_of(brief: Brief, stamp: Stamp | None) -> list[Placing]:
    """Where the stamp may lie, for every symmetry, way of working and size that the brief leaves open."""
    allowed = [(each, size) for each in settled(brief, stamp) for size in sizes(each)]
    return [Placing(each, stamp, size, len(allowed)) for each, size in allowed]


def settled(brief: Brief, stamp: Stamp | None) -> list[Brief]:
    """The brief in each of the symmetries and ways of working that it leaves open; without a stamp, which alone could
    choose among all of them, in full symmetry, worked round."""
    piece = brief.piece
    symmetries = piece.symmetries if stamp is not None or piece.symmetry != SUITS else ("full",)
    ways = piece.ways if stamp is not None else piece.ways[:1]
    return [brief.changed(symmetry=symmetry, worked=worked) for worked in ways for symmetry in symmetries]


def sizes_looked_at(brief: Brief, placings: Sequence[Placing]) -> tuple[list[float], list[float]]:
    """The sizes at which the print alone is looked at, those that fit and larger ones: which she names, or some."""
    if brief.stamp.size is not None:
        return sorted(set(brief.stamp.size)), []
    largest = max(room(placings).values(), default=0.0)
    every = [float(size) for size in SIZES]
    return [size for size in every if size <= largest], [size for size in every if size > largest]


def places_to_lay(brief: Brief, placings: Sequence[Placing], fallen: Sequence[Fall]) -> list[tuple[int, Place]]:
    """Places with the numbers of their placings; some of them once more, to be left open."""
    least = known_from(fallen, brief.stamp.known)
    if least is None:
        # As the print falls alone it is known at no size; it may be in a better place.
        least = max((each.size for each in fallen), default=0.0)
    places = suiting(placings, least, _TRIED * USED)
    round_worked = [(n, place) for n, place in places if not place.sector.centred]
    return places + [(number, replace(place, reverse=True)) for number, place in round_worked[:_TRIED_OPEN]]


def chosen(laid: Sequence[LaidThere], brief: Brief) -> list[LaidThere]:
    """Those of laid stamps in which the print is known as surely as the brief asks, what is known at once first.

    Prints left open are one in _OPEN at the most, and none of the first.
    """
    fit = [each for each in laid if usable(each.laid, brief) and each.laid.known_as(brief.stamp.known)]
    solid = [each for each in fit if not each.laid.place.reverse]
    solid.sort(key=lambda each: not each.laid.known_as(AT_ONCE))
    solid = solid[:USED]
    left_open = [each for each in fit if each.laid.place.reverse]
    if left_open and len(solid) >= _OPEN - 1:
        return [*solid[: _OPEN - 1], left_open[0], *solid[_OPEN - 1 :]]
    return solid


def nowhere(
    brief: Brief, stamp: Stamp, placings: Sequence[Placing], fallen: Sequence[Fall], laid: Sequence[LaidThere]
) -> NoPlace:
    """Why a print is known in no place, and briefs in which it may be."""
    rooms = room(placings)
    if not rooms:
        return NoPlace(why.too_large(brief, stamp))
    asked = brief.stamp.known
    solid = [each.laid for each in laid if not each.laid.place.reverse]
    seen = [each for each in solid if each.seen is not None]
    known = [each for each in solid if each.known_as(asked)]
    if known:
        return NoPlace(*why.no_place(brief, stamp, known))
    least, largest = known_from(fallen, asked), max(rooms.values())
    near = [brief.changed(symmetry=SUITS)] if brief.piece.symmetry != SUITS else []
    nearest = max(solid, key=_score, default=None)
    if nearest is not None and nearest.seen is not None:
        lower = brief.changed(known=nearest.seen.known)
        near += [lower] if nearest.match >= brief.rules.match else why.lower_matches(lower, nearest.match)
        words = (
            f"{stamp.name} is not {asked} in any of {len(seen)} places tried; what comes nearest has "
            f"{shown(nearest.place.size)} pitches ({nearest.seen.known})"
        )
    else:
        words = f"no blocking of {stamp.name} was found in the effort given"
    if least is not None and least > largest:
        words = (
            f"{stamp.name} is {asked} from {shown(least)} pitches, and the largest place for it has {shown(largest)}"
        )
        near += _wider(brief, stamp, least)
    return NoPlace(words, tuple(near))


def _score(laid: PlaceLaid) -> float:
    return -inf if laid.seen is None else laid.seen.score


def _wider(brief: Brief, stamp: Stamp, least: float) -> list[Brief]:
    """The brief with the fewest pairs from which a print of the least size has room; none if she names the measures."""
    if SIZING[brief.piece.form].named(brief):
        return []
    own = brief.rules.pairs
    offered = (brief.changed(pairs=pairs) for pairs in range(own + 1, round(_MORE * own) + 1))
    return list(islice((each for each in offered if _room_for(each, stamp, least)), 1))


def _room_for(brief: Brief, stamp: Stamp, least: float) -> bool:
    return any(size >= least for size in room(placings_of(brief, stamp)).values())

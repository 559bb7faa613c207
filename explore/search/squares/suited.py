"""The places where a print is known on the squares that a brief leaves open, blocked and looked at."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from constraints.brief import AT_ONCE, KNOWING, Brief
from constraints.square_sizes import sizes
from constraints.stamp import Stamp
from constraints.symmetry import SUITS
from explore.search.laying import why
from explore.search.laying.falls import LARGE, Fall, known_from, least_size
from explore.search.laying.laid import PlaceLaid
from explore.search.laying.placement import USED, Laid, in_turns, usable
from explore.search.laying.sectors import Place
from explore.search.more import of_more_pairs
from explore.search.sizing import SIZING
from explore.search.squares.placing import Placing
from explore.search.squares.suiting import aside, framed, in_rounds, kind_of, room, several, suiting

# So many places are laid for each that is used, and so many of them left open too.
_TRIED, _TRIED_OPEN = 2, 3
# So many are laid before anything is known of the print.
_FIRST = 3
# So many of the best are laid once more, longer, and the places beside them too.
_LOOKED_AT = 6
# A place in which the print is known so much less surely than in the best one where it lies likewise, within a quarter
# or over the middle, is not used, if so many others are.
_BEHIND, _ENOUGH = 0.6, 5
# Places that are to be large have at least such a share of what is wanted.
_NEARLY = 0.9
# One print in so many may be left open.
_OPEN = 8


@dataclass(frozen=True, eq=False)
class LaidThere:
    """A stamp laid on the placing of this number."""

    number: int
    laid: PlaceLaid

    @property
    def prints(self) -> tuple[Laid, ...]:
        return (self.laid,)

    @property
    def known(self) -> int:
        """How surely the print is known, by the number of the verdict."""
        return -1 if self.laid.seen is None else KNOWING.index(self.laid.seen.known)


def placings_of(brief: Brief, stamp: Stamp | None) -> list[Placing]:
    """Where the stamp may lie, for every symmetry, way of working and size that the brief leaves open."""
    allowed = [(each, size) for each in settled(brief, stamp is not None) for size in sizes(each)]
    return [Placing(each, stamp, size, len(allowed)) for each, size in allowed]


def settled(brief: Brief, stamped: bool) -> list[Brief]:
    """The brief in each of the symmetries and ways of working that it leaves open; without a stamp, which alone could
    choose among all of them, in full symmetry, worked round."""
    piece = brief.piece
    symmetries = piece.symmetries if stamped or piece.symmetry != SUITS else ("full",)
    ways = piece.ways if stamped else piece.ways[:1]
    return [brief.changed(symmetry=symmetry, worked=worked) for worked in ways for symmetry in symmetries]


def first_places(brief: Brief, placings: Sequence[Placing]) -> list[tuple[int, Place]]:
    """A few places to begin with, as large as there is room for, with the numbers of their placings: a print is known
    there if anywhere."""
    least = 0.0 if brief.stamp.size is not None else LARGE * max(room(placings).values(), default=0.0)
    return suiting(placings, least, _FIRST)


def places_to_lay(brief: Brief, placings: Sequence[Placing], fallen: Sequence[Fall]) -> list[tuple[int, Place]]:
    """Places with the numbers of their placings; some of them once more, to be left open."""
    places = suiting(placings, least_size(brief, fallen), _TRIED * USED)
    round_worked = [(n, place) for n, place in places if not place.sector.centred]
    return places + [(number, replace(place, reverse=True)) for number, place in round_worked[:_TRIED_OPEN]]


def larger(
    brief: Brief, placings: Sequence[Placing], fallen: Sequence[Fall], laid: Sequence[LaidThere]
) -> list[tuple[int, Place]]:
    """Further places where the print is known in none of those laid: only as large as it is known alone, or as there is
    room for."""
    if _fit(laid, brief):
        return []
    most = max(room(placings).values(), default=0.0)
    least = min(known_from(fallen, brief.stamp.known) or most, most)
    tried = {(each.number, each.laid.place) for each in laid}
    return [each for each in suiting(placings, _NEARLY * least, _TRIED * USED) if each not in tried]


def closer(placings: Sequence[Placing], laid: Sequence[LaidThere], brief: Brief) -> list[tuple[int, Place]]:
    """The places in which the print is known best and those beside them, with the numbers of their placings."""
    solid = [each for each in laid if usable(each.laid, brief) and not each.laid.place.reverse]
    best = _ranked(placings, solid)[:_LOOKED_AT]
    return [
        (each.number, place)
        for each in best
        for place in (each.laid.place, *placings[each.number].beside(each.laid.place))
        if kind_of(placings[each.number], place) == kind_of(placings[each.number], each.laid.place)
    ]


def chosen(placings: Sequence[Placing], laid: Sequence[LaidThere], brief: Brief) -> list[LaidThere]:
    """Those of laid stamps in which the print is known as surely as the brief asks, in the order in which jobs take
    them: see `in_turns`.

    Of places beside each other the best. Prints left open are one in _OPEN at the most, and none of the first.
    """
    fit = _fit(laid, brief)
    ranked = _ranked(placings, [each for each in fit if not each.laid.place.reverse])
    best: dict[tuple[str, bool], float] = {}
    for each in ranked:
        way = _way(placings, each)
        best[way] = max(best.get(way, each.laid.score), each.laid.score)
    near = [each for each in ranked if each.laid.score >= best[_way(placings, each)] - _BEHIND]
    solid = (near if len(near) >= _ENOUGH else ranked)[:USED]
    there = in_turns(solid, lambda each: each.laid)
    left_open = [each for each in fit if each.laid.place.reverse]
    if left_open and len(there) >= _OPEN - 1:
        return [*there[: _OPEN - 1], max(left_open, key=lambda each: each.laid.score), *there[_OPEN - 1 :]]
    return there


def _way(placings: Sequence[Placing], each: LaidThere) -> tuple[str, bool]:
    """How a print lies, and whether a trail has room round it."""
    placing, place = placings[each.number], each.laid.place
    return kind_of(placing, place), framed(placing, place)


def fits(each: LaidThere, brief: Brief) -> bool:
    """Whether a square may be made with it: the print is known as surely as the brief asks."""
    return usable(each.laid, brief) and each.laid.known_as(brief.stamp.known)


def at_once(each: LaidThere, brief: Brief) -> bool:
    """Whether a square may be made with it before better places are looked for: whatever the brief asks, the print is
    known at once."""
    return fits(each, brief) and each.laid.known_as(AT_ONCE)


def further(laid: Sequence[LaidThere], there: Sequence[LaidThere], brief: Brief) -> list[LaidThere]:
    """All others in which the print is known as surely, the most surely first: for a square with little room for
    anything but its print."""
    solid = [each for each in _fit(laid, brief) if not each.laid.place.reverse and each not in there]
    return sorted(solid, key=lambda each: -each.laid.score)


def _fit(laid: Sequence[LaidThere], brief: Brief) -> list[LaidThere]:
    return [each for each in laid if fits(each, brief)]


def _ranked(placings: Sequence[Placing], laid: Sequence[LaidThere]) -> list[LaidThere]:
    """The best of those beside each other: kinds mixed, of each kind every symmetry in turn, in what order they are
    known."""
    best: dict[tuple[object, ...], LaidThere] = {}
    for each in laid:
        place = each.laid.place
        spot = (each.number, place.sector, place.turn, round(place.size), place.reverse)
        if spot not in best or each.laid.score > best[spot].laid.score:
            best[spot] = each
    by_kind: dict[str, list[tuple[int, LaidThere]]] = {}
    taken: dict[tuple[str, str], int] = {}
    for each in sorted(best.values(), key=lambda each: (-each.known, not _way(placings, each)[1], -each.laid.score)):
        kind = kind_of(placings[each.number], each.laid.place)
        symmetry = placings[each.number].brief.piece.symmetry
        taken[kind, symmetry] = taken.get((kind, symmetry), -1) + 1
        by_kind.setdefault(kind, []).append((taken[kind, symmetry], each))
    in_turn = {kind: sorted(some, key=lambda one: one[0]) for kind, some in by_kind.items()}
    mixed = [each for _, each in in_rounds(in_turn)]
    # A print alone that is not in the middle leaves much of a square to others.
    return sorted(mixed, key=lambda each: _aside(placings[each.number], each.laid.place))


def _aside(placing: Placing, place: Place) -> bool:
    return aside(placing, place.sector.mirrored, kind_of(placing, place))


def nowhere(
    brief: Brief, stamp: Stamp, placings: Sequence[Placing], fallen: Sequence[Fall], laid: Sequence[LaidThere]
) -> tuple[str, tuple[Brief, ...]]:
    """Why a print is known in no place, and briefs in which it may be."""
    rooms = room(placings)
    if not rooms:
        return why.too_large(brief, stamp), ()

    def has_room(other: Brief, least: float) -> bool:
        return any(size >= least for size in room(placings_of(other, stamp)).values())

    return why.unknown(brief, stamp, [each.laid for each in laid], fallen, max(rooms.values()), has_room)


def several_from(brief: Brief, stamp: Stamp, size: float) -> int | None:
    """From how many pairs a square has room for several copies so large, pitches; None if its measures are named."""
    if SIZING[brief.piece.form].named(brief):
        return None
    fit = (each for each in (brief, *of_more_pairs(brief)) if several(placings_of(each, stamp), size))
    return next((each.rules.pairs for each in fit), None)

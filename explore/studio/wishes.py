"""What she wishes for, beside the print: what it comes to at once, and where it is impossible what mends it."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from constraints import square_sizes
from constraints.brief import KNOWN, UNKNOWN, Brief
from constraints.edgings.outer_side import reach
from constraints.forms import USUAL
from constraints.stamp import Stamp
from constraints.symmetry import SUITS, SYMMETRIES
from constraints.wording import shown
from explore import asking
from explore.bad_input import BadInput
from explore.mending.changes import offers
from explore.search.more import of_more_pairs
from explore.search.sizing import SIZING
from explore.search.squares.suited import placings_of
from explore.search.squares.suiting import room

# What the page may say of a brief; all else is as usual.
KEYS = ("pairs", "width", "pitch", "symmetry", "worked", "edging", "stitches", "known", "count", "seed")
# So many mends are offered.
_MENDS = 2
_LONGEST = 200
_WORDS = {
    "pairs": "{} pairs",
    "width": "{} wide",
    "pitch": "a pitch of {}",
    "symmetry": "{} symmetry",
    "worked": "worked {}",
    "known": "the print may be {} known",
    "edging": "the edge: {}",
    "half_size": "{} pitches wide",
}


def flags_of(given: object) -> dict[str, str]:
    """Wishes as the page sends them, as flags of a brief. Raises BadInput."""
    if not isinstance(given, Mapping):
        raise BadInput("wishes are words by their names")
    for name, text in given.items():
        if name not in KEYS or not isinstance(text, str) or len(text) > _LONGEST:
            raise BadInput(f"no wish of that kind can be had; those that can: {', '.join(KEYS)}")
    return {name: text for name, text in given.items() if text}


def brief_of(word: str, flags: Mapping[str, str]) -> Brief:
    """The brief of wishes. word: how a command names the print. Raises BadInput."""
    return asking.read(None, {**flags, "stamp": word}).brief


def measured(word: str, flags: Mapping[str, str]) -> dict[str, Any]:
    """What wishes come to by arithmetic alone: pairs, half-size in pitches, width in mm; or why they cannot be had, and
    what mends that. Raises BadInput."""
    brief = brief_of(word, flags)
    why = SIZING[USUAL].conflict(brief)
    if why:
        return {"why": f"{why[:1].upper()}{why[1:]}.", "mends": _mends(word, flags, brief)}
    size = square_sizes.sizes(brief)[-1]
    width = (size.half_size + reach(brief.piece.headside)) * size.pitch_mm
    told = f"{size.pairs} pairs: {shown(width)} mm wide, {size.half_size} pitches of {shown(size.pitch_mm)} mm"
    if len(brief.piece.ways) > 1:
        told += ", worked round"
    return {"pairs": size.pairs, "half_size": size.half_size, "width_mm": width, "words": f"{told}."}


def _mends(word: str, flags: Mapping[str, str], brief: Brief) -> list[dict[str, Any]]:
    found: list[dict[str, Any]] = []
    for offer in offers(brief, (), True, flags.get("width", "")):
        wanted = {name: text for name, text in offer.options.items() if name in KEYS}
        if set(wanted) != set(offer.options) or any(set(wanted) == set(each["flags"]) for each in found):
            continue
        try:
            holds = not SIZING[USUAL].conflict(brief_of(word, {**flags, **wanted}))
        except BadInput:
            holds = False
        if holds:
            found.append(mend(wanted))
        if len(found) == _MENDS:
            break
    return found


def mend(options: Mapping[str, str]) -> dict[str, Any]:
    """A change of wishes as the page offers it. options: of a command."""
    words = [_WORDS.get(name, f"{name.replace('_', ' ')} {{}}").format(text) for name, text in options.items()]
    return {"words": " and ".join(words), "flags": dict(options)}


@dataclass(frozen=True)
class Room:
    """The largest size at which a print lies, pitches, in all and under each symmetry, 0 where it has no place."""

    size: float
    by_symmetry: Mapping[str, float]


def room_for(stamp: Stamp, brief: Brief) -> Room:
    """How large a print can lie on the squares of a brief."""
    placings = placings_of(brief.changed(symmetry=SUITS), stamp)
    by = {
        name: max(room([each for each in placings if each.brief.piece.symmetry == name]).values(), default=0.0)
        for name in SYMMETRIES
    }
    return Room(max((by[name] for name in brief.piece.symmetries), default=0.0), by)


def pairs_for(stamp: Stamp, brief: Brief, wanted: float) -> int:
    """The fewest pairs, more than those of a brief, with which a print lies so large, pitches; 0 if with none of those
    that are tried. More pairs give no less room."""
    every = [each for each in of_more_pairs(brief) if not SIZING[USUAL].conflict(each)]

    def lies(place: int) -> bool:
        return max(room(placings_of(every[place], stamp)).values(), default=0.0) >= wanted

    found = bisect_left(range(len(every)), True, key=lies)
    return every[found].rules.pairs if found < len(every) else 0


def in_it(name: str, found: Room, begins: float | None, verdict: str, known: str) -> dict[str, Any]:
    """What is said of the print in such a square. begins: the size from which it is known, None while that is not
    found out, 0 if at none; verdict: how surely at the largest size, in words; known: what the brief asks for."""
    if not found.size:
        return {"why": f"Your {name} has no place in it.", "size": 0}
    size = f"Your {name}: up to {shown(found.size)} pitches"
    if begins is None:
        return {"words": f"{size}.", "size": found.size}
    if (begins and found.size >= begins) or known == UNKNOWN:
        return {"words": f"{size}, {verdict}.", "size": found.size}
    why = f"it begins to be known at {shown(begins)}" if begins else "it is known at no size that was tried"
    return {"why": f"{size}, {verdict}: {why}.", "size": found.size}


def mends_of_room(pairs: int, known: str) -> list[dict[str, Any]]:
    """What mends a print that has no room to be known. pairs: enough for that, 0 if there are none; known: what the
    brief asks for."""
    mends = [mend({"pairs": str(pairs)})] if pairs else []
    return mends + ([] if known != KNOWN else [{"words": "take it all the same", "flags": {"known": UNKNOWN}}])

"""Other measures of a brief: pairs, half-sizes, widths, pitches, bands, columns, each with the pairs it takes."""

from __future__ import annotations

import math
from bisect import bisect_left
from collections.abc import Iterator

from constraints.brief import Brief
from constraints.edgings.outer_side import reach
from constraints.forms import FORMS, LARGEST_HALF_SIZE
from constraints.square_sizes import largest_half_size
from explore.asking.keys import MOST_PAIRS, MOST_ROWS, PITCHES_MM
from explore.search.frames.measures import NARROWEST_BAND
from explore.search.sizing import SIZING

# Whole measures are tried so much larger and smaller.
LADDER = (1, 2, 3, 4, 5, 6, 8, 10, 12, 16, 20, 24, 32, 48, 64)
# A change of a measure by as much as it is counts so much; a passive pair, so much.
_RATIO, _PASSIVE = 10.0, 1.0
# And so much more if it takes more pairs too.
_TWO = 2.0

Sized = tuple[Brief, float]


def ratio(one: float, other: float) -> float:
    """How far two measures are apart, by their logarithms."""
    return _RATIO * abs(math.log(max(other, 0.5) / max(one, 0.5)))


def enough_pairs(brief: Brief) -> Brief:
    """The brief with the fewest pairs that its measures take, where it has too few; itself where that is not known."""
    own, usual = brief.rules.pairs, min(_pairs_of_size(brief), default=0)
    if own >= usual:
        return brief
    # With fewer pairs than a usual band takes, a narrower one is made.
    fewer = bisect_left(range(own + 1, usual), True, key=lambda pairs: _sized(brief, pairs))
    return brief.changed(pairs=own + 1 + fewer)


def _sized(brief: Brief, pairs: int) -> bool:
    """Whether so many pairs allow a size."""
    return SIZING[brief.piece.form].conflict(brief.changed(pairs=pairs)) is None


def _pairs_of_size(brief: Brief) -> list[int]:
    """The pairs of every size that a brief names, however many it has."""
    return SIZING[brief.piece.form].pairs(brief.changed(pairs=MOST_PAIRS))


def measures(brief: Brief) -> Iterator[Sized]:
    """The brief with another measure, and how great the change is."""
    enough = enough_pairs(brief)
    # Without a band of its own a frame takes a wider one.
    free = not _pairs_of_size(brief) or ("band" in FORMS[brief.piece.form].keys and brief.piece.band is None)
    if enough.rules.pairs > brief.rules.pairs:
        yield enough, ratio(brief.rules.pairs, enough.rules.pairs)
    for more in LADDER:
        # Where the size is given, more pairs than it takes change nothing.
        if free and brief.rules.pairs + more <= MOST_PAIRS:
            yield brief.changed(pairs=brief.rules.pairs + more), ratio(brief.rules.pairs, brief.rules.pairs + more)
        if more <= brief.piece.passives:
            yield brief.changed(passives=brief.piece.passives - more), _PASSIVE * more
    keys = FORMS[brief.piece.form].keys
    if "half_size" in keys:
        yield from _of_sides(brief)
    if "band" in keys:
        yield from _of_bands(brief)
    if "half_height" in keys:
        yield from _of_heights(brief)
    if "repeat" in keys:
        yield from _of_repeats(brief)


def with_pairs(changed: Brief, size: float) -> Sized:
    """A change with the pairs it takes, which make it two changes."""
    enough = enough_pairs(changed)
    more = _TWO + ratio(changed.rules.pairs, enough.rules.pairs) if enough.rules.pairs > changed.rules.pairs else 0.0
    return enough, size + more


def _of_sides(brief: Brief) -> Iterator[Sized]:
    """Other half-sizes, by the key that gave the one she has."""
    if brief.piece.half_size is not None:
        low, high = brief.piece.half_size
        for half in _near(low, high):
            yield with_pairs(brief.changed(half_size=(half, half)), ratio(high if half > high else low, half))
    if brief.piece.width_mm is None:
        return
    more = reach(brief.piece.headside)
    finest, coarsest = brief.piece.pitch_mm
    own = max(1, round(2 * brief.piece.width_mm / (finest + coarsest) - more))
    most = largest_half_size(brief.rules.pairs, brief.piece.first_way, brief.piece.edge_passives)
    for half in dict.fromkeys([*([most] if most >= 1 else []), own, *_near(own, own)]):
        width = (half + more) * min(max(brief.piece.width_mm / (half + more), finest), coarsest)
        yield with_pairs(brief.changed(width_mm=round(width, 1)), ratio(brief.piece.width_mm, width))
        pitch = _pitch(brief.piece.width_mm, half, more)
        if PITCHES_MM[0] <= pitch <= PITCHES_MM[1]:
            nearer = min(max(pitch, finest), coarsest)
            yield with_pairs(brief.changed(pitch_mm=(pitch, pitch)), ratio(nearer, pitch))


def _near(low: int, high: int) -> list[int]:
    """Whole measures about a range, within what the grid holds."""
    both = [each for more in LADDER for each in (high + more, low - more)]
    return [each for each in both if 1 <= each <= LARGEST_HALF_SIZE]


def _pitch(width: float, half_size: int, more: float) -> float:
    """The pitch that makes a half-size so wide, with no more decimals than that takes."""
    exact = width / (half_size + more)
    rounded = (round(exact, decimals) for decimals in (0, 1, 2, 3))
    return next((each for each in rounded if each > 0 and abs(width - each * (half_size + more)) < 0.4 * each), exact)


def _of_bands(brief: Brief) -> Iterator[Sized]:
    """Other bands."""
    sizing = SIZING[brief.piece.form]
    form = next(iter(sizing.allowed(brief.changed(pairs=MOST_PAIRS) if sizing.named(brief) else brief)), None)
    own = brief.piece.band or (NARROWEST_BAND if form is None else form.deep)
    for band in _near(own, own):
        yield with_pairs(brief.changed(band=band), ratio(own, band))


def _of_heights(brief: Brief) -> Iterator[Sized]:
    """Other heights."""
    if brief.piece.half_height is not None:
        for half in _near(brief.piece.half_height, brief.piece.half_height):
            yield with_pairs(brief.changed(half_height=half), ratio(brief.piece.half_height, half))
    if brief.piece.height_mm is not None:
        for times in (1.1, 1.2, 1.35, 1.5, 2.0):
            yield with_pairs(brief.changed(height_mm=float(round(brief.piece.height_mm * times))), ratio(1, times))


def _of_repeats(brief: Brief) -> Iterator[Sized]:
    """Other widths and longer or shorter repeats."""
    if brief.piece.columns is not None:
        for columns in _near(brief.piece.columns, brief.piece.columns):
            if columns >= 2:
                yield with_pairs(brief.changed(columns=columns), ratio(brief.piece.columns, columns))
    low, high = brief.piece.rows
    for more in LADDER:
        if high + 2 * more <= MOST_ROWS:
            yield brief.changed(rows=(low, high + 2 * more)), ratio(high, high + 2 * more)
        if low - more >= 2:
            yield brief.changed(rows=(low - more, high)), ratio(low, low - more)

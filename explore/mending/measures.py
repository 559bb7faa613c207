"""Other measures of a brief: pairs, half-sizes, widths, pitches, bands, columns, each with the pairs it takes."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

from constraints import edging
from constraints.brief import Brief, largest_half_size
from constraints.forms import FORMS, LARGEST_HALF_SIZE
from constraints.outer_side import reach
from explore.asking.keys import MOST_PAIRS, MOST_ROWS, PITCHES_MM
from explore.forms import SIZING
from explore.frames.measures import NARROWEST_BAND

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
    needed = min(_pairs_of_size(brief), default=0)
    return replace(brief, pairs=max(brief.pairs, needed))


def _pairs_of_size(brief: Brief) -> list[int]:
    """The pairs of every size that a brief names, however many it has."""
    return SIZING[brief.form].pairs(replace(brief, pairs=MOST_PAIRS))


def measures(brief: Brief) -> Iterator[Sized]:
    """The brief with another measure, and how great the change is."""
    enough = enough_pairs(brief)
    free = not _pairs_of_size(brief)
    if enough.pairs > brief.pairs:
        yield enough, ratio(brief.pairs, enough.pairs)
    for more in LADDER:
        # Where the size is given, more pairs than it takes change nothing.
        if free and brief.pairs + more <= MOST_PAIRS:
            yield replace(brief, pairs=brief.pairs + more), ratio(brief.pairs, brief.pairs + more)
        if more <= brief.passives:
            yield replace(brief, passives=brief.passives - more), _PASSIVE * more
    keys = FORMS[brief.form].keys
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
    more = _TWO + ratio(changed.pairs, enough.pairs) if enough.pairs > changed.pairs else 0.0
    return enough, size + more


def _of_sides(brief: Brief) -> Iterator[Sized]:
    """Other half-sizes, by the key that gave the one she has."""
    if brief.half_size is not None:
        low, high = brief.half_size
        for half in _near(low, high):
            yield with_pairs(replace(brief, half_size=(half, half)), ratio(high if half > high else low, half))
    if brief.width_mm is None:
        return
    headside = edging.named(brief.edging)
    more = 0.0 if headside is None else reach(headside)
    finest, coarsest = brief.pitch_mm
    own = max(1, round(2 * brief.width_mm / (finest + coarsest) - more))
    most = largest_half_size(brief.pairs, brief.worked, brief.edge_passives)
    for half in dict.fromkeys([*([most] if most >= 1 else []), own, *_near(own, own)]):
        width = (half + more) * min(max(brief.width_mm / (half + more), finest), coarsest)
        yield with_pairs(replace(brief, width_mm=round(width, 1)), ratio(brief.width_mm, width))
        pitch = _pitch(brief.width_mm, half, more)
        if PITCHES_MM[0] <= pitch <= PITCHES_MM[1]:
            nearer = min(max(pitch, finest), coarsest)
            yield with_pairs(replace(brief, pitch_mm=(pitch, pitch)), ratio(nearer, pitch))


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
    sizing = SIZING[brief.form]
    form = next(iter(sizing.allowed(replace(brief, pairs=MOST_PAIRS) if sizing.named(brief) else brief)), None)
    own = brief.band or (NARROWEST_BAND if form is None else form.deep)
    for band in _near(own, own):
        yield with_pairs(replace(brief, band=band), ratio(own, band))


def _of_heights(brief: Brief) -> Iterator[Sized]:
    """Other heights."""
    if brief.half_height is not None:
        for half in _near(brief.half_height, brief.half_height):
            yield with_pairs(replace(brief, half_height=half), ratio(brief.half_height, half))
    if brief.height_mm is not None:
        for times in (1.1, 1.2, 1.35, 1.5, 2.0):
            yield with_pairs(replace(brief, height_mm=float(round(brief.height_mm * times))), ratio(1, times))


def _of_repeats(brief: Brief) -> Iterator[Sized]:
    """Other widths and longer or shorter repeats."""
    if brief.columns is not None:
        for columns in _near(brief.columns, brief.columns):
            if columns >= 2:
                yield with_pairs(replace(brief, columns=columns), ratio(brief.columns, columns))
    low, high = brief.rows
    for more in LADDER:
        if high + 2 * more <= MOST_ROWS:
            yield replace(brief, rows=(low, high + 2 * more)), ratio(high, high + 2 * more)
        if low - more >= 2:
            yield replace(brief, rows=(low - more, high)), ratio(low, low - more)

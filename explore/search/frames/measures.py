"""What the measures of a frame or a rectangle can be: half-sides, band, the headside."""

from __future__ import annotations

import sys
from collections.abc import Iterable, Iterator
from functools import lru_cache

from constraints.brief import AskedPiece, Brief
from constraints.edgings.outer_side import reach
from constraints.forms import OBLONGS, Oblong
from constraints.piece import ROUND
from constraints.square_sizes import largest_half_size
from constraints.symmetry import SUITS
from explore.search.more import more_of, of_more_pairs

# A narrower band holds no block between plain edges.
NARROWEST_BAND = 6
# So many wider bands are tried where she names none; where she names no height, rectangles so many times as high as
# wide.
_BANDS, _HIGHER = 4, (2.0, 3.0)
# What suits, by whether a form goes round an opening: the first of these in which the print is known.
_SUITING = {
    True: (("full",), ("quarter-turn",), ("upright-mirrors",), ("half-turn",)),
    False: (("upright-mirrors",), ("upright-mirror", "half-turn"), ("none",)),
}
MOST_FREER = max(map(len, _SUITING.values()))


def forms_of(brief: Brief) -> list[Oblong]:
    """Every frame or rectangle that the brief allows, the smallest first."""
    found = [_form(brief, half) for half in _half_widths(brief)]
    return [form for form in found if form is not None and _refusal(brief, form) is None]


def conflict(brief: Brief) -> str | None:
    """One line on why the brief allows none; None if it allows one."""
    if forms_of(brief):
        return None
    halves = _half_widths(brief)
    for half in halves:
        form = _form(brief, half)
        if form is not None:
            return _refusal(brief, form)
    if not halves:
        return f"{brief.rules.pairs} pairs are too few for any {brief.piece.form}"
    if ROUND not in OBLONGS[brief.piece.form].edged:
        return _no_whole_fans_beside(brief, halves[0])
    fans = f"whole fans of a {brief.piece.edging} do not go round"
    near = [half for half in range(4, 2 * halves[-1] + 20) if _form(brief, half) is not None]
    if not near:
        return f"{fans} half-height {brief.piece.half_height} with any half-size"
    nearest = min(near, key=lambda half: (abs(half - halves[0]), half))
    return f"{fans} half-size {halves[0]}; the nearest is half-size {nearest}"


def _no_whole_fans_beside(brief: Brief, half: int) -> str:
    """That they do not fit along the sides of its half-height, and which half-heights do."""
    asked, depth = brief.piece.half_height or 0, brief.piece.headside.depth if brief.piece.headside else 1
    near = [high for high in range(2, asked + 2 * depth) if _sized(brief, half, high) is not None]
    nearest = sorted(near, key=lambda high: abs(high - asked))[:2]
    return (
        f"whole fans of a {brief.piece.edging} do not lie along half-height {asked}; half-heights one more than a "
        f"multiple of {depth} do, the nearest {' and '.join(map(str, sorted(nearest)))}"
    )


def wider(brief: Brief) -> list[Iterable[Brief]]:
    """The brief with more and more room, each time with the pairs it takes: by a wider band, a greater width, or more
    pairs where she names no width."""
    largest = (further(brief) or forms_of(brief))[-1]
    named = brief.piece.names_side
    found: list[Iterable[Brief]] = [] if named else [of_more_pairs(brief)]
    # Where she names neither, a wider band is no more than more pairs.
    if largest.has_opening and (named or brief.piece.band is not None):
        found.insert(0, _of_wider_bands(brief, largest.deep))
    elif named:
        found.append(_of_greater_widths(brief, largest.half_width))
    return found


def _of_wider_bands(brief: Brief, own: int) -> Iterator[Brief]:
    return _allowed(brief.changed(band=band) for band in more_of(own))


def _of_greater_widths(brief: Brief, own: int) -> Iterator[Brief]:
    if brief.piece.half_size is not None:
        return _allowed(brief.changed(half_size=(half, half)) for half in more_of(own))
    pitch = brief.piece.middle_pitch_mm
    more = reach(brief.piece.headside)
    return _allowed(brief.changed(width_mm=round((half + more) * pitch, 1)) for half in more_of(own))


def _allowed(briefs: Iterable[Brief]) -> Iterator[Brief]:
    """Those of briefs that allow a form, each with the pairs that it takes."""
    for each in briefs:
        found = forms_of(each.changed(pairs=sys.maxsize) if each.piece.names_side else each)
        if found:
            pairs = found[-1].pairs(each.piece.worked, each.piece.passives)
            yield each.changed(pairs=max(each.rules.pairs, pairs))


def further(brief: Brief) -> list[Oblong]:
    """Forms with more room than those of `forms_of`, along what she leaves open and as far as her pairs suffice, the
    smallest first: frames of wider bands, rectangles of greater heights."""
    piece, usual = brief.piece, forms_of(brief)
    if not usual:
        return []
    if usual[-1].has_opening:
        bands = () if piece.band is not None else _sampled(usual[-1].deep + 1, _widest_band(brief, usual[-1]))
        found = [form for band in bands for form in forms_of(brief.changed(band=band))]
        return [form for form in found if 2 * min(form.opening) >= form.deep]
    if piece.half_height is not None or piece.height_mm is not None:
        return []
    higher = (_higher(brief, form, times) for times in _HIGHER for form in usual)
    return [form for form in higher if form is not None and _refusal(brief, form) is None]


def _widest_band(brief: Brief, form: Oblong) -> int:
    """Of a frame, as her pairs allow."""
    return form.deep + brief.rules.pairs - form.pairs(brief.piece.worked, brief.piece.passives)


def _sampled(least: int, most: int) -> list[int]:
    """A few whole numbers of a range, the last one among them, evenly."""
    count = min(_BANDS, most - least + 1)
    return [most - round(number * (most - least + 1) / count) for number in reversed(range(count))]


def _higher(brief: Brief, form: Oblong, times: float) -> Oblong | None:
    """The form so many times as high as wide, for whole fans a little less."""
    depth = 0 if form.headside is None else form.headside.depth
    wanted = round(times * form.half_width)
    near = range(wanted, max(wanted - depth - 1, form.half_height), -1)
    return next((found for high in near if (found := _sized(brief, form.half_width, high)) is not None), None)


def symmetry_of(brief: Brief) -> str:
    """The symmetry of a brief that names none: of a stamp what suits it, else the fullest that its half-sides allow."""
    if brief.stamps:
        return SUITS
    forms = [each for each in (_form(brief, half) for half in _half_widths(brief)) if each is not None]
    square = all(each.half_width == each.half_height for each in forms)
    return "full" if square and OBLONGS[brief.piece.form].ways[0] == ROUND else "upright-mirrors"


def symmetries(brief: Brief, form: Oblong) -> list[list[str]]:
    """The symmetries that a form may have under the brief, those that are tried first before others; empty if none.

    Where she leaves them open, of a frame the fullest and that of its turns alone: its prints stand on all sides, so
    that freer ones give no more room. Of a rectangle all but those across its diagonals, the fullest first.
    """
    found = [[name for name in names if _allows(brief, form, name)] for names in _tried(brief, form)]
    return list(filter(None, found))


def _tried(brief: Brief, form: Oblong) -> tuple[tuple[str, ...], ...]:
    return _SUITING[form.has_opening] if brief.piece.symmetry == SUITS else (brief.piece.symmetries,)


def _allows(brief: Brief, form: Oblong, name: str) -> bool:
    return name in form.symmetries and form.allows(brief.piece.worked, name)


def _half_widths(brief: Brief) -> list[int]:
    """The half-sizes she asked for, or what the pairs and the fans suggest."""
    if brief.piece.width_mm is not None:
        return [_measured(brief.piece)[0]]
    if brief.piece.half_size is not None:
        return list(range(brief.piece.half_size[0], brief.piece.half_size[1] + 1))
    way = OBLONGS[brief.piece.form].ways[0]
    # Along both sides of what is worked across, and round the outer edge alone of what is worked round.
    passives = brief.piece.passives if way == ROUND else brief.piece.edge_passives
    most = largest_half_size(brief.rules.pairs, way, passives)
    if OBLONGS[brief.piece.form].has_opening:
        return _round_opening(brief, most)
    fitting = [half for half in range(most, 0, -1) if _form(brief, half) is not None]
    return fitting[:1] or ([most] if most >= 1 else [])


def _round_opening(brief: Brief, usual: int) -> list[int]:
    """The half-size of a frame that leaves an opening of half of it: as usual, or more for the band she names, and for
    whole fans."""
    depth = 0 if brief.piece.headside is None else brief.piece.headside.depth
    least = 2 * (brief.piece.band or NARROWEST_BAND + depth)
    smaller = [half for half in range(usual, least - 1, -1) if _form(brief, half) is not None]
    larger = (half for half in range(least, least + 2 * depth + 1) if _form(brief, half) is not None)
    return smaller[:1] or [next(larger, least)]


@lru_cache(maxsize=256)
def _measured(piece: AskedPiece) -> tuple[int, int]:
    """The half-sides nearest to the width and height in mm, each as near as whole fans allow; 0 for none asked for."""
    headside, form = piece.headside, OBLONGS[piece.form]
    beside = reach(headside)
    below = beside if ROUND in form.edged else 0.0
    width, height = (
        round((mm or 0.0) / piece.middle_pitch_mm - more)
        for mm, more in ((piece.width_mm, beside), (piece.height_mm, below))
    )
    wide, high = max(1, width), max(1, height) if piece.height_mm is not None else 0
    if headside is None:
        return wide, high
    near = range(-headside.period, headside.period + 1)
    fitting = [
        (wide + a, high + b)
        for a in (near if piece.width_mm is not None else (0,))
        for b in (near if piece.height_mm is not None else (0,))
        if form.sized(wide + a, high + b or None, piece.band, headside) is not None
    ]
    return min(fitting, key=lambda each: (abs(each[0] - wide) + abs(each[1] - high), each), default=(wide, high))


def _form(brief: Brief, half: int) -> Oblong | None:
    """The form of a half-width; None if whole fans do not fit round it."""
    high = brief.piece.half_height or (_measured(brief.piece)[1] if brief.piece.height_mm is not None else 0)
    return _sized(brief, half, high)


def _sized(brief: Brief, half: int, high: int) -> Oblong | None:
    """The same for a half-height; 0 for what is usual. The band of a frame is as usual, or as her pairs allow."""
    piece = brief.piece
    form = OBLONGS[piece.form].sized(half, high or None, piece.band, piece.headside)
    if form is None or not form.has_opening or piece.band is not None:
        return form
    least = NARROWEST_BAND + (0 if piece.headside is None else piece.headside.depth)
    band = max(least, min(form.deep, _widest_band(brief, form)))
    return OBLONGS[piece.form].sized(half, high or None, band, piece.headside)


def _refusal(brief: Brief, form: Oblong) -> str | None:
    """Why a form cannot be had with the pairs, the band or the symmetry of a brief."""
    what = f"a {form.name} of half-sides {form.half_width} and {form.half_height}"
    depth = 0 if form.headside is None else form.headside.depth
    if form.has_opening:
        least = NARROWEST_BAND + depth
        shorter = min(form.half_width, form.half_height)
        if not least <= form.deep < shorter:
            most = f" and {shorter - 1} at most" if shorter > least else f", which asks for half-size {least + 1}"
            return f"a band of {form.deep} half pitches does not suit {what}: it is {least} at least{most}"
        what = f"a band of {form.deep} half pitches"
    elif form.half_width < (least := NARROWEST_BAND + depth) or form.half_height < NARROWEST_BAND:
        if depth:
            beside = f"a block beside a {brief.piece.edging}"
            return f"{what} is too small for {beside}; they are {least} and {NARROWEST_BAND} at least"
        return f"{what} is too small for a block; both are {NARROWEST_BAND} at least"
    needed = form.pairs(brief.piece.worked, brief.piece.passives)
    if needed > brief.rules.pairs:
        lines = form.lines(brief.piece.worked) - (needed - brief.rules.pairs)
        widest = f"a band of {lines}" if form.has_opening else f"half-size {lines // 2}"
        return f"{what} takes {needed} pairs; {brief.rules.pairs} pairs suffice for {widest}"
    what = f"a {form.name} of half-sides {form.half_width} and {form.half_height}"
    # Most forms have the freest of them, so that one look is enough.
    if not any(_allows(brief, form, name) for names in reversed(_tried(brief, form)) for name in names):
        possible = form.symmetries_allowed(brief.piece.worked)
        return f"{what} cannot have the symmetry {brief.piece.symmetry}; it can have: {', '.join(possible)}"
    return None

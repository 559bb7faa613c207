"""Pieces that fit something she owns: its measures give the form and the size, at the pitch that comes nearest."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from itertools import islice
from math import ceil, floor
from typing import Any

from constraints.brief import Brief
from constraints.edgings.outer_side import reach
from constraints.fitting import Lengths, SizedForm, fitted
from constraints.forms import AS_EDGING, AS_FRAME, AS_MAT, AS_STRIP, PURPOSES, Form, Frame, Rectangle, Square, Strip
from constraints.stamp import Stamp
from constraints.wording import shown
from explore.asking.designs import measured_as
from explore.bad_input import BadInput
from explore.mending.changes import BriefChange, given
from explore.search.sizing import SIZING
from explore.studio import wishes
from explore.studio.rooms import roomiest

# What it becomes, in her words.
BECOMES = {
    AS_MAT: "a mat that covers it",
    AS_FRAME: "a frame that lies on it",
    AS_EDGING: "an edging sewn round it",
    AS_STRIP: "a strip that lies along it",
}
assert set(BECOMES) == set(PURPOSES)
# mm.
_LEAST, _MOST = 10.0, 3000.0
# A pitch may be so much finer or coarser than the one she wishes; a mat so much higher than wide is a square.
_FINER, _COARSER, _SQUARE = 0.85, 1.15, 1.02
# Of so many repeats of a strip about the one that gives her print most room are tried; so many ways are offered.
_REPEATS, _WAYS = 4, 3
# As many pairs as the page lets her wish for.
_MOST_PAIRS = 200
# No further off than this it fits, mm.
_FITS = 1.0
_FORMS: dict[str, type[Form]] = {AS_FRAME: Frame, AS_EDGING: Frame, AS_STRIP: Strip}
# Wishes that hold whatever it becomes.
_KEPT = ("pairs", "edging", "pitch", "stitches", "known")


@dataclass(frozen=True)
class OwnThing:
    """purpose: what the lace becomes, one of PURPOSES. size: width and height of the object, mm; of a strip the height
    is its length, and a width of 0 is any."""

    purpose: str
    size: Lengths


def own_thing(asked: object) -> OwnThing:
    """What the page asks for. Raises BadInput."""
    if not isinstance(asked, Mapping) or asked.get("purpose") not in BECOMES:
        raise BadInput(f"it becomes one of {', '.join(BECOMES)}")
    sides = [asked.get("width") or 0, asked.get("height") or 0]
    if any(not isinstance(each, int | float) or isinstance(each, bool) for each in sides):
        raise BadInput("its measures are numbers, in mm")
    wide, high = map(float, sides)
    needed = (high,) if asked["purpose"] == AS_STRIP and not wide else (wide, high)
    if any(not _LEAST <= each <= _MOST for each in needed):
        raise BadInput(f"its measures are {_LEAST:g} to {_MOST:g} mm")
    return OwnThing(str(asked["purpose"]), (wide, high))


def ways(word: str, flags: Mapping[str, str], stamp: Stamp, thing: OwnThing) -> list[dict[str, Any]]:
    """The ways to make it fit, the best first: `words` and the wishes that make it so, `flags`. Raises BadInput."""
    of = _FORMS.get(thing.purpose, Square if max(thing.size) <= _SQUARE * min(thing.size) else Rectangle)
    kept = {"form": of.name, **{name: text for name, text in flags.items() if name in _KEPT}}
    base = wishes.brief_of(word, kept)
    found = _fitting(base, of, stamp, thing)
    if not found:
        # With more pairs, as many as the nearest takes.
        found = _fitting(base.changed(pairs=_MOST_PAIRS), of, stamp, thing)[:1]
    return [{"words": _told(each, base), "flags": {**kept, **_given(each, base)}} for each in found]


def _fitting(base: Brief, of: type[Form], stamp: Stamp, thing: OwnThing) -> list[SizedForm]:
    """The best forms that a brief allows, each once at its pitch."""
    ranked = sorted(_sized(base, of, stamp, thing), key=lambda each: _rank(each, base))
    allowed = (each for each in ranked if not SIZING[of.name].conflict(_brief(each, base)))
    return list(islice(allowed, _WAYS))


def _rank(sized: SizedForm, base: Brief) -> tuple[float, ...]:
    """Those that fit first, then near her pitch, then wide."""
    off = abs(sized.pitch_mm - base.piece.middle_pitch_mm)
    return int(sized.error / _FITS), round(off, 1), -sized.form.deep


def _brief(sized: SizedForm, base: Brief) -> Brief:
    pairs = sized.form.pairs(base.piece.first_way, base.piece.passives)
    return measured_as(base, sized.form).changed(
        pitch_mm=(sized.pitch_mm, sized.pitch_mm), pairs=max(pairs, base.rules.pairs)
    )


def _given(sized: SizedForm, base: Brief) -> dict[str, str]:
    return given(base, BriefChange(_brief(sized, base), 0.0))


def _told(sized: SizedForm, base: Brief) -> str:
    words = wishes.told(_brief(sized, base), [sized.form], sized.pitch_mm)
    strip = sized.form.repeating
    if strip:
        words += f" {strip.repeats} repeats, {shown(max(sized.size))} mm long."
    pitch = f"{shown(sized.pitch_mm)} mm"
    off = "It fits" if sized.error < _FITS else f"It is {shown(sized.error)} mm off"
    return f"{words} {off}." if f" {pitch}" in words else f"{words} {off}, at a pitch of {pitch}."


def _sized(base: Brief, of: type[Form], stamp: Stamp, thing: OwnThing) -> Iterator[SizedForm]:
    """Forms that may come near, each at its best pitch."""
    if thing.purpose == AS_STRIP:
        yield from _strips(base, stamp, thing.size)
        return
    finest, coarsest = _pitches(base)
    more = 0.0 if thing.purpose == AS_EDGING else reach(base.piece.headside)
    wide = thing.size[0]
    for half in range(max(1, ceil(wide / coarsest - more)), floor(wide / finest - more) + 1):
        for form in _closed(base, of, thing, half, wide / (half + more)):
            yield _at_a_pitch(form, thing.purpose, thing.size, (finest, coarsest))


def _at_a_pitch(form: Form, purpose: str, size: Lengths, pitches: Lengths) -> SizedForm:
    """A form at its best pitch, to hundredths of a mm."""
    pitch = round(fitted(form, purpose, size, pitches).pitch_mm, 2)
    return fitted(form, purpose, size, (pitch, pitch))


def _pitches(brief: Brief) -> Lengths:
    finest, coarsest = brief.piece.pitch_mm
    return (finest * _FINER, coarsest * _COARSER) if finest == coarsest else (finest, coarsest)


def _closed(base: Brief, of: type[Form], thing: OwnThing, half: int, pitch: float) -> Iterator[Form]:
    """Squares, rectangles and frames of a half-width, of an edging that of its opening, with the heights and bands that
    come near at a pitch."""
    headside = base.piece.headside
    if of.one_side:
        square = Square.sized(half, headside)
        yield from [] if square is None else [square]
        return
    nearest = round(thing.size[1] / pitch - (reach(headside) if thing.purpose == AS_FRAME else 0.0))
    beside = 0 if headside is None else headside.depth
    for other in range(max(1, nearest - beside), nearest + beside + 1):
        if thing.purpose == AS_EDGING:
            yield from _round_opening(base, half, other)
        else:
            yield from SIZING[of.name].allowed(base.changed(half_size=(half, half), half_height=other))


def _round_opening(base: Brief, half: int, other: int) -> Iterator[Form]:
    """Frames round an opening of half-sides, the band as wide as her pairs allow, or no wider than a third of that."""
    found = (
        frame
        for band in range(min(half, other), 0, -1)
        if (frame := Frame.sized(half + band, other + band, band, base.piece.headside)) is not None
        and frame.pairs(base.piece.worked, base.piece.passives) <= base.rules.pairs
    )
    widest = next(found, None)
    if widest is not None:
        yield widest
        yield from islice((each for each in found if 3 * each.band <= 2 * widest.band), 1)


def _strips(base: Brief, stamp: Stamp, size: Lengths) -> Iterator[SizedForm]:
    """Strips as long, of repeats that give her print room, as wide as her pairs or the object allow."""
    across, long = size
    every = SIZING[Strip.name].allowed(base)
    if across and every:
        columns = round(2 * (across / base.piece.middle_pitch_mm - reach(base.piece.headside) / 2)) + 1
        base = base.changed(columns=min(columns, every[-1].width + 1))
    roomy = None if SIZING[Strip.name].conflict(base) else roomiest(stamp, base, 0.0)
    if roomy is None:
        return
    finest, coarsest = _pitches(base)
    near = sorted(SIZING[Strip.name].allowed(base), key=lambda each: abs(each.area_once - roomy[0].form.area_once))
    for strip in (found for each in near[:_REPEATS] if (found := each.repeating) is not None):
        for repeats in range(max(2, int(2 * long / coarsest / strip.rows)), int(2 * long / finest / strip.rows) + 2):
            form = replace(strip, repeats=repeats)
            left, _, right, _ = form.bounds
            # Of any width, the length alone must fit.
            pitch = min(max(2 * long / form.height, finest), coarsest)
            yield _at_a_pitch(form, AS_STRIP, (across or (right - left) / 2 * pitch, long), (finest, coarsest))

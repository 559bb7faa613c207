"""What she wishes for, beside the print: what it comes to at once, and where it is impossible what mends it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from constraints import square_sizes
from constraints.brief import AT_ONCE, HARDLY, KNOWN, UNKNOWN, Brief
from constraints.forms import Form
from constraints.wording import shown
from explore import asking
from explore.bad_input import BadInput
from explore.mending.changes import offers
from explore.search.sizing import SIZING
from explore.studio.shapes import outline

# What the page may say of a brief; all else is as usual.
KEYS = (
    *("form", "pairs", "width", "height", "pitch", "symmetry", "worked", "edging", "sides", "repeats", "stitches"),
    *("half_size", "half_height", "band", "columns", "repeat", "known", "count", "seed"),
)
# So many mends are offered.
_MENDS = 2
_LONGEST = 200
_WORDS = {
    "pairs": "{} pairs",
    "width": "{} wide",
    "pitch": "a pitch of {}",
    "symmetry": "{} symmetry",
    "worked": "worked {}",
    "edging": "the edge: {}",
    "sides": "the edging along {} sides",
    "height": "{} high",
    "half_size": "{} pitches wide",
    "half_height": "{} pitches high",
    "repeats": "{} repeats",
    "band": "a band of {} half pitches",
    "columns": "{} columns of pinholes",
    "repeat": "a repeat of {} rows",
}


_KNOWN = {
    UNKNOWN: "the print need not be known",
    HARDLY: "the print may be hardly known",
    KNOWN: "the print is known",
    AT_ONCE: "the print is known at once",
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


def measured(brief: Brief) -> dict[str, Any]:
    """What wishes come to by arithmetic alone: `outline` and words; or why they cannot be had."""
    sizing = SIZING[brief.piece.form]
    why = sizing.conflict(brief)
    if why:
        return {"why": f"{why[:1].upper()}{why[1:]}."}
    allowed = sizing.allowed(brief)
    form, pitch = allowed[-1], brief.piece.middle_pitch_mm
    if form.one_side:
        pitch = square_sizes.sizes(brief)[-1].pitch_mm
    return {"words": told(brief, allowed, pitch), "outline": outline(form)}


def told(brief: Brief, allowed: Sequence[Form], pitch_mm: float) -> str:
    """Pairs and finished size of what a brief comes to. allowed: its forms, the smallest first."""
    form = allowed[-1]
    pairs = form.pairs(brief.piece.first_way, brief.piece.passives)
    those = f"{pairs} pairs" if pairs == brief.rules.pairs else f"{pairs} of your {brief.rules.pairs} pairs"
    round_worked = ", worked round" if len(brief.piece.ways) > 1 else ""
    return f"{those}: {_size_told(allowed, pitch_mm)}{round_worked}."


def _size_told(allowed: Sequence[Form], pitch: float) -> str:
    form = allowed[-1]
    left, top, right, bottom = form.bounds
    width, height = (shown(each / 2 * pitch) for each in (right - left, bottom - top))
    if form.one_side:
        return f"{width} mm wide, {form.half_side} pitches of {shown(pitch)} mm"
    if form.repeating:
        rows = [strip.rows for each in allowed if (strip := each.repeating) is not None]
        lengths = " to ".join(shown(each / 2 * pitch) for each in dict.fromkeys((rows[0], rows[-1])))
        return f"{width} mm wide, a repeat of {lengths} mm"
    if form.has_opening:
        inner = " x ".join(shown(each * pitch) for each in form.opening)
        return f"{width} x {height} mm, a band of {shown(form.deep / 2 * pitch)} mm round an opening of {inner} mm"
    return f"{width} x {height} mm, a pitch of {shown(pitch)} mm"


def mends(word: str, flags: Mapping[str, str]) -> list[dict[str, Any]]:
    """What mends wishes that cannot be had. Raises BadInput. May take a second."""
    brief = brief_of(word, flags)
    found: list[dict[str, Any]] = []
    for offer in offers(brief, (), True, flags.get("width", "")):
        wanted = {name: text for name, text in offer.options.items() if name in KEYS}
        if set(wanted) != set(offer.options) or any(set(wanted) == set(each["flags"]) for each in found):
            continue
        try:
            holds = not SIZING[brief.piece.form].conflict(brief_of(word, {**flags, **wanted}))
        except BadInput:
            holds = False
        if holds:
            found.append(mend(wanted))
        if len(found) == _MENDS:
            break
    return found


def mend(options: Mapping[str, str]) -> dict[str, Any]:
    """A change of wishes as the page offers it. options: of a command."""
    return {"words": " and ".join(in_words(options).values()), "flags": dict(options)}


def in_words(options: Mapping[str, str]) -> dict[str, str]:
    """Options of a command as the page tells them, by their names."""
    told = {name: _WORDS.get(name, f"{name.replace('_', ' ')} {{}}").format(text) for name, text in options.items()}
    if "known" in options:
        told["known"] = _KNOWN.get(options["known"], options["known"])
    return told

"""Why no size of a brief can be worked, and what would mend it: arithmetic on sizes alone.

Every mend that a sentence offers has been tried: the brief with that change allows a size.
"""

from __future__ import annotations

import math
from dataclasses import replace

from constraints import forms
from constraints.brief import Brief, Size, largest_half_size, pairs_needed, sizes
from constraints.edging import FOOTSIDE, named
from constraints.outer_side import reach
from constraints.piece import ACROSS, ROUND
from constraints.square import Square

# More pairs than any size takes: what the grid and the pitch allow by themselves.
_ENOUGH_PAIRS = 10**6
# Mends offer pitches in steps of a tenth of a millimetre, up to the coarsest a brief may ask for.
_STEPS_PER_MM, _COARSEST_MM = 10, 100.0

# What to change, in words, and the brief with that change.
Mend = tuple[str, Brief]


def shown(number: float) -> str:
    """A number for a sentence: at most two decimals, none that say nothing."""
    return f"{round(number, 2):.2f}".rstrip("0").rstrip(".")


def rounded_up(number: float, decimals: int = 0) -> str:
    """What must be had at least, so many decimals: more rather than less, but for what arithmetic leaves behind."""
    least = math.ceil(number * 10**decimals - 1e-6) / 10**decimals
    return f"{least:.{decimals}f}"


def _fans_conflict(brief: Brief) -> str | None:
    """Why whole fans fit round none of the sizes that the pairs allow; None if that is not the reason."""
    if brief.edging == FOOTSIDE:
        return None
    plain = sizes(replace(brief, edging=FOOTSIDE, passives=brief.edge_passives))
    if not plain:
        return None
    middle = plain[0].half_size
    near = sorted((n for n in range(1, 2 * middle + 20) if brief.form_of(n)), key=lambda n: (abs(n - middle), n))
    pairs = pairs_needed(near[0], brief.worked, brief.edge_passives)
    asked = f"half-size {middle}" if len(plain) == 1 else f"half-sizes {middle} to {plain[-1].half_size}"
    nearest = f"the nearest is half-size {near[0]}, with {pairs} pairs"
    return f"whole fans of a {brief.edging} do not go round {asked}; {nearest}"


def measures(square: Square) -> str:
    """Finished width and height, such as "95 x 95 mm"."""
    return f"{shown(square.width_mm)} x {shown(square.height_mm)} mm"


def measure(square: Square) -> str:
    """The side of a square, such as "95 mm", or both sides of another form."""
    return f"{shown(square.width_mm)} mm" if isinstance(square.form, forms.Square) else measures(square)


def shown_pitch(pitch_mm: tuple[float, float]) -> str:
    """A pitch or a range of pitches, such as "4-5 mm"."""
    finest, coarsest = (shown(end) for end in pitch_mm)
    return f"{finest} mm" if finest == coarsest else f"{finest}-{coarsest} mm"


def size_conflict(brief: Brief) -> str | None:
    """One line on why the brief allows no size and what would mend it; None if it allows one.

    No size means that no square exists, so this is a proof: "28 pairs at a 4-5 mm pitch give at most
    130 mm; for 140 mm take 30 pairs or a 5.4 mm pitch".
    """
    if sizes(brief):
        return None
    fans = _fans_conflict(brief)
    if fans:
        return fans
    if brief.width_mm is not None:
        free = sizes(replace(brief, pairs=_ENOUGH_PAIRS))
        return _too_few_for_width(brief, brief.width_mm, free) if free else _between(brief, brief.width_mm)
    if brief.half_size is not None:
        least = brief.half_size[0]
        wish = f"for half-size {least}"
    else:
        least = 1
        wish = "for the smallest square"
    most = _largest(brief)
    reach = f"reach half-size {most} at most" if most >= 1 else "are too few for any square"
    return f"{brief.pairs} pairs{_way(brief)} {reach}; {wish} {_either(_pairs_mends(brief, least))}"


def width_difference(brief: Brief) -> str | None:
    """One line on how far the finished width is from the one asked; None if it is met.

    With a fixed pitch a square is a whole number of pitches wide: "28 pitches of 5 mm give 140 mm, 2 mm
    more than asked".
    """
    allowed = sizes(brief)
    if brief.width_mm is None or not allowed:
        return None
    half_size, pitch = allowed[0].half_size, allowed[0].pitch_mm
    headside = named(brief.edging)
    width = (half_size + (0.0 if headside is None else reach(headside))) * pitch
    difference = width - brief.width_mm
    if abs(difference) < 0.05:  # less than any lace keeps its width
        return None
    pitches = "1 pitch" if half_size == 1 else f"{half_size} pitches"
    give = "gives" if half_size == 1 else "give"
    side = "more" if difference > 0 else "less"
    return (
        f"{pitches} of {shown(pitch)} mm {give} {shown(width)} mm, "
        f"{shown(abs(difference))} mm {side} than asked"
    )


def _too_few_for_width(brief: Brief, width: float, free: tuple[Size, ...]) -> str:
    """The pairs reach no size this wide. free: the sizes that enough pairs would allow."""
    most = _largest(brief)
    start = f"{brief.pairs} pairs{_way(brief)} at a {shown_pitch(brief.pitch_mm)} pitch"
    widest = shown(most * brief.pitch_mm[1])
    reach = f"give at most {widest} mm" if most >= 1 else "are too few for any square"
    mends = _pairs_mends(brief, min(size.half_size for size in free))
    if most >= 1:
        mends.insert(1, _pitch_mend(brief, _rounded_up(width / most)))
    return f"{start} {reach}; for {shown(width)} mm {_either(mends)}"


def _between(brief: Brief, width: float) -> str:
    """The width falls between two whole numbers of pitches, however many pairs there are."""
    finest, coarsest = brief.pitch_mm
    fewer = math.floor(width / coarsest)
    mends = [_pitch_mend(brief, width / count) for count in (fewer + 1, fewer) if count >= 1]
    widths = [fewer * coarsest, (fewer + 1) * finest]
    mends += [(f"a width of {shown(each)} mm", replace(brief, width_mm=each)) for each in widths if each > 0]
    return (
        f"no whole number of {shown_pitch(brief.pitch_mm)} pitches gives {shown(width)} mm; {_either(mends)}"
    )


def _pairs_mends(brief: Brief, half_size: int) -> list[Mend]:
    """More pairs, fewer passives, or working it round, which takes about half the pairs."""
    needed = pairs_needed(half_size, brief.worked, brief.edge_passives)
    mends = [(f"{needed} pairs", replace(brief, pairs=needed))]
    edges = 2 if brief.worked == ACROSS else 1
    passives = brief.passives - math.ceil((needed - brief.pairs) / edges)
    if passives >= 0:
        mends.append((f"passives {passives}", replace(brief, passives=passives)))
    if brief.worked == ACROSS:
        mends.append(("the round way of working", replace(brief, worked=ROUND)))
    return mends


def _pitch_mend(brief: Brief, pitch: float) -> Mend:
    words = f"{round(pitch, 3):g}"
    article = "an" if words.startswith("8") or words.split(".")[0] in ("11", "18") else "a"
    return f"{article} {words} mm pitch", replace(brief, pitch_mm=(float(words), float(words)))


def _rounded_up(pitch: float) -> float:
    return math.ceil(pitch * _STEPS_PER_MM - 1e-9) / _STEPS_PER_MM


def _either(mends: list[Mend]) -> str:
    """The mends that do mend (with the change in place there is a size), as the end of a sentence."""
    mends = [mend for mend in mends if mend[1].pitch_mm[1] <= _COARSEST_MM]
    words = [words for words, brief in mends if sizes(brief)] or _with_more_pairs(mends)
    return "take " + (words[0] if len(words) == 1 else ", ".join(words[:-1]) + " or " + words[-1])


def _with_more_pairs(mends: list[Mend]) -> list[str]:
    """Where no single change suffices: each change together with the pairs it takes."""
    both = []
    for words, brief in mends:
        free = sizes(replace(brief, pairs=_ENOUGH_PAIRS))
        if free:
            both.append(f"{min(size.pairs for size in free)} pairs and {words}")
    return both


def _way(brief: Brief) -> str:
    return " worked across" if brief.worked == ACROSS else ""


def _largest(brief: Brief) -> int:
    return largest_half_size(brief.pairs, brief.worked, brief.edge_passives)

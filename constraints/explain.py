"""Why no size of a brief can be worked: arithmetic on sizes alone."""

from __future__ import annotations

from constraints.brief import Brief
from constraints.edgings.outer_side import reach
from constraints.forms import FORMS, Square
from constraints.piece import ACROSS
from constraints.square_sizes import largest_half_size, sizes, square_of
from constraints.wording import shown, shown_pitch

# More pairs than any size takes: what the grid and the pitch allow by themselves.
_ENOUGH_PAIRS = 10**6


def size_conflict(brief: Brief) -> str | None:
    """One line on why the brief allows no size; None if it allows one.

    No size means that no square exists, so this is a proof: "28 pairs at a 4-5 mm pitch give at most
    130 mm, 140 mm is asked for".
    """
    if sizes(brief):
        return None
    fans = _fans_conflict(brief)
    if fans:
        return fans
    if brief.piece.width_mm is not None:
        free = sizes(brief.changed(pairs=_ENOUGH_PAIRS))
        if not free:
            return (
                f"no whole number of {shown_pitch(brief.piece.pitch_mm)} pitches gives {shown(brief.piece.width_mm)} mm"
            )
        return _too_few_for_width(brief, brief.piece.width_mm)
    most = _largest(brief)
    if most < 1 or brief.piece.half_size is None:
        return f"{brief.rules.pairs} pairs{_way(brief)} are too few for any square{_edge(brief)}"
    reached = f"{brief.rules.pairs} pairs{_way(brief)} reach half-size {most} at most"
    return f"{reached}, {brief.piece.half_size[0]} is asked for"


def width_difference(brief: Brief) -> str | None:
    """One line on how far the finished width is from the one asked; None if it is met.

    With a fixed pitch a square is a whole number of pitches wide: "28 pitches of 5 mm give 140 mm, 2 mm
    more than asked".
    """
    allowed = sizes(brief)
    if brief.piece.width_mm is None or not FORMS[brief.piece.form].one_side or not allowed:
        return None
    half_size, pitch = allowed[0].half_size, allowed[0].pitch_mm
    width = (half_size + reach(brief.piece.headside)) * pitch
    difference = width - brief.piece.width_mm
    if abs(difference) < 0.05:  # less than any lace keeps its width
        return None
    pitches = "1 pitch" if half_size == 1 else f"{half_size} pitches"
    give = "gives" if half_size == 1 else "give"
    side = "more" if difference > 0 else "less"
    return f"{pitches} of {shown(pitch)} mm {give} {shown(width)} mm, {shown(abs(difference))} mm {side} than asked"


def _fans_conflict(brief: Brief) -> str | None:
    """Why whole fans fit round none of the sizes that the pairs allow; None if that is not the reason."""
    if brief.piece.headside is None:
        return None
    plain = sizes(brief.changed(headside=None, passives=brief.piece.edge_passives))
    if not plain:
        return None
    middle = plain[0].half_size
    near = sorted(
        (n for n in range(1, 2 * middle + 20) if square_of(brief.piece, n)), key=lambda n: (abs(n - middle), n)
    )
    pairs = Square(near[0]).pairs(brief.piece.first_way, brief.piece.edge_passives)
    asked = f"half-size {middle}" if len(plain) == 1 else f"half-sizes {middle} to {plain[-1].half_size}"
    nearest = f"the nearest is half-size {near[0]}, with {pairs} pairs"
    return f"whole fans of a {brief.piece.edging} do not go round {asked}; {nearest}"


def _too_few_for_width(brief: Brief, width: float) -> str:
    """The pairs reach no size this wide."""
    most = _largest(brief)
    start = f"{brief.rules.pairs} pairs{_way(brief)} at a {shown_pitch(brief.piece.pitch_mm)} pitch"
    if most < 1:
        return f"{start} are too few for any square{_edge(brief)}"
    return f"{start} give at most {shown(most * brief.piece.pitch_mm[1])} mm, {shown(width)} mm is asked for"


def _edge(brief: Brief) -> str:
    """What the edges alone take, where that is much."""
    return f" with {brief.piece.edge_passives} passives" if brief.piece.edge_passives > 1 else ""


def _way(brief: Brief) -> str:
    return " worked across" if brief.piece.worked == ACROSS else ""


def _largest(brief: Brief) -> int:
    return largest_half_size(brief.rules.pairs, brief.piece.first_way, brief.piece.edge_passives)

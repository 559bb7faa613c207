"""The sizes that a brief for squares allows, by arithmetic alone."""

from __future__ import annotations

import math
from dataclasses import dataclass

from constraints.brief import AskedPiece, Brief, Span
from constraints.edgings.outer_side import reach
from constraints.forms import Square
from constraints.piece import ACROSS


@dataclass(frozen=True)
class Size:
    """One size a square may have. width_mm = half_size x pitch_mm."""

    half_size: int
    pitch_mm: float
    pairs: int


def square_of(asked: AskedPiece, half_size: int) -> Square | None:
    """The square of a half-size with the edging asked for; None if whole fans do not fit round it."""
    return Square.sized(half_size, asked.headside)


def largest_half_size(pairs: int, worked: str, passives: int) -> int:
    """The largest half-size these pairs can work; below 1 if they suffice for none."""
    if worked == ACROSS:
        return (pairs - 2 * (1 + passives)) // 2
    return pairs - 1 - passives


def sizes(brief: Brief) -> tuple[Size, ...]:
    """Every size the brief allows, smallest first; empty if the pairs do not suffice for any.

    With a width, each half-size takes the pitch that makes it that wide if the pitch may vary, and the
    nearest half-size to the width if the pitch is fixed.
    """
    most = largest_half_size(brief.rules.pairs, brief.piece.first_way, brief.piece.edge_passives)
    if brief.piece.width_mm is not None:
        wanted = _for_width(brief.piece.width_mm, brief.piece.pitch_mm, reach(brief.piece.headside))
    elif brief.piece.half_size is not None:
        middle = brief.piece.middle_pitch_mm
        wanted = [(n, middle) for n in range(brief.piece.half_size[0], brief.piece.half_size[1] + 1)]
    else:
        largest = next((n for n in range(most, 0, -1) if square_of(brief.piece, n)), most)
        wanted = [(largest, brief.piece.middle_pitch_mm)]
    return tuple(
        Size(n, pitch, Square(n).pairs(brief.piece.first_way, brief.piece.edge_passives))
        for n, pitch in wanted
        if 1 <= n <= most and square_of(brief.piece, n)
    )


def _for_width(width: float, pitch: Span, more: float) -> list[tuple[int, float]]:
    """more: units by which fans stand out on either side."""
    finest, coarsest = pitch
    if finest == coarsest:
        nearest = round(width / finest - more)
        return [(nearest, finest)] if nearest >= 1 else []
    fewest, most = math.ceil(width / coarsest - more - 1e-9), math.floor(width / finest - more + 1e-9)
    return [(n, round(width / (n + more), 5)) for n in range(max(1, fewest), most + 1)]

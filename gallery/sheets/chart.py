"""What a plot over numbers of pairs shows, as data: stairs, bars, and what is named below.

Values belong to whole numbers of pairs, so every line is a stair: its tread runs half a pair to both sides.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from gallery.sheets.stairs import Values


@dataclass(frozen=True)
class Stair:
    """A line of the plot. values: one for each number of pairs, None where there is none.

    at: the measure at which each value stands, told in a strip below. weight: mm.
    """

    name: str
    values: Values
    at: Sequence[int | None]
    colour: str
    weight: float = 0.5


@dataclass(frozen=True)
class StairsPanel:
    """Stairs over one upright axis, which ends at 1 and begins at a round value below all there is. measured: what the
    measures in the strips below are."""

    title: str
    stairs: Sequence[Stair]
    measured: str = "half-size"


@dataclass(frozen=True)
class Bar:
    """From how many pairs something is there: whole from `whole`, partly from `partly`; None for never.

    words: what is told at the right.
    """

    name: str
    partly: int | None
    whole: int | None
    words: str
    colour: str


@dataclass(frozen=True)
class Chart:
    """All of a plot. pairs: every whole number of a range. named: those named below, each with what is told of it.

    under: what the lines told of them are. closed: pairs that reach nothing, with why in a word or two. mark:
    pairs from which something holds, marked in the panel; None for nowhere. mark_words: told above it.
    """

    title: str
    note: str
    pairs: Sequence[int]
    panel: StairsPanel | None
    bars: Sequence[Bar]
    bars_title: str
    named: Sequence[tuple[int, Sequence[str]]]
    under: Sequence[str]
    closed: Sequence[int] = ()
    closed_words: str = ""
    mark: int | None = None
    mark_words: str = ""

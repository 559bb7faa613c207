"""The sizes that budgets afford: half-sizes with the pitches and widths they may have."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from constraints.brief import Brief, Span
from constraints.forms import LARGEST_HALF_SIZE
from constraints.square_sizes import sizes
from constraints.thread import wraps_per_cm

# Every half-size is tried up to the first of these, beyond it every fourth, beyond the second every sixteenth.
_EVERY, _FOURTH = 48, 128
# So many rows a sheet and a table have, if she does not say.
_ROWS = 10
_STRIDES = (1, 2, 3, 4, 5, 6, 8, 10, 12, 15, 20, 25, 30, 40, 50, 60, 80)


@dataclass(frozen=True)
class AffordedSize:
    """A half-size, the pairs it takes and the pitches it may have, mm."""

    half_size: int
    pairs: int
    pitch_mm: Span

    @property
    def width_mm(self) -> Span:
        """Least and greatest finished width."""
        return round(self.half_size * self.pitch_mm[0], 4), round(self.half_size * self.pitch_mm[1], 4)

    @property
    def wraps(self) -> Span:
        """Wraps per cm of the thread for the finest pitch and for the coarsest."""
        return wraps_per_cm(self.pitch_mm[0]), wraps_per_cm(self.pitch_mm[1])

    def brief(self, brief: Brief) -> Brief:
        """The brief for squares of this size alone, in the middle of its pitches."""
        pitch = round(sum(self.pitch_mm) / 2, 5)
        if brief.piece.width_mm is not None:  # this pitch gives this half-size
            return brief.changed(pairs=self.pairs, pitch_mm=(pitch, pitch))
        only = (self.half_size, self.half_size)
        return brief.changed(pairs=self.pairs, half_size=only, pitch_mm=(pitch, pitch))


def affordable(brief: Brief, pairs: int) -> tuple[AffordedSize, ...]:
    """The sizes that so many pairs can work under the brief, smallest first; empty if there is none.

    With a width every half-size has its own pitch, else each has all pitches of the brief.
    """
    if brief.piece.width_mm is not None:
        of_width = sizes(brief.changed(pairs=pairs))
        return tuple(AffordedSize(each.half_size, each.pairs, (each.pitch_mm, each.pitch_mm)) for each in of_width)
    every = brief.changed(pairs=pairs, half_size=brief.piece.half_size or (1, LARGEST_HALF_SIZE))
    return tuple(AffordedSize(each.half_size, each.pairs, brief.piece.pitch_mm) for each in sizes(every))


def worked_out(every: Sequence[AffordedSize]) -> tuple[AffordedSize, ...]:
    """Those that are worked out: all small ones and a grid of the large; always the smallest.

    Which these are does not depend on the budgets asked for, so neither does what is told of a budget.
    """
    return tuple(each for number, each in enumerate(every) if number == 0 or _on_grid(each.half_size))


def _on_grid(half_size: int) -> bool:
    if half_size <= _EVERY:
        return True
    return half_size % (4 if half_size <= _FOURTH else 16) == 0


def rows(budgets: tuple[int, int], every: int | None) -> tuple[int, ...]:
    """The budgets that have a row of their own: every so many, the greatest always among them."""
    least, most = budgets
    count = most - least + 1
    stride = every or next((s for s in _STRIDES if -(-count // s) <= _ROWS), -(-count // _ROWS))
    return (*range(least, most, stride), most)

"""Words set in lines, for the terminal and for papers."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

# A title is cut after so many letters.
_LONGEST = 400


# Values by their names, as programs are told them.
Row = Mapping[str, Any]


@dataclass(frozen=True)
class RowTable:
    """Rows of values, all with the same names. told: the heads of the columns, and how each is told of a row."""

    told: Mapping[str, Callable[[Row], str]]
    rows: Sequence[Row]

    def lines(self) -> list[str]:
        """One line a row under a line of heads; of no rows none."""
        if not self.rows:
            return []
        return columns([tuple(self.told), *(tuple(tell(row) for tell in self.told.values()) for row in self.rows)])


def columns(rows: Sequence[Sequence[str]]) -> list[str]:
    """Rows of as many words each as lines, set in columns two blanks apart."""
    widths = [max(map(len, column)) for column in zip(*rows, strict=True)]
    return ["  ".join(map(str.ljust, row, widths)).rstrip() for row in rows]


def one_line(text: str) -> str:
    """A title as it may be shown: on one line, without control signs, not endless."""
    shown = "".join(c if c.isprintable() else " " for c in text)
    return " ".join(shown.split())[:_LONGEST]


def spans(numbers: Sequence[int]) -> str:
    """Rising numbers in words, such as "1 to 6, 9"."""
    runs: list[list[int]] = []
    for number in sorted(numbers):
        if runs and number == runs[-1][1] + 1:
            runs[-1][1] = number
        else:
            runs.append([number, number])
    return ", ".join(str(low) if low == high else f"{low} to {high}" for low, high in runs)

"""Words set in lines, for the terminal and for papers."""

from __future__ import annotations

from collections.abc import Sequence

# A title is cut after so many letters.
_LONGEST = 400


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

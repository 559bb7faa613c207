"""Reading pinholes that were written down, row for row, in a small text file.

    # The edging in the old book, one repeat
    columns
    1
    0 2
    1 3
    outside 5.6 1.5
    hole 2 4

After `columns` every line is a row, from the top: the columns of its pinholes, 0 the footside; `-` is a row
without any. After `counts` every number is a row: how many pinholes it has, two columns apart, rows in turn
from column 0 and column 1 (`counts from 1` begins with column 1). `outside COLUMN ROW` is a pin off the grid, in
units of the grid, rows counted from 0; `hole COLUMN ROW` one in the middle of a hole. `edge cloth fan 3 from row 5`
says what lies along the right edge, with a valley in that row; `on both sides` may follow. `#` begins a remark.
"""

from __future__ import annotations

import itertools
import re
from dataclasses import dataclass, field, replace

from constraints.edgings import Headside, named
from constraints.lattice import Point
from explore.bad_input import BadInput
from explore.editing.redrafting.draft import Draft, Place
from explore.editing.redrafting.grid import by_row

MOST_COLUMNS, MOST_ROWS, MOST_PINHOLES = 400, 2000, 40_000
_NUMBER = re.compile(r"\d{1,4}", re.ASCII)
_OUTSIDE = re.compile(r"outside\s+(-?\d{1,4}(?:\.\d*)?)\s+(-?\d{1,4}(?:\.\d*)?)", re.ASCII)
_HOLE = re.compile(r"hole\s+(\d{1,4})\s+(\d{1,4})", re.ASCII)
_EDGE = re.compile(r"edge (.{1,40}?) from row (\d{1,4})( on both sides)?", re.ASCII)
_HEADINGS = ("columns", "counts", "counts from 1")


def read_rows(text: str) -> Draft:
    """The pinholes written down in a text. Refused, naming the line, where it is not as told above."""
    so_far = _RowsSoFar()
    for number, line in enumerate(text.splitlines(), start=1):
        words = " ".join(line.split("#")[0].split())
        if words:
            so_far.take(number, words)
    draft, shift = _draft(so_far.rows, so_far.outside, so_far.holes)
    if so_far.edge is None:
        return draft
    said, both = so_far.edge
    headside = replace(said, first=(said.first + shift) % said.period)
    if (draft.columns - 1 + headside.first) % 2 == 0:
        raise BadInput(f"row {said.first} has no place for a pinhole in the last column, as a valley needs")
    return replace(draft, edging=headside, both=both)


@dataclass
class _RowsSoFar:
    """What is written down so far. rows: the line and the columns of each; holes: the line and the place of each. edge:
    the headside, first the row of a valley, and whether it is on both sides."""

    heading: str = ""
    rows: list[tuple[int, tuple[int, ...]]] = field(default_factory=list)
    outside: list[Place] = field(default_factory=list)
    holes: list[tuple[int, Point]] = field(default_factory=list)
    edge: tuple[Headside, bool] | None = None

    def take(self, number: int, words: str) -> None:
        """What a line says. number: of the line."""
        if words in _HEADINGS:
            if self.heading:
                raise BadInput(f"line {number}: {words!r} comes after {self.heading!r}; one of them begins the rows")
            self.heading = words
        elif words.startswith("edge "):
            self.edge = _edge(number, words)
        elif found := _OUTSIDE.fullmatch(words):
            self.outside.append((float(found[1]), float(found[2])))
        elif found := _HOLE.fullmatch(words):
            self.holes.append((number, (int(found[1]), int(found[2]))))
        elif self.heading:
            self._take_rows(number, words)
        else:
            raise BadInput(f"line {number}: {_short(words)} comes before the rows: they begin with columns or counts")

    def _take_rows(self, number: int, words: str) -> None:
        if self.heading == "columns":
            self.rows.append((number, _columns(number, words)))
        else:
            self.rows += [(number, columns) for columns in _counted(number, words, len(self.rows), self.heading)]
        if len(self.rows) > MOST_ROWS:
            raise BadInput(f"line {number}: more than {MOST_ROWS} rows; at most so many are read")
        if sum(len(columns) for _, columns in self.rows) > MOST_PINHOLES:
            raise BadInput(f"line {number}: more than {MOST_PINHOLES} pinholes; write down a few repeats of them")


def _edge(number: int, words: str) -> tuple[Headside, bool]:
    read = _EDGE.fullmatch(words)
    try:
        headside = named(read[1], int(read[2])) if read else None
    except ValueError:
        headside = None
    if read is None or headside is None:
        raise BadInput(f"line {number}: {_short(words)} is no edge; such as: edge cloth fan 3 from row 5 on both sides")
    return headside, bool(read[3])


def _columns(number: int, words: str) -> tuple[int, ...]:
    if words == "-":
        return ()
    columns = tuple(_whole(number, word, "a column", MOST_COLUMNS - 1) for word in words.replace(",", " ").split())
    for before, after in itertools.pairwise(columns):
        if after <= before:
            raise BadInput(f"line {number}: column {after} follows column {before}; columns go from left to right")
        if (after - before) % 2:
            raise BadInput(
                f"line {number}: columns {before} and {after} in one row; those of a row are all even or odd"
            )
    return columns


def _counted(number: int, words: str, first: int, heading: str) -> list[tuple[int, ...]]:
    counts = [_whole(number, word, "a count", MOST_COLUMNS // 2) for word in words.replace(",", " ").split()]
    shift = int(heading == "counts from 1")
    starts = [(first + place + shift) % 2 for place in range(len(counts))]
    return [tuple(range(start, start + 2 * count, 2)) for start, count in zip(starts, counts, strict=True)]


def _whole(number: int, word: str, what: str, most: int) -> int:
    if not _NUMBER.fullmatch(word) or int(word) > most:
        raise BadInput(f"line {number}: {_short(word)} is not {what}; whole numbers from 0 to {most} are")
    return int(word)


def _draft(
    rows: list[tuple[int, tuple[int, ...]]], outside: list[Place], holes: list[tuple[int, Point]]
) -> tuple[Draft, int]:
    """Rows one below the other, moved down by one if columns and rows would add up to even numbers; and by how many."""
    pinholes: set[Point] = set()
    shift: int | None = None
    for row, (number, columns) in enumerate(rows):
        for column in columns:
            if shift is None:
                shift = (column + row + 1) % 2
            if (column + row + shift) % 2 == 0:
                raise BadInput(
                    f"line {number}: column {column} stands right below a pinhole of the row above it or of"
                    " its fellows; columns are even in one row and odd in the next"
                )
            pinholes.add((column, row + shift))
    if shift is None:
        raise BadInput("has no pinholes: write columns or counts, then the rows")
    least = min(column for column, _ in pinholes)
    if least % 2 == 0 and least:
        raise BadInput(f"begins with column {least}; the footside is column 0")
    for number, (column, row) in holes:
        if (column + row + shift) % 2:
            raise BadInput(f"line {number}: column {column} of row {row} is a pinhole, not the middle of a hole")
    centres = {(column, row + shift) for _, (column, row) in holes}
    return Draft(by_row(pinholes), by_row(centres), tuple((column, row + shift) for column, row in outside)), shift


def rows_text(draft: Draft, remark: str) -> str:
    """A draft written down, so that `read_rows` gives its pins again."""
    first, last = draft.rows
    rows: list[list[str]] = [[] for _ in range(first, last + 1)]
    for column, row in draft.taken:
        rows[row - first].append(str(column))
    lines = [f"# {remark}", "columns", *(" ".join(columns) or "-" for columns in rows)]
    lines += [f"outside {column:g} {row - first:g}" for column, row in draft.headside]
    lines += [f"hole {column} {row - first}" for column, row in draft.taken_centres]
    if draft.edging is not None:
        both = " on both sides" if draft.both else ""
        lines.append(f"edge {draft.edging.name} from row {(draft.edging.first - first) % draft.edging.period}{both}")
    return "\n".join(lines) + "\n"


def _short(words: str) -> str:
    text = "".join(c if c.isprintable() else "?" for c in words)
    return repr(text if len(text) <= 40 else text[:37] + "...")

"""What the measures of a strip can be: its columns from the pairs, its repeats from the rows and the edging."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from constraints.brief import Brief
from constraints.forms import Strip
from constraints.piece import ACROSS
from constraints.symmetry import SUITS
from explore.search.more import more_of, of_more_pairs

# Fewer columns hold no block between plain edges.
FEWEST_COLUMNS = 7


def columns_of(brief: Brief) -> int:
    """The columns she asked for, or as many as her pairs allow; below FEWEST_COLUMNS if they allow none."""
    if brief.piece.columns is not None:
        return brief.piece.columns
    return brief.rules.pairs - _form(brief, 2, 8).pairs(ACROSS, brief.piece.passives) + 2


def forms_of(brief: Brief) -> list[Strip]:
    """Every strip that the brief allows, one a length of its repeat, the shortest first."""
    columns, headside = columns_of(brief), brief.piece.headside
    period = 2 if headside is None else headside.period
    return [
        _form(brief, columns, rows)
        for rows in range(brief.piece.rows[0], brief.piece.rows[1] + 1)
        if rows % period == 0
    ]


def symmetries(brief: Brief, form: Strip) -> list[str]:
    """The symmetries that a strip may have under the brief."""
    possible = form.symmetries_allowed(ACROSS)
    return [name for name in possible if brief.piece.symmetry == SUITS or name in brief.piece.symmetries]


def conflict(brief: Brief) -> str | None:
    """One line on why the brief allows no strip; None if it allows one."""
    columns, headside = columns_of(brief), brief.piece.headside
    depth = 0 if headside is None else headside.depth * (2 if brief.piece.both_sides else 1)
    least = FEWEST_COLUMNS + depth
    needed = _form(brief, max(columns, least), 8).pairs(ACROSS, brief.piece.passives)
    if columns < least:
        return (
            f"{columns} columns are too few for a strip with {brief.piece.edging}: it has {least} at least, which take "
            f"{_form(brief, least, 8).pairs(ACROSS, brief.piece.passives)} pairs"
        )
    if needed > brief.rules.pairs:
        most = brief.rules.pairs - _form(brief, 2, 8).pairs(ACROSS, brief.piece.passives) + 2
        return (
            f"a strip of {columns} columns takes {needed} pairs; {brief.rules.pairs} pairs suffice for {most} columns"
        )
    possible = forms_of(brief)
    if not possible:
        period = 2 if headside is None else headside.period
        span = f"{brief.piece.rows[0]} to {brief.piece.rows[1]}"
        return f"no repeat of {span} rows holds whole fans: a multiple of {period} rows does"
    if not any(symmetries(brief, form) for form in possible):
        names = sorted({name for form in possible for name in form.symmetries_allowed(ACROSS)})
        return f"no such strip has the symmetry {brief.piece.symmetry}; it can have: {', '.join(names)}"
    return None


def wider(brief: Brief) -> list[Iterable[Brief]]:
    """The brief with more and more columns: by more pairs, or those she names with the pairs that they take."""
    if brief.piece.columns is None:
        return [of_more_pairs(brief)]
    return [_of_more_columns(brief, brief.piece.columns)]


def _of_more_columns(brief: Brief, own: int) -> Iterator[Brief]:
    for columns in more_of(own):
        needed = _form(brief, columns, 8).pairs(ACROSS, brief.piece.passives)
        yield brief.changed(columns=columns, pairs=max(brief.rules.pairs, needed))


def _form(brief: Brief, columns: int, rows: int) -> Strip:
    asked = brief.piece
    return Strip.sized(columns, rows, asked.repeats, asked.headside, asked.both_sides)

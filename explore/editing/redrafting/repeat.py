"""The repeat of a strip: the fewest rows after which its pinholes come again, and the dots that break it."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np

from constraints.edgings import Headside
from constraints.lattice import Point
from explore.editing.redrafting.draft import FAINT, Doubt, Draft, Place
from explore.editing.redrafting.folding import Fold
from explore.editing.redrafting.grid import by_row

# More dots than this share that break a repeat, and it is none; none may where it is not shown twice.
MOST_BROKEN = 0.1
# What is not shown twice comes after all that is, once she has settled a doubt.
MOST_GAINSAID = 10**6


@dataclass(frozen=True)
class Repeat:
    """rows: of one repeat, even. first: row it is counted from. glide: after half its rows it comes mirrored.

    pinholes, centres: of one repeat, rows from 0. headside: pins outside, likewise, the mean over all repeats.
    seen: how many repeats the pricking shows. edging, both: as of a draft, first counted from row 0 here.
    """

    rows: int
    first: int
    glide: bool
    pinholes: tuple[Point, ...]
    centres: tuple[Point, ...]
    headside: tuple[Place, ...]
    seen: float
    edging: Headside | None = None
    both: bool = False

    @property
    def columns(self) -> int:
        return max(column for column, _ in self.pinholes) + 1

    def from_row(self, row: int) -> Repeat:
        """The same repeat counted from another of its rows, an even one."""
        pinholes, centres = (
            by_row({(x, (y - row) % self.rows) for x, y in places}) for places in (self.pinholes, self.centres)
        )
        headside = sorted((round((y - row) % self.rows, 2), x) for x, y in self.headside)
        outside = tuple((x, y) for y, x in headside)
        edging = self.edging and _from_row(self.edging, row)
        return replace(
            self, first=self.first + row, pinholes=pinholes, centres=centres, headside=outside, edging=edging
        )


def _from_row(headside: Headside, row: int) -> Headside:
    return replace(headside, first=(headside.first - row) % headside.period)


def find_repeat(draft: Draft) -> Repeat | None:
    """The repeat that tells the pinholes in the fewest words: those of one repeat, and those that break it.

    None if no repeat shorter than the pricking explains them.
    """
    first, last = draft.rows
    shown = last - first + 1
    best: tuple[int, float, int] | None = None
    step = 2 if draft.edging is None else draft.edging.period
    for rows in range(step, shown, step):
        fold = Fold.of(draft, rows)
        if fold.hides_block:
            continue
        broken, cost = fold.cost
        twice = 2 * rows <= shown
        allowed = max(0.0, MOST_BROKEN * int(fold.pins.sum()) - 1) if twice else 0
        # A repeat that is shown twice and has all as she said goes before one that has not.
        found = fold.gainsaid if twice else int(draft.settled != ()) * MOST_GAINSAID, cost, rows
        if broken <= allowed and (best is None or found < best):
            best = found
    return None if best is None else _told(draft, best[2])


def one_repeat(draft: Draft) -> Repeat:
    """All of a draft as one repeat: an even number of rows, the least that holds them and whole fans."""
    first, last = draft.rows
    step = 2 if draft.edging is None else draft.edging.period
    return _told(draft, -(-(last - first + 1) // step) * step)


def broken(draft: Draft, repeat: Repeat) -> Draft:
    """The draft with the dots that break the repeat among its doubtful ones.

    A dot in most repeats but not here is taken; one that stands here and in few others is not. Faint dots are
    settled by the other repeats, where those agree. A pin outside the grid that no other repeat has is doubtful.
    """
    first = draft.rows[0]
    sure, doubts = {*draft.pinholes, *draft.centres}, {doubt.place: doubt for doubt in draft.doubts}
    fold = Fold.of(draft, repeat.rows)
    for (column, row), (there, seen) in _tally(fold).items():
        usual = bool(fold.usual[row, column])
        for y in range(row, len(fold.pins), repeat.rows):
            place = column, first + y
            faint = place in doubts and doubts[place].why == FAINT
            cut = fold.ended[y, column] or (fold.near[y, column] and seen > 1)
            if faint and seen > 1:
                del doubts[place]
                sure |= {place} if usual else set()
            elif (place in sure) != usual and place not in doubts and not cut:
                others = f"{there if usual else seen - there} of {seen} repeats"
                why = f"missing here, there in {others}" if usual else f"here, missing in {others}"
                sure.discard(place)
                doubts[place] = Doubt(0, (float(column), float(place[1])), place, why, usual)
    for x, y in fold.unsure:
        why = "missing here, there where the card ends"
        doubts.setdefault((x, y), Doubt(0, (float(x), float(y)), (x, y), why, False))
    for place in _faint_rows(draft, fold):
        del doubts[place]
        sure.add(place)
    outside = tuple(pin for pin in draft.headside if _kin(pin, repeat))
    for pin in draft.headside:
        if pin not in outside:
            place = _nearest_pinhole(pin)
            doubts.setdefault(place, Doubt(0, pin, place, "outside the grid, in this repeat alone", False))
    pinholes, centres = (by_row({place for place in sure if sum(place) % 2 == odd}) for odd in (1, 0))
    return replace(draft, pinholes=pinholes, centres=centres, doubts=tuple(doubts.values()), headside=outside)


def _nearest_pinhole(at: Place) -> Point:
    column, row = round(at[0]), round(at[1])
    near = [(column, row), (column + 1, row), (column - 1, row), (column, row + 1), (column, row - 1)]
    return min((place for place in near if sum(place) % 2), key=lambda place: math.dist(place, at))


def _faint_rows(draft: Draft, fold: Fold) -> set[Point]:
    """The faint dots of a row above the first or below the last that has most of the dots of the repeat."""
    first, last = draft.rows
    faint = {doubt.place for doubt in draft.doubts if doubt.why == FAINT}
    found: set[Point] = set()
    for row in {row for _, row in faint if not first <= row <= last}:
        other = (row - first) % fold.rows
        most = (2 * fold.there[other] > fold.seen[other]) & (fold.seen[other] > 1)
        own = {(column, row) for column in np.flatnonzero(most).tolist()}
        if 2 * len(own & faint) > len(own):
            found |= own & faint
    return found


def _kin(pin: Place, repeat: Repeat) -> bool:
    """Whether a pin outside the grid is one of those of the repeat."""
    half = repeat.rows / 2
    row = pin[1] - repeat.first + half
    return any(math.hypot(pin[0] - x, (row - y) % repeat.rows - half) < 1.5 for x, y in repeat.headside)


def _tally(fold: Fold) -> dict[Point, tuple[int, int]]:
    """For every place of a repeat, rows from 0: in how many repeats it is pinned, and how many show it.

    Middles of holes are told only where one has a pin.
    """
    rows = min(fold.rows, len(fold.pins))
    told = (fold.grid(fold.rows) | (fold.there > 0))[:rows]
    return {(x, y): (int(fold.there[y, x]), int(fold.seen[y, x])) for y, x in np.argwhere(told).tolist()}


def _told(draft: Draft, rows: int) -> Repeat:
    first, last = draft.rows
    # Rows of a repeat keep column + row odd.
    start = first - first % 2
    usual = np.argwhere(Fold.of(draft, rows).usual).tolist()
    every = {(column, (row + first - start) % rows) for row, column in usual}
    pinholes, centres = ({place for place in every if sum(place) % 2 == odd} for odd in (1, 0))
    shown = (last - first + 1) / rows
    headside = _means([(column, (row - start) % rows) for column, row in draft.headside], rows, shown)
    found = by_row(pinholes)
    columns = draft.columns
    glide = _glides(set(found), columns, rows)
    edging = draft.edging and _from_row(draft.edging, start)
    return Repeat(rows, start, glide, found, by_row(centres), headside, shown, edging, draft.both)


def _glides(pinholes: set[Point], columns: int, rows: int) -> bool:
    """Whether half a repeat on the pinholes come again mirrored from side to side, and not as they are."""
    half = rows // 2
    if rows < 4 or (columns + half) % 2 == 0:
        return False
    return {(columns - 1 - column, (row + half) % rows) for column, row in pinholes} == pinholes


def _means(places: list[Place], rows: int, shown: float) -> tuple[Place, ...]:
    """Pins of all repeats that stand as near as half a pitch become one; those of a few repeats are left out."""
    groups: list[list[Place]] = []
    for column, row in sorted(places):
        for group in groups:
            away = (row - group[0][1] + rows / 2) % rows - rows / 2
            if math.hypot(column - group[0][0], away) < 1:
                group.append((column, group[0][1] + away))
                break
        else:
            groups.append([(column, row)])
    kept = [group for group in groups if 2 * len(group) > math.floor(shown) - 1]
    means = [(sum(x for x, _ in group) / len(group), sum(y for _, y in group) / len(group) % rows) for group in kept]
    return by_row((round(x, 2), round(y, 2)) for x, y in means)

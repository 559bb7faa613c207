"""The slanting rows of trails that go round a corner in one piece, as they are seen on the pricking.

Where three pairs of a block or more go over a corner line side by side and no pin stands there between the outermost
ones, neither on the line nor beside it, its rows slant: every outer pin too many is worked with an inner pin that was
used once already, so that of the last inner pins before the line, and of the first ones after it, each is used twice.
A place between them is worked with the first row before which it must be; after the line with the last one after which
it can be. Common practice, no source.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from itertools import groupby

from player.pricking import Place, Pricking

LEFT, RIGHT = -1, 1


@dataclass(frozen=True)
class SlantingRow:
    """places: as they lie from left to right. turn: how many slanting rows of its side come before. after: whether
    it lies after the line. outer, inner: the places of its pins. first: whether that inner pin is new."""

    places: tuple[Place, ...]
    turn: int
    after: bool
    outer: Place
    inner: Place
    first: bool


def slanting_rows(pricking: Pricking, number: int, start: frozenset[tuple[Place, Place]]) -> dict[Place, SlantingRow]:
    """Every place of a block that is worked in a slanting row, with that row. start: the ways over the start line: a
    trail that this cuts is worked in level rows."""
    found: dict[Place, SlantingRow] = {}
    for run in _runs(pricking, pricking.blocks[number]):
        sides = [_Side(pricking, number, [link[after] for link in run], bool(after)) for after in (0, 1)]
        rows = [row for side in sides for row in side.rows()]
        cut = {place for way in start for place in way}
        if not any(place in cut for row in rows for place in row.places):
            found |= {place: row for row in rows for place in row.places}
    return found


def _runs(pricking: Pricking, places: frozenset[Place]) -> Iterable[list[tuple[Place, Place]]]:
    """The links over corner lines that lie side by side, three at least and none of them a seam, from the middle
    outwards."""

    def line_of(link: tuple[Place, Place]) -> tuple[str, str]:
        return pricking.quarter(link[0]), pricking.quarter(link[1])

    for _, line in groupby(sorted(pricking.links(places), key=line_of), key=line_of):
        runs: list[list[tuple[Place, Place]]] = []
        for link in sorted(line, key=lambda link: -pricking.across(link[0], pricking.quarter(link[0]))):
            if not runs or abs(link[0][0] - runs[-1][-1][0][0]) > 1:
                runs.append([])
            runs[-1].append(link)
        yield from (run for run in runs if len(run) > 2 and not any(pricking.seam(*link) for link in run))


class _Side:
    """A trail on one side of a corner line. ends: its places at the line, from the middle outwards."""

    def __init__(self, pricking: Pricking, number: int, ends: list[Place], after: bool) -> None:
        self.pricking, self.ends, self.after = pricking, ends, after
        self.quarter = pricking.quarter(ends[0])
        own = {each for each in pricking.blocks[number] if pricking.quarter(each) == self.quarter}
        self.part = self._reached(ends, lambda place: [each for each in pricking.around(place) if each in own])

    def rows(self) -> list[SlantingRow]:
        """Its slanting rows in the order of work."""
        levels = sorted({self._along(place) for place in self.part}, reverse=self.after)
        lines = [sorted(each for each in self.part if self._along(each) == level) for level in levels]
        lines = [sorted(line, key=lambda place: self.pricking.across(place, self.quarter)) for line in lines]
        meets = levels.index(self._along(self.ends[0]))
        pinned = [(at, line[0]) for at, line in enumerate(lines) if line[0] in self.pricking.number]
        more = sum(at > meets for at, _ in pinned)
        outer = [place for _, place in pinned][-2 * more :]
        inner = [line[-1] for line in lines[: meets + 1] if line[-1] in self.pricking.number][-more:]
        begin = levels.index(self._along(outer[0])), levels.index(self._along(inner[0]))
        left = {place for level in levels[min(begin) :] for place in self.part if self._along(place) == level}

        def before(place: Place) -> list[Place]:
            return [each for each in self._before(place) if each in left]

        found = []
        for turn, end in enumerate(outer):
            taken = self._reached([end, inner[turn // 2]], before) & left
            left -= taken
            lying = tuple(sorted(taken, key=lambda place: self.pricking.across(place, self.quarter)))
            turned = len(outer) - 1 - turn if self.after else turn
            found.append(SlantingRow(lying, turned, self.after, end, inner[turn // 2], turned % 2 == 0))
        return found[::-1] if self.after else found

    def _along(self, place: Place) -> float:
        return self.pricking.along(place, self.quarter)

    def _before(self, place: Place) -> list[Place]:
        """The places from which pairs come to one, towards the line; after it those to which they go."""
        hand = -1 if self.after else 1
        return [each for each in self.pricking.around(place) if hand * (self._along(place) - self._along(each)) > 0]

    @staticmethod
    def _reached(begin: Iterable[Place], steps: Callable[[Place], list[Place]]) -> set[Place]:
        found, left = set(begin), list(begin)
        while left:
            for each in steps(left.pop()):
                if each not in found:
                    found.add(each)
                    left.append(each)
        return found

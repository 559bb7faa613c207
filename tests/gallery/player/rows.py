"""The rows of a block as they lie on the pricking."""

from __future__ import annotations

from math import inf

from player.fault import Fault
from player.pillow import Pair, Pillow
from player.pricking import Place
from player.slanting import slanting_rows

LEFT, RIGHT = -1, 1


class RowsOfBlock:
    """The rows of one block. edge: the edge along which it lies as a headside, None for others."""

    def __init__(self, pillow: Pillow, number: int) -> None:
        self.pillow, self.pricking, self.number = pillow, pillow.pricking, number
        self.places = self.pricking.blocks[number]
        self.edge = self.pricking.nearest_edge(self.places) if number in self.pricking.edging else None
        self.slanting = slanting_rows(self.pricking, number, frozenset(pillow.start)) if self.edge is None else {}

    def next_row(self, pairs: list[Pair], quarter: str) -> list[Place]:
        """The places from left to right of the first row to which pairs come in a quarter."""
        pricking = self.pricking
        heads = [
            pair.to
            for pair in pairs
            if pair.to in self.places and not pair.over and pair.to is not None and pricking.quarter(pair.to) == quarter
        ]
        if not heads:
            raise Fault(f"block {self.number} has no row to go on with in the {quarter} quarter")
        return self._run(min(heads, key=lambda place: self._when(place, quarter)), quarter)

    def _when(self, place: Place, quarter: str) -> tuple[int, float]:
        """When a place is worked in its quarter: first in rows that slant away from a corner line, then in level ones,
        then in those that slant towards the next line."""
        slanting = self.slanting.get(place)
        if slanting is None:
            return 0, self.pricking.along(place, quarter)
        return (-1 if slanting.after else 1), slanting.turn

    def _run(self, place: Place, quarter: str) -> list[Place]:
        """The row that a place is in: those beside it that the block joins to it before or after."""
        if place in self.slanting:
            return list(self.slanting[place].places)
        x, y = self.pricking.ahead(quarter)
        found = [place]
        for hand in (LEFT, RIGHT):
            here = place
            while True:
                middle = (here[0] + hand * y, here[1] - hand * x)
                after = (here[0] + 2 * hand * y, here[1] - 2 * hand * x)
                joined = any((middle[0] + by * x, middle[1] + by * y) in self.places for by in (-1, 1))
                if after not in self.places or not joined or self.pricking.quarter(after) != quarter:
                    break
                found.append(after)
                here = after
        return sorted(found, key=lambda each: self.pricking.across(each, quarter))

    def pins(self, row: list[Place]) -> dict[int, int | None]:
        """The pins of a row and the side of each: -1, 1; 0 of a single one, None in the middle."""
        found: dict[int, int | None] = {}
        if (slanting := self.slanting.get(row[0])) is not None:
            number = self.pricking.number
            return {number[slanting.outer]: LEFT} | ({number[slanting.inner]: RIGHT} if slanting.first else {})
        for place in row:
            if number := self.pricking.number.get(place):
                found[number] = LEFT if place == row[0] else RIGHT if place == row[-1] else None
        if len(row) > 1:
            found |= dict.fromkeys(self.on_line(row), RIGHT)
        if self.edge is None:
            return dict.fromkeys(found, self._border(row[0])) if len(row) == 1 else found
        inner, own = ((RIGHT, LEFT)[self.edge], (LEFT, RIGHT)[self.edge])
        if len(row) == 1:
            found = dict.fromkeys(found, inner)
        found = {number: None if side == own else side for number, side in found.items()}
        outer = self.outer_pin(row)
        if outer is not None:
            found[outer] = own
        return found

    def on_line(self, row: list[Place]) -> list[int]:
        """The pins on corner lines at the right end of a row, by which a pair comes in and by which one goes; of a
        single place its own pin, if rows of the other half end there."""
        if len(row) == 1:
            own = self.pricking.number.get(row[0])
            return [own] if own in self.pricking.line_pins else []
        links = [*self.coming_over(row), *self.going_over(row)]
        own = {self.pricking.number.get(place) for place in row}
        pins = (self.pricking.pin_over(*link) for link in links)
        return [pin for pin in dict.fromkeys(pins) if pin is not None and pin not in own]

    def coming_over(self, row: list[Place]) -> list[tuple[Place, Place]]:
        """The ways by which pairs come to a row over a seam."""
        return [(above, place) for place in row for above in self.pricking.above(place) if self._seam(above, place)]

    def going_over(self, row: list[Place]) -> list[tuple[Place, Place]]:
        """The ways by which pairs go from a row over a seam."""
        both = ((place, self.pricking.below(place, side)) for place in row for side in (LEFT, RIGHT))
        return [link for link in both if self._seam(*link)]

    def _seam(self, place: Place, to: Place) -> bool:
        seam = place in self.places and self.pricking.seam(place, to)
        return seam and self.pricking.pin_over(place, to) is not None

    def first_side(self, row: list[Place]) -> int:
        """The side to which the worker turns first in a row, because pins on the line stand half a row on before it and
        half a row back after it; 0 if it may be either."""
        rows = self._part(row)
        goes = [each for each in rows if self.going_over(each)]
        comes = any(self.coming_over(each) for each in rows)
        if len(row) > 1 and (self.going_over(row) or self.coming_over(row)):
            return LEFT if self.going_over(row) else RIGHT
        if not comes and not goes:
            return 0
        quarter = self.pricking.quarter(row[0])
        levels = [self.pricking.along(each[0], quarter) for each in (row, *goes)]
        return RIGHT if comes and levels[0] < min(levels[1:], default=inf) else LEFT

    def cut(self, row: list[Place]) -> bool:
        """Whether the start line cuts the part of the block that a row belongs to: all places that pairs join to it,
        also where a trail swings over a corner line."""
        left, part = list(row), set(row)
        while left:
            x, y = left.pop()
            for near in self.places.intersection((x + dx, y + dy) for dx in (-1, 1) for dy in (-1, 1)) - part:
                ways = ((x, y), near), (near, (x, y))
                if not any(way in self.pillow.start or self.pricking.seam(*way) for way in ways):
                    part.add(near)
                    left.append(near)
        return any(part.intersection(way) and self.places.issuperset(way) for way in self.pillow.start)

    def _part(self, row: list[Place]) -> list[list[Place]]:
        """The rows of the part of the block in one quarter that a row belongs to, in the order of work."""
        quarter = self.pricking.quarter(row[0])
        left, part = list(row), set(row)
        while left:
            x, y = left.pop()
            for near in ((x + dx, y + dy) for dx in (-1, 1) for dy in (-1, 1)):
                if near not in self.places or near in part or self.pricking.quarter(near) != quarter:
                    continue
                if not {((x, y), near), (near, (x, y))} & self.pillow.start:
                    part.add(near)
                    left.append(near)
        rows = {tuple(self._run(place, quarter)) for place in part}
        return [list(each) for each in sorted(rows, key=lambda each: self.pricking.along(each[0], quarter))]

    def outer_pin(self, row: list[Place]) -> int | None:
        """The pin at the outer end of a row of a headside."""
        return None if self.edge is None else self.pricking.outer_pin(row[0], self.edge)

    def _border(self, place: Place) -> int:
        """The side at which the border of the block runs past a place alone in its row; 0 if on both."""
        quarter = self.pricking.quarter(place)
        open_ = []
        for side in (LEFT, RIGHT):
            below = self.pricking.below(place, side)
            above = next(
                (each for each in self.pricking.above(place) if self._lies(place, each, quarter) == side), None
            )
            if not {below, above} <= self.places:
                open_.append(side)
        return open_[0] if len(open_) == 1 else 0

    def _lies(self, place: Place, other: Place, quarter: str) -> int:
        away = self.pricking.across(other, quarter) - self.pricking.across(place, quarter)
        return LEFT if away < 0 else RIGHT

    def runs_along(self, pair: Pair) -> bool:
        """Whether a pair of a headside runs along its edge: the edge pair, or a passive of it."""
        if self.edge is None:
            return False
        outermost = self.pillow.pairs[0 if self.edge == 0 else -1]
        return pair.passive or (pair is outermost and (pair.to is None or pair.to in self.pricking.edge_of))

    def stays(self, place: Place, side: int) -> bool:
        """Whether the pair that leaves a place towards a side stays in the block."""
        to = self.pricking.below(place, side)
        return to in self.places and (place, to) not in self.pillow.start and not self.pricking.seam(place, to)

    def valleys(self) -> tuple[int, ...]:
        """The valley pins at the ends of a fan."""
        near = {(x + dx, y + dy) for x, y in self.places for dx in (-1, 1) for dy in (-1, 1)} - self.places
        found = [each for each in near if self.pricking.edge_of.get(each) == self.edge]
        return tuple(sorted(self.pricking.number[each] for each in found if each in self.pricking.number))

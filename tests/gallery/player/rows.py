"""The rows of a block as they lie on the pricking."""

from __future__ import annotations

from player.fault import Fault
from player.pillow import Pair, Pillow
from player.pricking import Place

LEFT, RIGHT = -1, 1


class RowsOfBlock:
    """The rows of one block. edge: the edge along which it lies as a headside, None for others."""

    def __init__(self, pillow: Pillow, number: int) -> None:
        self.pillow, self.pricking, self.number = pillow, pillow.pricking, number
        self.places = self.pricking.blocks[number]
        self.edge = self.pricking.nearest_edge(self.places) if number in self.pricking.edging else None

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
        first = min(heads, key=lambda place: pricking.along(place, quarter))
        return self._run(first, quarter)

    def _run(self, place: Place, quarter: str) -> list[Place]:
        """The row that a place is in: those beside it that the block joins to it before or after."""
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
        for place in row:
            if number := self.pricking.number.get(place):
                found[number] = LEFT if place == row[0] else RIGHT if place == row[-1] else None
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
        return to in self.places and (place, to) not in self.pillow.start

    def valleys(self) -> tuple[int, ...]:
        """The valley pins at the ends of a fan."""
        near = {(x + dx, y + dy) for x, y in self.places for dx in (-1, 1) for dy in (-1, 1)} - self.places
        found = [each for each in near if self.pricking.edge_of.get(each) == self.edge]
        return tuple(sorted(self.pricking.number[each] for each in found if each in self.pricking.number))

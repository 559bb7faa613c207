"""The pricking before her, and what the trade says of it: where pairs go on from each pinhole."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property

Place = tuple[float, float]
Vector = tuple[int, int]

# The quarters of a round in the order in which they are worked, each with its working direction, y down.
QUARTERS: dict[str, Vector] = {"left": (0, 1), "bottom": (1, 0), "right": (0, -1), "top": (-1, 0)}
DOWN: Vector = (0, 1)
ROUND = tuple(QUARTERS)


@dataclass(frozen=True, eq=False)
class Pricking:
    """What is printed, in half pitches, x to the right, y down.

    pinholes: all of the grid. pins: number to place. blocks: number to the pinholes that the map shows in it. edging:
    blocks that are fans or scallops. gimps: blocks with a gimp. doubled: pinholes in double ground. worked_round:
    whether the start line is drawn, and corner lines.
    """

    pinholes: frozenset[Place]
    pins: dict[int, Place]
    blocks: dict[int, frozenset[Place]]
    edging: frozenset[int]
    gimps: frozenset[int]
    doubled: frozenset[Place]
    worked_round: bool

    def mirrored(self) -> Pricking:
        """With left and right changed, about the middle line."""
        x0, _, x1, _ = self.box

        def across(place: Place) -> Place:
            return (x0 + x1 - place[0], place[1])

        return replace(
            self,
            pinholes=frozenset(map(across, self.pinholes)),
            pins={number: across(place) for number, place in self.pins.items()},
            blocks={number: frozenset(map(across, places)) for number, places in self.blocks.items()},
            doubled=frozenset(map(across, self.doubled)),
        )

    @cached_property
    def box(self) -> tuple[float, float, float, float]:
        """Its outermost pinholes: left, top, right, bottom."""
        xs, ys = zip(*self.pinholes, strict=True)
        return min(xs), min(ys), max(xs), max(ys)

    @cached_property
    def number(self) -> dict[Place, int]:
        return {place: number for number, place in self.pins.items()}

    @cached_property
    def block_of(self) -> dict[Place, int]:
        return {place: number for number, places in self.blocks.items() for place in places}

    # --- which way the work runs ---------------------------------------------------------------------------

    def quarter(self, place: Place) -> str:
        """The quarter of a round that a pinhole lies in: that of the nearest outer side; "" if it has none."""
        if not self.worked_round:
            return ""
        left, top, right, bottom = self.box
        x, y = place[0] - (left + right) / 2, place[1] - (top + bottom) / 2
        if (right - left) / 2 - abs(x) < (bottom - top) / 2 - abs(y):
            return "left" if x < 0 else "right"
        return "top" if y < 0 else "bottom"

    def ahead(self, quarter: str) -> Vector:
        return QUARTERS[quarter] if quarter else DOWN

    def along(self, place: Place, quarter: str) -> float:
        """How far on in a quarter a place lies."""
        x, y = self.ahead(quarter)
        return place[0] * x + place[1] * y

    def across(self, place: Place, quarter: str) -> float:
        """How far to the right a place lies with the work running towards her."""
        x, y = self.ahead(quarter)
        return place[0] * y - place[1] * x

    def below(self, place: Place, side: int, quarter: str | None = None) -> Place:
        """The place one step down, to the left (-1) or right (1)."""
        x, y = self.ahead(self.quarter(place) if quarter is None else quarter)
        return (place[0] + x + side * y, place[1] + y - side * x)

    def above(self, place: Place) -> list[Place]:
        """The pinholes from which pairs of the ground come down to one, from left to right."""
        found = [
            (place[0] + dx, place[1] + dy)
            for dx in (-1, 1)
            for dy in (-1, 1)
            if (place[0] + dx, place[1] + dy) in self.pinholes
            and place in [self.below((place[0] + dx, place[1] + dy), side) for side in (-1, 1)]
        ]
        return sorted(found, key=lambda each: self.across(each, self.quarter(place)))

    # --- the edges -----------------------------------------------------------------------------------------

    @cached_property
    def edges(self) -> tuple[tuple[Place, ...], ...]:
        """The pinholes of the edge on her left and of that on her right, in the order in which the edge pair comes to
        them; worked round, the outer edge, and that of an opening if there is one."""
        found: tuple[list[Place], list[Place]] = ([], [])
        for quarter in ROUND if self.worked_round else ("",):
            own = [place for place in self.pinholes if self.quarter(place) == quarter]
            own.sort(key=lambda place: self.along(place, quarter))
            lines = [limit(self.across(place, quarter) for place in own) for limit in (min, max)]
            for edge, line in enumerate(lines):
                found[edge].extend(place for place in own if self.across(place, quarter) == line)
        if self.worked_round and not self.opening:
            return (tuple(found[0]),)
        return tuple(found[0]), tuple(found[1])

    @cached_property
    def opening(self) -> bool:
        """Whether there is a hole in the middle."""
        left, top, right, bottom = self.box
        middle = ((left + right) / 2, (top + bottom) / 2)
        return all(max(abs(x - middle[0]), abs(y - middle[1])) > 1 for x, y in self.pinholes)

    @cached_property
    def edge_of(self) -> dict[Place, int]:
        return {place: edge for edge, places in enumerate(self.edges) for place in places}

    def nearest_edge(self, places: frozenset[Place]) -> int:
        """The edge beside which places lie: the outer one of a round."""
        if self.worked_round:
            return 0
        left, _, right, _ = self.box
        return 0 if sum(x - left - (right - x) for x, _ in places) < 0 else 1

    def next_on_edge(self, place: Place) -> Place | None:
        """The pin to which the edge pair goes on; None at the end of a piece."""
        places = self.edges[self.edge_of[place]]
        at = places.index(place) + 1
        if at < len(places):
            return places[at]
        return places[0] if self.worked_round else None

    def outer_pin(self, place: Place, edge: int) -> int | None:
        """The pin at the outer side of a headside where the row of a place ends: on the edge's line, or outside."""
        quarter = self.quarter(place)
        return self._outer_pins.get((quarter, edge, self.along(place, quarter)))

    @cached_property
    def _outer_pins(self) -> dict[tuple[str, int, float], int]:
        lines = {}
        for edge, places in enumerate(self.edges):
            lines |= {(self.quarter(place), edge): self.across(place, self.quarter(place)) for place in places}
        found: dict[tuple[str, int, float], tuple[float, int]] = {}
        for number, place in self.pins.items():
            quarter = self.quarter(place)
            for edge, hand in ((0, -1), (1, 1)):
                line = lines.get((quarter, edge))
                out = hand * self.across(place, quarter)
                if line is not None and out >= hand * line:
                    at = (quarter, edge, self.along(place, quarter))
                    found[at] = max(found.get(at, (out, number)), (out, number))  # of two the outermost
        return {at: number for at, (_, number) in found.items()}

    @cached_property
    def corners(self) -> dict[Place, Place]:
        """The last pin of the outer edge before each corner of a round to the corner itself."""
        if not self.worked_round:
            return {}
        found = {}
        for place in self.edges[0]:
            after = self.next_on_edge(place)
            if after is not None and self.quarter(after) != self.quarter(place):
                x, y = self.ahead(self.quarter(place))
                found[place] = (place[0] + x, place[1] + y)
        return found

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
    blocks that are fans or scallops. gimps: blocks with a gimp. grounds: pinholes in grounds of their own,
    with what these are called. worked_round: whether the start line is drawn, and corner lines.
    """

    pinholes: frozenset[Place]
    pins: dict[int, Place]
    blocks: dict[int, frozenset[Place]]
    edging: frozenset[int]
    gimps: frozenset[int]
    grounds: dict[Place, str]
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
            grounds={across(place): name for place, name in self.grounds.items()},
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
        found = {place: number for number, places in self.blocks.items() for place in places}
        on_lines = {self._on_line(place, to): found[place] for place, to in self.seams}
        return found | on_lines

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

    # --- blocks at corner lines ----------------------------------------------------------------------------

    def seam(self, place: Place, to: Place | None) -> bool:
        """Whether a block is worked in halves where a pair goes over a corner line within it: wherever it is no narrow
        trail that swings over, with two pairs side by side at the most, or more without a pin between them, and nothing
        of it further out on one side only, and not round the middle."""
        return to is not None and (place, to) in self.seams

    @cached_property
    def seams(self) -> frozenset[tuple[Place, Place]]:
        """The ways of pairs over seams."""
        found = set()
        for number, places in self.blocks.items():
            if number not in self.edging:
                found |= {link for link in self.links(places) if self._halved(link, places)}
        return frozenset(found)

    def links(self, places: frozenset[Place]) -> list[tuple[Place, Place]]:
        """The ways of pairs over corner lines within a block."""
        return [(place, to) for place in places for to in self._beyond(place) if to in places]

    def around(self, place: Place) -> list[Place]:
        """The four pinholes beside one, as far as there are any."""
        found = [(place[0] + dx, place[1] + dy) for dx in (-1, 1) for dy in (-1, 1)]
        return [each for each in found if each in self.pinholes]

    @cached_property
    def line_pins(self) -> frozenset[int]:
        """The pins of seams, used from both sides of the line."""
        every = (self.pin_over(*link) for link in self.seams)
        return frozenset(pin for pin in every if pin is not None)

    def _beyond(self, place: Place) -> list[Place]:
        both = (self.below(place, side) for side in (-1, 1))
        return [to for to in both if to in self.pinholes and self.quarter(to) != self.quarter(place)]

    def _halved(self, link: tuple[Place, Place], places: frozenset[Place]) -> bool:
        (x, y), ahead = link[0], self.ahead(self.quarter(link[0]))
        out = (ahead[0] - ahead[1], ahead[1] + ahead[0])

        def beside(steps: int) -> list[bool]:
            """Which of the two places so many steps further out lie in the block, in the quarters of the link's."""
            moved = [(a + steps * out[0], b + steps * out[1]) for a, b in link]
            same = [self.quarter(a) == self.quarter(b) for a, b in zip(moved, link, strict=True)]
            return [a in places and ok for a, ok in zip(moved, same, strict=True)]

        outer = next(steps for steps in range(1, len(places) + 2) if not all(beside(steps)))
        inner = next(steps for steps in range(1, len(places) + 2) if not all(beside(-steps)))
        middle = {place for place in places if abs(place[0]) + abs(place[1]) == 1}
        innermost = (x - (inner - 1) * out[0], y - (inner - 1) * out[1])
        round_it = not self.opening and len(middle) > 2 and innermost in middle
        wide = outer + inner - 1 > 2
        if wide and not any(beside(outer)) and not round_it:
            # It swings in slanting rows where no pin stands on the line, nor beside it within the trail.
            second = [(a - (inner - 2) * out[0], b - (inner - 2) * out[1]) for a, b in link]
            (a, b), (c, d) = second
            return any(place in self.number for place in [*second, ((a + c) / 2, (b + d) / 2)])
        return wide or any(beside(outer)) or round_it

    def pin_over(self, place: Place, to: Place) -> int | None:
        """The pin at which a pair leaves one half of a block and comes into the other: on the line, or that of the one
        half which has a row of a single place there; None if both have."""
        on_line = self.number.get(self._on_line(place, to))
        if on_line is not None:
            return on_line
        own = [self.number[each] for each in (place, to) if each in self.number]
        return own[0] if len(own) == 1 else None

    def _on_line(self, place: Place, to: Place) -> Place:
        """Where a pin of both stands on the line: midway, or on a fine pricking the one in the very middle of the
        piece that serves several pairs."""
        x, y = (place[0] + to[0]) / 2, (place[1] + to[1]) / 2
        left, top, right, bottom = self.box
        if (x, y) in self.number or max(abs(x - (left + right) / 2), abs(y - (top + bottom) / 2)) > 0.5:
            return (x, y)
        near = [pin for pin in self.number if max(abs(pin[0] - x), abs(pin[1] - y)) < 1 and pin not in self.pinholes]
        return min(near, key=lambda pin: abs(pin[0] - x) + abs(pin[1] - y), default=(x, y))

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

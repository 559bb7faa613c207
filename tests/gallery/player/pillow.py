"""The pairs on the pillow, from the edge on her left to the right, and where each of them is and goes."""

from __future__ import annotations

from dataclasses import dataclass, field

from player.fault import Fault, must
from player.pricking import Place, Pricking

Way = tuple[Place, Place]


@dataclass(eq=False)
class Pair:
    """at: the place it left last; None where it hangs as a passive. to: that to which it goes, None if it ends there or
    runs along an edge. crossed: whether it crossed over on this way. over: whether it lies beyond the start line, done.
    """

    at: Place | None = None
    to: Place | None = None
    crossed: bool = False
    over: bool = False
    passive: bool = False


@dataclass(eq=False)
class Pillow:
    """pairs: from the left. passives: how many run beside each edge. start: the ways over the start line, from
    pinhole to pinhole. crossings_over: the middles of the holes past which pairs crossed over; crossed: the ways on
    which they did. below_roses: every two ways that leave a rose side by side."""

    pricking: Pricking
    pairs: list[Pair]
    passives: tuple[int, ...]
    start: frozenset[Way]
    crossings_over: list[Place] = field(default_factory=list)
    crossed: set[Way] = field(default_factory=set)
    below_roses: list[tuple[Way, Way]] = field(default_factory=list)

    def pair(self, number: int) -> Pair:
        must(1 <= number <= len(self.pairs), f"there is no pair {number}")
        return self.pairs[number - 1]

    def place(self, pair: Pair) -> int:
        """Its number, counted now."""
        return next(number for number, each in enumerate(self.pairs, 1) if each is pair)

    def heading(self, place: Place) -> tuple[int, ...]:
        """The numbers of the pairs that come to a place next."""
        return tuple(n for n, pair in enumerate(self.pairs, 1) if pair.to == place and not pair.over)

    def worked(self, place: Place, left: int, right: int) -> None:
        """Two pairs were worked at a pinhole and go on from it; at an edge the outer one is the edge pair."""
        edge = self.pricking.edge_of.get(place)
        for number, side in ((left, -1), (right, 1)):
            pair = self.pair(number)
            if edge is not None and side == (-1, 1)[edge]:
                self._send(pair, place, self.pricking.next_on_edge(place))
            else:
                self._send(pair, place, self.pricking.below(place, side))

    def _send(self, pair: Pair, place: Place, to: Place | None) -> None:
        pair.at, pair.crossed = place, False
        pair.to = to if to in self.pricking.pinholes else None
        pair.over = pair.to is None or (place, pair.to) in self.start

    def ground(self, place: Place, told: tuple[int, int]) -> None:
        """A pin of the ground or of a footside, with the two pairs that are told for it."""
        must(place in self.pricking.pinholes, f"no pinhole at {place}")
        coming = self.heading(place)
        must(coming == told, f"at {place} pairs {told} are told, {coming} come there")
        between = told[1] - told[0] - 1
        edge = self.pricking.edge_of.get(place)
        must(between == (self.passives[edge] if edge is not None else 0), f"pairs {told} do not lie side by side")
        self.worked(place, *told)

    def meet(self, one: Pair, side: int) -> None:
        """A pair passes the one next to it on a side: they change places, the ways on which pairs run do not."""
        number = self.place(one)
        other = self.pair(number + side)
        self.pairs[number - 1], self.pairs[number + side - 1] = other, one
        mine, its = (one.at, one.to, one.over, one.crossed), (other.at, other.to, other.over, other.crossed)
        (one.at, one.to, one.over, one.crossed), (other.at, other.to, other.over, other.crossed) = its, mine
        one.passive, other.passive = other.passive, one.passive

    def cross_over(self, left: int) -> None:
        """Two pairs side by side cross over past a hole."""
        one, other = self.pair(left), self.pair(left + 1)
        ways = self._side_by_side(left)
        if ways is None or one.over or other.over:
            raise Fault(f"pairs {left} and {left + 1} do not run side by side past one hole")
        must(not one.crossed and not other.crossed, f"pair {left} or {left + 1} has crossed over already")
        one.crossed = other.crossed = True
        self.crossed.update(ways)
        ends = [end for way in ways for end in way]
        self.crossings_over.append((sum(x for x, _ in ends) / 4, sum(y for _, y in ends) / 4))
        self.meet(one, 1)

    def leave_rose(self, left: int) -> None:
        """Two pairs that leave a rose on one side: where they run side by side they cross over below it."""
        ways = self._side_by_side(left)
        if ways is not None:
            self.below_roses.append(ways)

    def _side_by_side(self, left: int) -> tuple[Way, Way] | None:
        """The ways of two pairs from pinhole to pinhole past one hole; None if they do not run so."""
        one, other = self.pair(left), self.pair(left + 1)
        if one.at is None or one.to is None or other.at is None or other.to is None:
            return None
        ways = (one.at, one.to), (other.at, other.to)
        (ax, ay), (bx, by), (cx, cy), (dx, dy) = ways[0] + ways[1]
        alike = (bx - ax, by - ay) == (dx - cx, dy - cy) and abs(ax - cx) == abs(ay - cy) == 1
        return ways if alike else None

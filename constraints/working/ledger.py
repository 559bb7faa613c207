"""The ledger of a piece: every crossing of two pairs, written down in the order of work.

A segment is a pair between two crossings. Each crossing takes two segments, left and right as the lacemaker sees
them with the work running towards her, and gives two. So the piece is a digraph with two pairs in and two out
at every crossing (Irvine and Ruskey 2014, Journal of Mathematics and the Arts), in an acyclic order.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import NamedTuple

import numpy as np

from constraints.lattice import FloatArray, IntArray, Place

NOWHERE = -1

# What a crossing is: at a pin of the ground, within the body of a figure, in a block, beside a figure without a pin, at
# an edge.
GROUND, BODY, BLOCK, CROSS_OVER, FOOTSIDE = range(5)


class Pin(NamedTuple):
    """A pin. place: lattice units. crossing: the crossing at which it stands, NOWHERE if a worker turns
    round it. step: the pinhole, row or figure with which it is put up, as in `Crossings.step`."""

    place: Place
    crossing: int = NOWHERE
    step: int = NOWHERE


class Turn(NamedTuple):
    """A worker turns round a pin. segment: on which it does; pin: its number among the pins; step: as in
    `Crossings.step`."""

    segment: int
    pin: int
    step: int


class Opening(NamedTuple):
    """A worker is twisted at an eye of its block. segment: on which it is; passives: how many of its row lie to the
    left of it; step: as in `Crossings.step`."""

    segment: int
    passives: int
    step: int


@dataclass(frozen=True, eq=False)
class Crossings:
    """All crossings of a piece in an order of work.

    place: (k, 2) lattice units. moves: (k,) index into `words`. kind: (k,) GROUND and so on. filling: (k,) the
    number of the filling that it is part of, NOWHERE for none. step: (k,) number
    of the pinhole, row or figure it belongs to, in the order worked. taken, given: (k, 2) the segments that
    come and go, left one first. worker: (k,) which of the two taken is the worker of a block, NOWHERE outside blocks.
    """

    place: FloatArray
    moves: IntArray
    kind: IntArray
    filling: IntArray
    step: IntArray
    taken: IntArray
    given: IntArray
    worker: IntArray
    words: tuple[str, ...]

    def __len__(self) -> int:
        return len(self.moves)

    def words_of(self, crossing: int) -> str:
        return self.words[int(self.moves[crossing])]


@dataclass(frozen=True, eq=False)
class Segments:
    """All pairs between crossings.

    tail, head: (m,) the crossing each comes from and goes to, NOWHERE where it is hung on or finished.
    twists: (m,) twists beside those of the crossings.
    """

    tail: IntArray
    head: IntArray
    twists: IntArray

    def __len__(self) -> int:
        return len(self.tail)


@dataclass(eq=False)
class Ledger:
    """A ledger while it is written. Segments and crossings are numbered from 0 as they come."""

    step: int = NOWHERE
    pins: list[Pin] = field(default_factory=list)
    turns: list[Turn] = field(default_factory=list)
    eyes: list[Opening] = field(default_factory=list)
    _crossings: list[tuple[Place, int, int, int, int, int]] = field(default_factory=list)
    _taken: list[tuple[int, int]] = field(default_factory=list)
    _given: list[tuple[int, int]] = field(default_factory=list)
    _tail: list[int] = field(default_factory=list)
    _head: list[int] = field(default_factory=list)
    _twists: list[int] = field(default_factory=list)
    _words: dict[str, int] = field(default_factory=dict)
    _turned: dict[Place, int] = field(default_factory=dict)

    def hang(self) -> int:
        """A pair hung on."""
        return self._segment(NOWHERE)

    def cross(
        self,
        left: int,
        right: int,
        moves: str,
        place: Place,
        kind: int,
        worker: int = NOWHERE,
        filling: int = NOWHERE,
    ) -> tuple[int, int]:
        """Two segments meet; the two that go on, left one first. worker: which of the two is one, 0 or 1."""
        number = len(self._crossings)
        for segment in (left, right):
            if self._head[segment] != NOWHERE:
                raise ValueError(f"segment {segment} is worked already")
            self._head[segment] = number
        word = self._words.setdefault(moves, len(self._words))
        self._crossings.append((place, word, kind, filling, self.step, worker))
        self._taken.append((left, right))
        given = self._segment(number), self._segment(number)
        self._given.append(given)
        if "." in moves:
            self.pins.append(Pin(place, number, step=self.step))
        return given

    def twist(self, segment: int, twists: int) -> None:
        self._twists[segment] += twists

    def open(self, segment: int, twists: int, passives: int) -> None:
        """A worker is twisted at an eye, so many passives to the left of it."""
        self.twist(segment, twists)
        self.eyes.append(Opening(segment, passives, self.step))

    def turn(self, segment: int, place: Place) -> None:
        """A worker turns round the pin at a place: a new one, or the one put up there before."""
        number = self._turned.setdefault(place, len(self.pins))
        if number == len(self.pins):
            self.pins.append(Pin(place, step=self.step))
        self.turns.append(Turn(segment, number, self.step))

    def after_crossing(self, place: Place) -> None:
        """A pin put up after the crossing just made."""
        self.pins.append(Pin(place, len(self._crossings) - 1, step=self.step))

    def stand(self, place: Place) -> None:
        """A pin beside which no worker turns: it stands at the nearest crossing of this step, or before a step without
        one at the nearest made so far."""

        def away(number: int) -> float:
            x, y = self._crossings[number][0]
            return (x - place[0]) ** 2 + (y - place[1]) ** 2

        last = len(self._crossings)
        here = next((k for k in range(last, 0, -1) if self._crossings[k - 1][4] != self.step), 0)
        self.pins.append(Pin(place, min(range(here if here < last else 0, last), key=away), step=self.step))

    def _segment(self, tail: int) -> int:
        self._tail.append(tail)
        self._head.append(NOWHERE)
        self._twists.append(0)
        return len(self._tail) - 1

    def closed(self) -> tuple[Crossings, Segments]:
        """What has been written, as arrays."""
        table = np.array([numbers for _, *numbers in self._crossings], dtype=np.int64).reshape(-1, 5)
        places = np.array([place for place, *_ in self._crossings], dtype=np.float64).reshape(-1, 2)
        taken, given = (np.array(each, dtype=np.int64).reshape(-1, 2) for each in (self._taken, self._given))
        moves, kind, filling, step, worker = table.T
        crossings = Crossings(places, moves, kind, filling, step, taken, given, worker, tuple(self._words))
        ends = (np.array(each, dtype=np.int64) for each in (self._tail, self._head, self._twists))
        return crossings, Segments(*ends)

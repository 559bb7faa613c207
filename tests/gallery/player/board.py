"""What the player has before it at any time: the pillow, the pins put up, the blocks begun."""

from __future__ import annotations

from dataclasses import dataclass, field

from player.fault import must
from player.head import Head
from player.pillow import Pair, Pillow
from player.pricking import Place, Pricking


@dataclass(eq=False)
class Begun:
    """A block that was begun. told: the first and last of its pairs in all. pairs: those in it now; workers: of them,
    one for each of its arms that has one. worked: its places so far; taken: the pairs so far. side: where each worker
    turned last, -1 or 1, 0 after a single pin. held: the pin that holds the block at a side, the last one there.
    passings: how many pairs passed its gimp on the left and on the right; gimp: how many are told. ways: of each of its
    workers the pins round which it turned, one after the other, 0 for a turning stitch."""

    told: tuple[int, int]
    pairs: set[Pair] = field(default_factory=set)
    workers: set[Pair] = field(default_factory=set)
    worked: set[Place] = field(default_factory=set)
    taken: set[int] = field(default_factory=set)
    side: dict[Pair, int] = field(default_factory=dict)
    held: dict[int, int] = field(default_factory=dict)
    passings: list[int] = field(default_factory=lambda: [0, 0])
    gimp: tuple[int, int] | None = None
    ways: list[list[int]] = field(default_factory=list)
    _way_of: dict[Pair, list[int]] = field(default_factory=dict)

    def way(self, worker: Pair, fresh: bool) -> list[int]:
        """The way of a worker, which is in the block already unless fresh."""
        if fresh or worker not in self._way_of:
            self._way_of[worker] = []
            self.ways.append(self._way_of[worker])
        return self._way_of[worker]


@dataclass(eq=False)
class Board:
    """The player's board. last: the number of the last pin put up. quarter: that before her; quarters: those so far.
    roses: the pins and pairs of those worked. sides: pin of a block to the side at which it stands. begun: block to
    what is known of it. hung: the ways on which pairs were hung. spiders: the pinholes of each to its pin.
    called: block to what it is called."""

    head: Head
    pricking: Pricking
    pillow: Pillow
    left_first: bool
    last: int = 0
    quarter: str = ""
    quarters: list[str] = field(default_factory=list)
    roses: list[tuple[tuple[Place, ...], tuple[Pair, ...]]] = field(default_factory=list)
    sides: dict[int, int] = field(default_factory=dict)
    begun: dict[int, Begun] = field(default_factory=dict)
    hung: list[tuple[Place | None, Place | None]] = field(default_factory=list)
    spiders: dict[Place, int] = field(default_factory=dict)
    called: dict[int, str] = field(default_factory=dict)

    def put_up(self, pin: int) -> Place:
        """The next pin, and where it stands."""
        must(pin == self.last + 1, f"pin {pin} is told after pin {self.last}")
        must(pin in self.pricking.pins, f"there is no pin {pin} on the pricking")
        self.last = pin
        return self.pricking.pins[pin]

    def pinhole(self, pin: int) -> Place:
        """The pinhole of the next pin, which lies in the quarter before her, in no block."""
        place = self.put_up(pin)
        self.here(place)
        must(place not in self.pricking.block_of, f"pin {pin} is one of a block")
        return place

    def here(self, place: Place) -> None:
        must(self.pricking.quarter(place) == self.quarter, f"{place} does not lie in the {self.quarter} quarter")

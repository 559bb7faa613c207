"""The work in steps that a lacemaker says in one breath: a diagonal of ground, a block, a figure.

Pairs are counted from the footside, as `ends.places_from_footside` has it; pins by their numbers.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from typing import NamedTuple

import numpy as np

from constraints.fillings import Unit
from constraints.flow import PIN, ROW
from constraints.piece import NO_EDGE
from constraints.pins import clefts
from constraints.working.block_rows import MIDDLE, BlockRows, Event, ExtraTurn, corner_pins
from constraints.working.ends import places_from_footside
from constraints.working.ledger import CROSS_OVER, NOWHERE
from constraints.working.numbers import number_at, pin_numbers
from constraints.working.rows import LEFT, RIGHT
from constraints.working.work import Work


@dataclass(frozen=True)
class Step:
    """A part of the work. nodes: numbers of the pinholes, rows and figures, as in `Crossings.step`. zone: the part
    of the piece it lies in. pins: the numbers of the pins put up in it. over: pairs (the left one of two) that cross
    over without a pin, and the pin before which they do."""

    nodes: tuple[int, ...]
    zone: int
    pins: tuple[int, ...]
    over: tuple[tuple[int, int], ...]


@dataclass(frozen=True)
class Diagonal(Step):
    """Pinholes in one line. slope: LEFT or RIGHT, whither it goes down. pairs: the two of its first pinhole, with
    passives between them if that lies at a footside; at every further pinhole of the ground they are one less, or
    one more. edges: its pins at the footside, one or both ends. grounds: those of its pins that are
    worked in a ground of their own, each with its number among the fillings."""

    slope: int
    pairs: tuple[int, int]
    edges: tuple[int, ...]
    grounds: tuple[tuple[int, int], ...]

    @property
    def ground(self) -> int:
        """The filling in which all its pins are worked, NOWHERE if no one is."""
        found = {filling for _, filling in self.grounds}
        return found.pop() if len(found) == 1 and len(self.grounds) == len(self.pins) else NOWHERE


@dataclass(frozen=True)
class CornerPin(Step):
    """The pin of a corner, and the edge pair and its passives turned round it; where they are hung on, only the pin."""

    hung: bool


@dataclass(frozen=True)
class FigureStep(Step):
    """unit: the figure. first, last: its pairs."""

    unit: Unit
    first: int
    last: int


class EyeTold(NamedTuple):
    """At an eye in one of the rows of a step, counted from 1, the worker is twisted so many passives from the left, on
    so many of its ways."""

    row: int
    passives: int
    ways: int


@dataclass(frozen=True)
class BlockPart(Step):
    """Rows of one block that one worker works in one go.

    block: the number of the block in its square. pairs: those in it when the step begins, a worker among them; those
    of its first row where it is begun, or begun anew. in_all: the first and the last of the pairs that the whole block
    takes. left, right, middle: what comes and goes at either side and between its arms, in order. turns: of the worker,
    beside those round its pins. eyes: in its rows. clefts: those of its pins that stand between two arms.
    ends: with which pairs it ends, those of its last row; none if they stay in it.
    again: whether the block was begun before. anew: whether none of its pairs wait in it. cut: whether the start line
    cuts the part of the block that it belongs to. done: whether nothing of the block is left to work.
    """

    block: int
    rows: int
    pairs: tuple[int, ...]
    worker: int
    in_all: tuple[int, int]
    left: tuple[Event, ...]
    right: tuple[Event, ...]
    middle: tuple[Event, ...]
    turns: tuple[ExtraTurn, ...]
    eyes: tuple[EyeTold, ...]
    clefts: tuple[int, ...]
    ends: tuple[int, ...]
    again: bool
    anew: bool
    cut: bool
    done: bool


def steps_of(work: Work) -> list[Step]:
    """The whole work, every pinhole, row and figure in one step."""
    return _Teller(work).steps()


class _Teller:
    """Reads a finished work step by step."""

    def __init__(self, work: Work) -> None:
        self.work, self.layout, flow = work, work.layout, work.flow
        self.places = places_from_footside(work).tolist()
        count = len(work.order.nodes)
        starts = np.searchsorted(work.crossings.step, np.arange(count + 1)).tolist()
        self.crossings = [range(a, b) for a, b in pairwise(starts)]
        self.pins: list[list[int]] = [[] for _ in range(count)]
        # The corner pin put up after a step, or before the first one: its number.
        self.corners: dict[int, int] = {}
        corners = corner_pins(work)
        for pin, number in zip(work.pins, pin_numbers(work).tolist(), strict=True):
            if pin.place in corners:
                self.corners[NOWHERE if number == 1 else pin.step] = number
            else:
                self.pins[pin.step].append(number)
        number = number_at(work)
        # Beside a corner line the pins on the line may stand in place of them.
        places = [(float(x), float(y)) for x, y in self.layout.piece.pinholes[clefts(self.layout)].tolist()]
        self.clefts = {number[place] for place in places if place in number}
        pinhole = work.pinhole
        self.pinhole = pinhole.tolist()
        self.kind = flow.kind[list(work.order.nodes)].tolist()
        self.zone = self.layout.piece.zone[pinhole].tolist()
        self.block = self.layout.block[pinhole].tolist()
        self.at = self.layout.piece.pinholes[pinhole]
        self.ahead = self.layout.piece.directions[self.zone]
        self.sideways = np.stack([self.ahead[:, 1], -self.ahead[:, 0]], axis=1)
        self.rows = BlockRows(work, self.places, self.crossings)
        self.in_all, self.cut = self._whole_blocks()

    def _whole_blocks(self) -> tuple[dict[int, tuple[int, int]], set[int]]:
        """The first and last pair that each block takes in all, and the parts of blocks that the start line cuts."""
        found: dict[int, tuple[int, int]] = {}
        cut = set()
        for node, block in enumerate(self.block):
            if self.kind[node] == ROW:
                pairs = self.rows.taken(node)
                first, last = found.get(block, (pairs[0], pairs[-1]))
                found[block] = min(first, pairs[0]), max(last, pairs[-1])
                if self.rows.cut(node):
                    cut.add(self.rows.part(node))
        return found, cut

    def steps(self) -> list[Step]:
        left = {block: self.block.count(block) for block in set(self.block)}
        begun: set[int] = set()
        found: list[Step] = []
        if NOWHERE in self.corners:
            found.append(CornerPin((), self.zone[0], (self.corners[NOWHERE],), (), True))
        for nodes in self._gathered():
            kind, block = self.kind[nodes[0]], self.block[nodes[0]]
            if kind == PIN:
                found.append(self._diagonal(nodes))
                if nodes[-1] in self.corners:
                    found.append(CornerPin((), self.zone[nodes[-1]], (self.corners[nodes[-1]],), (), False))
            elif kind == ROW:
                left[block] -= len(nodes)
                found.append(self._part(nodes, block in begun, not left[block]))
                begun.add(block)
            else:
                found.append(self._figure(nodes))
        return found

    def _gathered(self) -> Iterator[tuple[int, ...]]:
        """What belongs together, as it follows one after the other."""
        group: list[int] = []
        for node in range(len(self.kind)):
            if group and not self._goes_on(group, node):
                yield tuple(group)
                group = []
            group.append(node)
        if group:
            yield tuple(group)

    def _goes_on(self, group: list[int], node: int) -> bool:
        last, kind = group[-1], self.kind[node]
        if kind != self.kind[last] or self.zone[node] != self.zone[last] or last in self.corners:
            return False
        if kind == ROW:
            return bool(self.block[node] == self.block[last] and self.rows.follows(last, node))
        if kind != PIN or self._slope(last, node) is None:
            return False
        if len(group) > 1:
            return self._slope(last, node) == self._slope(group[0], group[1])
        after = node + 1
        # A diagonal down to the left is begun at its top.
        begins = after < len(self.kind) and self.kind[after] == PIN and self._slope(node, after) == LEFT
        return self._slope(last, node) == LEFT or not begins

    def _slope(self, before: int, node: int) -> int | None:
        """Whither a node lies one step down from another; None if it lies elsewhere."""
        step = self.at[node] - self.at[before]
        for side, lean in ((LEFT, -1), (RIGHT, 1)):
            if (step == self.ahead[node] + lean * self.sideways[node]).all():
                return side
        return None

    # --- one step each -----------------------------------------------------------------------------------

    def _common(
        self, nodes: tuple[int, ...]
    ) -> tuple[tuple[int, ...], int, tuple[int, ...], tuple[tuple[int, int], ...]]:
        """What every step has."""
        crossings = self.work.crossings
        pins = tuple(number for node in nodes for number in self.pins[node])
        over = []
        pin = NOWHERE
        for node in reversed(nodes):
            pin = self.pins[node][0] if self.pins[node] else pin
            crossed = [each for each in self.crossings[node] if crossings.kind[each] == CROSS_OVER]
            over += [(self.places[crossings.taken[each, 0]], pin) for each in reversed(crossed)]
        return nodes, self.zone[nodes[0]], pins, tuple(reversed(over))

    def _taken(self, node: int) -> list[int]:
        """The pairs that a node takes, cross-overs before it apart."""
        kept = [each for each in self.crossings[node] if self.work.crossings.kind[each] != CROSS_OVER]
        return [self.places[segment] for each in kept for segment in self.work.crossings.taken[each].tolist()]

    def _diagonal(self, nodes: tuple[int, ...]) -> Diagonal:
        slope = self._slope(nodes[0], nodes[1]) if len(nodes) > 1 else LEFT
        edges = [self.pins[node][0] for node in nodes if self._at_edge(self.pinhole[node])]
        fillings = [int(self.work.crossings.filling[self.crossings[node][-1]]) for node in nodes]
        grounds = [(self.pins[node][0], each) for node, each in zip(nodes, fillings, strict=True) if each != NOWHERE]
        taken = self._taken(nodes[0])
        pairs = min(taken), max(taken)
        return Diagonal(*self._common(nodes), LEFT if slope is None else slope, pairs, tuple(edges), tuple(grounds))

    def _at_edge(self, pinhole: int) -> bool:
        """Whether an edge pair comes to a pinhole or goes from it."""
        return bool(self.layout.piece.edge[pinhole] != NO_EDGE)

    def _figure(self, nodes: tuple[int, ...]) -> Step:
        pairs = self._taken(nodes[0])
        unit = self.layout.figures[int(self.layout.unit_of[self.pinhole[nodes[0]]])].unit
        return FigureStep(*self._common(nodes), unit, min(pairs), max(pairs))

    def _eyes(self, nodes: tuple[int, ...]) -> tuple[EyeTold, ...]:
        ways = Counter((nodes.index(each.step) + 1, each.passives) for each in self.work.eyes if each.step in nodes)
        return tuple(EyeTold(row, passives, ways[row, passives]) for row, passives in sorted(ways))

    def _part(self, nodes: tuple[int, ...], again: bool, done: bool) -> BlockPart:
        rows, block = self.rows, self.block[nodes[0]]
        held, stay = rows.held(nodes[0]), rows.stay(nodes[-1])
        left, right, middle = (
            tuple(each for node in nodes for each in rows.events(node, side)) for side in (LEFT, RIGHT, MIDDLE)
        )
        return BlockPart(
            *self._common(nodes), block, len(nodes), held or rows.taken(nodes[0]), rows.worker(nodes[0]),
            self.in_all[block], left, right, middle, rows.turns(nodes), self._eyes(nodes),
            tuple(pin for node in nodes for pin in self.pins[node] if pin in self.clefts),
            () if stay else rows.taken(nodes[-1]),
            again, not held, rows.part(nodes[-1]) in self.cut, done,
        )  # fmt: skip

"""What happens in the rows of a worked piece's blocks, row by row: which pairs are in them, come and go, who works,
and where the worker turns. Rows are those of `Order.nodes`, by number; pairs are places counted from the footside."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import cached_property
from typing import NamedTuple

import numpy as np

from constraints.flow import ROW
from constraints.lattice import Place
from constraints.piece import LEFT_EDGE, NO_EDGE
from constraints.working.arcs import OUTSIDE
from constraints.working.footside import corners_after
from constraints.working.habits import TURNING_STITCH
from constraints.working.ledger import BLOCK, NOWHERE
from constraints.working.numbers import number_at
from constraints.working.rows import LEFT, RIGHT
from constraints.working.work import Work

IN, OUT = "in", "out"
# Between LEFT and RIGHT: where a block splits or two arms of it meet.
MIDDLE = 2


class Event(NamedTuple):
    """A pair joins a row or leaves it. pin: its number, NOWHERE where the start line or an end of the piece cuts the
    block and no pin stands. word: IN or OUT."""

    pin: int
    word: str


class ExtraTurn(NamedTuple):
    """A turn of a worker beside those round the pins put up. after: the pin round which it turned last, NOWHERE if
    none of this step. before: where its row is begun with it, the pin of that row that is put up next, else NOWHERE.
    pin: the one used again, NOWHERE where none stands: there it makes a turning stitch with a
    passive, the pair."""

    after: int
    before: int
    pin: int
    pair: int


class BlockRows:
    """The rows of all blocks. places: (segments,) which pair each segment is. crossings: those of every row."""

    def __init__(self, work: Work, places: Sequence[int], crossings: Sequence[range]) -> None:
        self._work, self._arcs, self._flow = work, work.arcs, work.flow
        self._chains = work.chains
        self._places, self._crossings = places, crossings
        self._nodes = work.order.nodes
        self._pinhole = work.pinhole.tolist()
        self._number = number_at(work)
        self._on = {arc: places[segment] for segment, arc in enumerate(work.on.tolist()) if arc != OUTSIDE}
        self._held: dict[int, tuple[int, ...]] = {}
        self._stay: dict[int, tuple[int, ...]] = {}
        stacks: dict[int, set[int]] = {}
        for row in np.flatnonzero(work.flow.kind[list(self._nodes)] == ROW).tolist():
            self._hand_on(row)
            self._stack(row, stacks)

    # --- which pairs are in a row --------------------------------------------------------------------------

    def held(self, row: int) -> tuple[int, ...]:
        """The pairs that are in a block when one of its rows begins; none if it is begun with that row, or anew."""
        return self._held[row]

    def taken(self, row: int) -> tuple[int, ...]:
        """All pairs of a row."""
        return tuple(sorted({*self._held[row], *self._with_passives(row, self._coming[row])}))

    def stay(self, row: int) -> tuple[int, ...]:
        """The pairs that a row hands on to rows of its block after it."""
        return self._stay[row]

    def follows(self, before: int, row: int) -> bool:
        """Whether a row takes over from the one before it alone, which hands on to it alone."""
        one, other = (self._chains.number.get(self._nodes[each], NOWHERE) for each in (before, row))
        if NOWHERE not in (one, other):
            return one == other
        came = {self._node_of(self._arcs.tail[arc]) for arc in self._coming[row] if self._chains.within(arc)}
        gone = {self._node_of(self._arcs.head[arc]) for arc in self._going[before] if self._chains.within(arc)}
        return came == {self._nodes[before]} and gone == {self._nodes[row]}

    def _node_of(self, pinhole: int) -> int:
        return int(self._work.flow.node[pinhole])

    def _stack(self, row: int, stacks: dict[int, set[int]]) -> None:
        """What is in a block before a row and after it: of rows that one worker works, all that has not left it."""
        coming, going = (
            {self._on[arc] for arc in arcs[row] if self._chains.within(arc)} for arcs in (self._coming, self._going)
        )
        chain = self._chains.number.get(self._nodes[row])
        if chain is not None:
            coming = stacks.get(chain, set())
            stack = coming | self._with_passives(row, self._coming[row])
            leaving = {self._on[arc] for arc in self._going[row] if not self._chains.within(arc)}
            going = stacks[chain] = set() if self._nodes[row] in self._chains.last else stack - leaving
        self._held[row], self._stay[row] = tuple(sorted(coming)), tuple(sorted(going))

    def _hand_on(self, row: int) -> None:
        """The pairs on the arcs out of a row: those that came into it, as they lie side by side."""
        edge = self._chains.headside(self._nodes[row])
        along = {NO_EDGE: NOWHERE, LEFT_EDGE: 1}.get(edge, self._work.pairs)
        inner = {self._on[arc] for arc in self._coming[row]} - {along}
        within = [arc for arc in self._going[row] if arc not in self._on]
        free = sorted(inner - {self._on[arc] for arc in self._going[row] if arc in self._on})
        self._on.update((arc, along) for arc in within if self._arcs.edge[arc])
        self._on.update(zip((arc for arc in within if not self._arcs.edge[arc]), free, strict=True))

    def _with_passives(self, row: int, arcs: Sequence[int]) -> set[int]:
        """The pairs on arcs into a row; of a headside, the passives beside its edge pair with them."""
        pairs = {self._on[arc] for arc in arcs}
        if self._chains.headside(self._nodes[row]) != NO_EDGE and pairs:
            return set(range(min(pairs), max(pairs) + 1))
        return pairs

    # --- what comes and goes -------------------------------------------------------------------------------

    def events(self, row: int, side: int) -> Iterator[Event]:
        """The pairs that join a row that holds pairs already at a side, then those that leave one that goes on."""
        for arcs, kept, places, word in (
            (self._coming[row], self.held(row), self._arcs.head, IN),
            (self._going[row], self.stay(row), self._arcs.tail, OUT),
        ):
            for arc in arcs if kept else ():
                pair = self._on[arc]
                if not self._chains.within(arc) and pair not in kept and _side(pair, kept) == side:
                    yield Event(self._pin(arc, int(places[arc])), word)

    def _pin(self, arc: int, pinhole: int) -> int:
        """The pin at which a pair comes to a pinhole or goes from it by an arc: over a seam, or where it serves the
        row, the one on the line."""
        x, y = self._work.layout.piece.pinholes[pinhole].tolist()
        seams, own = self._work.seams, (float(x), float(y))
        coming = pinhole == int(self._arcs.head[arc])
        beside = seams.pin_instead.get((pinhole, coming), own)
        return self._number.get(seams.end_of.get(arc, own), self._number.get(beside, NOWHERE))

    def part(self, row: int) -> int:
        """The number of the part of a block that a row belongs to."""
        return self._chains.part[self._nodes[row]]

    def cut(self, row: int) -> bool:
        """Whether the start line cuts the block at a row."""
        block, arcs = self._work.layout.block, self._arcs
        return any(
            arcs.over[arc] and block[arcs.tail[arc]] == block[arcs.head[arc]]
            for arc in (*self._coming[row], *self._going[row])
        )

    # --- the worker ----------------------------------------------------------------------------------------

    def worker(self, row: int) -> int:
        """The pair that works when a row begins: in a row without crossings it stays where it is."""
        crossings, block = self._work.crossings, self._work.layout.block
        own = block[self._pinhole[row]]
        for later in range(row, len(self._nodes)):
            if block[self._pinhole[later]] != own:
                continue
            found = next((each for each in self._crossings[later] if crossings.kind[each] == BLOCK), None)
            if found is not None:
                segment = int(crossings.taken[found, crossings.worker[found]])
                return self._places[segment]
        return self.taken(row)[0]

    def turns(self, rows: Sequence[int]) -> tuple[ExtraTurn, ...]:
        """The turns of the worker in rows one after the other, but for those round the pins put up in them."""
        found = []
        last = NOWHERE
        for row in rows:
            turned = False
            own = sorted(self._turned.get(row, ()))
            for at, (_, turn, new) in enumerate(own):
                if not new:
                    later = next((other.pin for _, other, puts_up in own[at:] if puts_up), NOWHERE)
                    found.append(turn._replace(after=last, before=NOWHERE if turned else later))
                turned = turned or turn.pin != NOWHERE
                last = last if turn.pin == NOWHERE else turn.pin
        return tuple(found)

    @cached_property
    def _turned(self) -> dict[int, list[tuple[int, ExtraTurn, bool]]]:
        """For every row the turns of its worker: the crossing before each, what it is, whether its pin is put up."""
        work, crossings = self._work, self._work.crossings
        found: dict[int, list[tuple[int, ExtraTurn, bool]]] = {}
        corners = corner_pins(work)
        step_of = {(turn.segment, turn.pin): turn.step for turn in work.turns}
        for own, (pin, turned) in enumerate(zip(work.pins, work.turned, strict=True)):
            if pin.place in corners:
                continue
            number = self._number[pin.place]
            for use, segment in enumerate(turned):
                before = int(work.segments.tail[segment])
                row = step_of[segment, own]
                found.setdefault(row, []).append((before, ExtraTurn(NOWHERE, NOWHERE, number, NOWHERE), not use))
        stitches = [number for number, word in enumerate(crossings.words) if word == TURNING_STITCH]
        for crossing in np.flatnonzero(np.isin(crossings.moves, stitches)).tolist():
            passive = crossings.taken[crossing, 1 - crossings.worker[crossing]]
            turn = ExtraTurn(NOWHERE, NOWHERE, NOWHERE, self._places[passive])
            found.setdefault(int(crossings.step[crossing]), []).append((crossing, turn, False))
        return found

    # --- the arcs of the pairs -----------------------------------------------------------------------------

    @cached_property
    def _coming(self) -> list[list[int]]:
        return self._outer(self._arcs.into(self._work.flow.node, len(self._work.flow.kind)), True)

    @cached_property
    def _going(self) -> list[list[int]]:
        return self._outer(self._arcs.out_of(self._work.flow.node, len(self._work.flow.kind)), False)

    def _outer(self, by_node: list[list[int]], coming: bool) -> list[list[int]]:
        """For every row its arcs from left to right, but for those within it, as where it slants; by_node: for every
        node."""
        node, arcs = self._work.flow.node, self._arcs
        within = (arcs.tail != OUTSIDE) & (arcs.head != OUTSIDE) & ~arcs.over
        within[within] = node[arcs.row_tail[within]] == node[arcs.row_head[within]]
        return [arcs.ordered((arc for arc in by_node[node] if not within[arc]), coming) for node in self._nodes]


def corner_pins(work: Work) -> frozenset[Place]:
    """Where pins square the corners: what turns round those is no worker."""
    return frozenset(corners_after(work.layout.piece).values()) if work.habits.corner_pins else frozenset()


def _side(pair: int, kept: Sequence[int]) -> int:
    return LEFT if pair < min(kept) else RIGHT if pair > max(kept) else MIDDLE

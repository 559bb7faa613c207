"""Which rows of blocks one worker works one after the other, and how each of them lies.

Rows joined by pairs make a chain if every row follows from the one before. A trail that swings over a corner line goes
on with one worker; a block in halves makes a chain on either side of the line. Where a block splits or merges there is
no chain, and each row stands for itself.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise, takewhile

import numpy as np

from constraints.edgings.outer_side import outer_ends, side_of
from constraints.flow import ROW, Flow
from constraints.lattice import IntArray, Place
from constraints.layout import Layout
from constraints.piece import LEFT_EDGE, NO_EDGE
from constraints.pins import pin_places
from constraints.seams import Seams
from constraints.swings import uncut
from constraints.working.arcs import OUTSIDE, Arcs
from constraints.working.rows import LEFT, RIGHT, Row


class Chains:
    """The rows of all blocks of a square.

    number: row node to its chain, only where there is one. part: row node to the number of the part of its block, all
    rows that pairs join without going over a seam or the start line.
    """

    def __init__(self, layout: Layout, flow: Flow, arcs: Arcs, seams: Seams) -> None:
        self._layout, self._piece, self._arcs, self._seams = layout, layout.piece, arcs, seams
        self._node, self._block = flow.node.tolist(), layout.block.tolist()
        self._zone = layout.piece.zone.tolist()
        self._eyes = set(np.flatnonzero(layout.eyes).tolist())
        self._pinned = {(x, y) for x, y in pin_places(layout, seams.open).tolist()}
        # Where a row slants its worker turns at its right about an inner pin that may serve another row as well.
        self._slanting = {
            self._node[outer]: self._place(inner)
            for swing in uncut(layout, arcs.start_row)
            for outer, inner in zip(swing.outer.tolist(), swing.inner.tolist(), strict=True)
        }
        rows = [node for node in flow.order.tolist() if flow.kind[node] == ROW]
        across = np.array([arcs.across(pinhole) for pinhole in range(len(layout.piece))])
        fan = np.flatnonzero(self._piece.fan)
        self._sides = side_of(self._piece) if len(fan) else self._piece.edge
        ends = outer_ends(self._piece, fan).tolist() if len(fan) else []
        self._outer_ends = {place: (x, y) for place, (x, y) in zip(fan.tolist(), ends, strict=True)}
        places = np.lexsort([across, flow.node])
        starts = np.searchsorted(flow.node[places], np.arange(len(flow.kind) + 1))
        self._places = {node: places[starts[node] : starts[node + 1]].tolist() for node in rows}
        into, out_of = (group(flow.node, len(flow.kind)) for group in (arcs.into, arcs.out_of))
        self._next = {node: self._followers(out_of[node]) for node in rows}
        self._first_side: dict[int, int] = {}
        self.number: dict[int, int] = {}
        self.part: dict[int, int] = {}
        self.first: set[int] = set()
        self.last: set[int] = set()
        for number, chain in enumerate(self._components(rows)):
            self.part.update(dict.fromkeys(chain, number))
            joined = all(after in self._next[before] for before, after in pairwise(chain))
            # One worker needs every row to begin and end a unit beside the one before.
            if joined and all(
                self._only_at_ends(arcs.ordered(each, coming))
                for coming, each in [
                    *((True, into[node]) for node in chain[1:]),
                    *((False, out_of[node]) for node in chain[:-1]),
                ]
            ):
                self.number.update(dict.fromkeys(chain, number))
                self.first.add(chain[0])
                self.last.add(chain[-1])
                self._first_side.update(self._beginning(chain, into, out_of))
            else:
                for part in self._by_quarter(chain, out_of):
                    self._first_side.update(self._beginning(part, into, out_of))

    def within(self, arc: int) -> bool:
        """Whether a pair stays in its block on an arc."""
        arcs = self._arcs
        tail, head = int(arcs.tail[arc]), int(arcs.head[arc])
        if tail == OUTSIDE or head == OUTSIDE or arcs.over[arc] or arc in self._seams.over:
            return False
        return bool(self._block[tail] >= 0 and self._block[tail] == self._block[head])

    def leaves(self, arc: int) -> bool:
        """Whether a pair leaves its block by an arc, also where the start line cuts it; over a closed seam none
        does."""
        return not self.within(arc) and (self._seams.open or arc not in self._seams.over)

    def row(self, node: int, coming: Sequence[int], going: Sequence[int]) -> Row:
        """How a row lies; coming, going: its arcs from left to right."""
        places = self._places[node]
        ends = self._place(places[0]), self._place(places[-1])
        sides = (coming[0], going[0]), (coming[-1], going[-1])
        chained = node in self.number
        # Beside a split a pin may stand where the block goes on at either side: the worker turns round it.
        pins = [
            end if not all(map(self._in_block, side)) or (not chained and end in self._pinned) else None
            for side, end in zip(sides, ends, strict=True)
        ]
        stays = [arc for arc in going if self.within(arc) and not self._turns(arc)]
        gone = [not self.within(arc) or (not chained and arc not in stays) for arc in going]
        leaving = [sum(1 for _ in takewhile(bool, side)) for side in (gone, reversed(gone))]
        corner = [chained and any(self.within(arc) and self._turns(arc) for arc in side) for side in sides]
        hollow = [chained and all(self.within(arc) and not self._turns(arc) for arc in side) for side in sides]
        last = node in self.last if chained else not stays
        outer = self.headside(node)
        slanting = self._slanting.get(node)
        if slanting is not None:
            ends, pins[RIGHT], corner, hollow = (ends[LEFT], slanting), slanting, [False, False], [False, False]
        seams = self._seam_pins(places, coming[-1], going[-1])
        if seams:
            ends, pins[RIGHT] = (ends[LEFT], seams[-1]), seams[-1]
        if outer != NO_EDGE:
            # Of a headside every row has a pin at its outer end.
            end = self._outer_ends[places[0 if outer == LEFT_EDGE else -1]]
            ends = (end, ends[1]) if outer == LEFT_EDGE else (ends[0], end)
            pins[outer], corner[outer], hollow[outer] = end, False, False
            valley = ends[1 - outer]
            if len(places) == 1 and valley in self._pinned:
                pins[1 - outer], hollow[1 - outer] = valley, False
            if pins[1 - outer] == end:  # one pin is not turned round at both sides
                pins[1 - outer] = None
        return Row(
            ends, (pins[0], pins[1]), (corner[0], corner[1]), (leaving[0], leaving[1]), (hollow[0], hollow[1]), last,
            outer, self._order(node, places, seams), seams[0] if len(seams) > 1 else None,
            tuple(self._place(each) for each in places if each in self._eyes),
        )  # fmt: skip

    def _by_quarter(self, rows: Sequence[int], out_of: Sequence[Sequence[int]]) -> list[list[int]]:
        """Rows that make no chain, those of each quarter in its working direction; of rows level with each other first
        those that go over its corner line."""
        found: dict[int, list[tuple[int, bool, int]]] = {}
        for node in rows:
            pinhole = self._places[node][0]
            level = int(self._piece.pinholes[pinhole] @ self._ahead(pinhole))
            stays = not any(arc in self._seams.end_of for arc in out_of[node])
            found.setdefault(self._zone[pinhole], []).append((level, stays, node))
        return [[node for *_, node in sorted(part)] for part in found.values()]

    def _beginning(
        self, chain: Sequence[int], into: Sequence[Sequence[int]], out_of: Sequence[Sequence[int]]
    ) -> dict[int, int]:
        """On which side the worker turns first in rows whose pins stand level, where a half has a seam: on the line,
        which always lies on her right, pins stand half a row further on before it and half a row back after it."""
        comes, goes = (
            [any(arc in self._seams.end_of for arc in group[node]) for node in chain] for group in (into, out_of)
        )
        if not any(comes) and not any(goes):
            return {}
        after = goes.index(True) if any(goes) else len(chain)
        found = dict.fromkeys(chain, LEFT)
        if any(comes):
            found.update(dict.fromkeys(chain[:after], RIGHT))
        return found

    def _seam_pins(self, places: Sequence[int], coming: int, going: int) -> list[Place]:
        """The pins at which a row meets corner lines, at its right end: one by which a pair comes in, one by which a
        pair goes. A row of one place has but its own pin."""
        if len(places) == 1:
            return []
        end_of = self._seams.end_of
        return list(dict.fromkeys(end_of[arc] for arc in (coming, going) if arc in end_of))

    def _order(self, node: int, places: Sequence[int], seams: Sequence[Place]) -> tuple[int, ...]:
        """The sides in the order in which the worker turns there; empty where that is the worker's habit."""
        first = self._first_side.get(node)
        if seams:
            rise = float((np.array(seams[-1]) - self._piece.pinholes[places[0]]) @ self._ahead(places[0]))
            if rise:
                return (LEFT, RIGHT) if rise > 0 else (RIGHT, LEFT)
        return () if first is None else (first, 1 - first)

    def _ahead(self, pinhole: int) -> IntArray:
        ahead: IntArray = self._piece.directions[self._zone[pinhole]]
        return ahead

    def headside(self, node: int) -> int:
        """The edge at which a row of a headside works, which is its side too; NO_EDGE for rows of other blocks."""
        first = self._places[node][0]
        return int(self._sides[first]) if self._piece.fan[first] else NO_EDGE

    def _in_block(self, arc: int) -> bool:
        """Whether both ends of an arc lie in one part of a block, be it cut by the start line."""
        if arc in self._seams.over:
            return False
        tail, head = int(self._arcs.tail[arc]), int(self._arcs.head[arc])
        return OUTSIDE not in (tail, head) and bool(self._block[tail] == self._block[head])

    def other_pins(self, node: int, row: Row) -> list[Place]:
        """The pins of a row round which its worker does not turn: beside a split or merge."""
        places = [self._place(each) for each in self._places[node]]
        return [place for place in places if place in self._pinned and place not in row.pins]

    def _only_at_ends(self, ordered: Sequence[int]) -> bool:
        """Whether at most one pair at either end comes from outside the block or leaves it."""
        return all(self.within(arc) for arc in ordered[1:-1])

    def _turns(self, arc: int) -> bool:
        """Whether an arc crosses a corner line."""
        return bool(self._zone[self._arcs.tail[arc]] != self._zone[self._arcs.head[arc]])

    def _place(self, pinhole: int) -> Place:
        x, y = self._piece.pinholes[pinhole].tolist()
        return (float(x), float(y))

    def _followers(self, going: Sequence[int]) -> set[int]:
        return {self._node[self._arcs.head[arc]] for arc in going if self.within(arc)}

    def _components(self, rows: Sequence[int]) -> list[list[int]]:
        """Rows joined by pairs, each group in the order of work."""
        group = {node: node for node in rows}

        def root(node: int) -> int:
            while group[node] != node:
                group[node] = group[group[node]]
                node = group[node]
            return node

        for node in rows:
            for follower in self._next[node]:
                group[root(follower)] = root(node)
        found: dict[int, list[int]] = {}
        for node in rows:
            found.setdefault(root(node), []).append(node)
        return list(found.values())

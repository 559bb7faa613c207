"""Pair flow: how every pair runs through a square, and the order in which it can be worked.

Each pinhole takes two pairs and passes two on: along its two steps forward, or along the edge. A finished
square is worked in larger pieces: a row of a block is one passage of its worker, a figure of a
filling is one. With those gathered into single nodes the flow must still have no cycle (else no first thing to
work) and the same number of pairs across every cut. Worked round, the flow is cut along the start line.

Irvine and Ruskey 2014 (Journal of Mathematics and the Arts) model bobbin lace as 2-in 2-out digraphs; this
is the finite analogue. Passives at the edge run along it and are not part of the flow.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property, lru_cache

import numpy as np

from constraints.lattice import BoolArray, IntArray, Point
from constraints.piece import BOTTOM_QUARTER, LEFT_QUARTER, RIGHT_QUARTER, ROUND, TOP_QUARTER, Piece

# The corner line at which a round begins, and the quarters before and after it.
START_LINES = {
    "top-left": (TOP_QUARTER, LEFT_QUARTER),
    "bottom-left": (LEFT_QUARTER, BOTTOM_QUARTER),
    "bottom-right": (BOTTOM_QUARTER, RIGHT_QUARTER),
    "top-right": (RIGHT_QUARTER, TOP_QUARTER),
}

PIN, ROW, UNIT = range(3)
OUTSIDE = -1


def corner_signs(start: str) -> Point:
    """On which sides of the middle a start line begins: (-1, -1) at the top left, x to the right and y down."""
    down, across = start.split("-")
    return (-1 if across == "left" else 1, -1 if down == "top" else 1)


@dataclass(frozen=True, eq=False)
class Flow:
    """The pairs of a square from where they are hung on to where they are finished.

    node: (n,) node of each pinhole. kind: (nodes,) PIN, ROW (a run of one block in one row) or UNIT.
    arcs: (a, 2) one pair each, from node to node; OUTSIDE where it is hung on or finished.
    between: (a, 2) the pinholes between which that pair runs, OUTSIDE likewise.
    at_start: (a,) whether the arc is one half of a pair cut by the start line.
    order: nodes in an order in which they can be worked, all of them unless there is a cycle.
    cycle: nodes that wait for one another, in the direction of the pairs; empty if all can be worked.
    """

    node: IntArray
    kind: IntArray
    arcs: IntArray
    between: IntArray
    at_start: BoolArray
    order: IntArray
    cycle: IntArray

    @cached_property
    def pinhole(self) -> IntArray:
        """(nodes,) a pinhole of each node."""
        found = np.empty(len(self.kind), dtype=np.int64)
        found[self.node] = np.arange(len(self.node))
        return found

    @cached_property
    def pairs_in(self) -> IntArray:
        """(nodes,) pairs that come to each node."""
        heads = self.arcs[:, 1]
        return np.bincount(heads[heads >= 0], minlength=len(self.kind))

    @cached_property
    def pairs_out(self) -> IntArray:
        """(nodes,) pairs that leave each node."""
        tails = self.arcs[:, 0]
        return np.bincount(tails[tails >= 0], minlength=len(self.kind))

    @property
    def pairs(self) -> int:
        """Pairs hung on: without passives, as many as the pillow needs at any time."""
        return int((self.arcs[:, 0] == OUTSIDE).sum())

    @cached_property
    def across_cuts(self) -> IntArray:
        """Pairs across the cut before the first node of `order`, after it, after the second, and so on."""
        gain = (self.pairs_out - self.pairs_in)[self.order]
        return self.pairs + np.concatenate([[0], np.cumsum(gain)])


def flow_of(piece: Piece, gathered: IntArray, start: str = "top-left", row: int | None = None) -> Flow:
    """The flow of a piece whose pinholes are gathered into nodes.

    gathered: (n,) for each pinhole any number that names its node: 3 * name + kind. start, row: see `over_start`.
    """
    names, node = np.unique(gathered, return_inverse=True)
    between, at_start = cut_arcs(piece, start, row)
    arcs = np.append(node, OUTSIDE)[between]
    kept = arcs[:, 0] != arcs[:, 1]
    arcs, between, at_start = arcs[kept], between[kept], at_start[kept]
    order, cycle = _work_order(arcs, len(names))
    return Flow(node, names % 3, arcs, between, at_start, order, cycle)


# --- pairs from pinhole to pinhole -----------------------------------------------------------------------


@lru_cache(maxsize=16)
def pair_arcs(piece: Piece) -> IntArray:
    """Every pair's arc from pinhole to pinhole, shape (w, 2): steps forward, then the edge pair's arcs."""
    taken = piece.runs_out & (piece.neighbours >= 0)
    tails, steps = np.nonzero(taken)
    edge = np.flatnonzero(piece.edge_next >= 0)
    return np.concatenate(
        [
            np.stack([tails, piece.neighbours[tails, steps]], axis=1),
            np.stack([edge, piece.edge_next[edge]], axis=1),
        ]
    )


def over_start(piece: Piece, arcs: IntArray, start: str, row: int | None = None) -> BoolArray:
    """(w,) whether the start line of a round cuts each arc from pinhole to pinhole.

    start: a corner line, one of START_LINES. row: None for that line itself. Otherwise the line runs level through the
    first quarter, right above the pinholes that lie so many units past its middle along the work, from the footside
    to the corner line that it meets, and along that one inwards. On either line all pairs run over it the same way.
    """
    if piece.worked != ROUND:
        return np.zeros(len(arcs), dtype=np.bool_)
    before, first = START_LINES[start]
    following = next(after for line, after in START_LINES.values() if line == first)
    along = (piece.pinholes * piece.directions[first]).sum(axis=1)
    begun = (piece.zone == first) & (along >= (along.min() if row is None else row))
    beyond = begun | (piece.zone == following)
    behind = ~beyond & ((piece.zone == first) | (piece.zone == before))
    over: BoolArray = behind[arcs[:, 0]] & beyond[arcs[:, 1]]
    return over


def quietest_start(piece: Piece, block: BoolArray) -> str:
    """The corner line at which the start of a round cuts the fewest pairs within blocks, the first of START_LINES among
    equals. block: (n,) the pinholes in blocks."""
    arcs = pair_arcs(piece)
    within = block[arcs].all(axis=1)
    return min(START_LINES, key=lambda start: int((over_start(piece, arcs, start) & within).sum()))


@lru_cache(maxsize=16)
def cut_arcs(piece: Piece, start: str, row: int | None = None) -> tuple[IntArray, BoolArray]:
    """The arcs with each one over the start line cut in two, and with pairs hung on and finished elsewhere.

    A pinhole works two pairs: what does not come from a pinhole is hung on at it, what goes on to none is
    finished at it. Returns the arcs and whether each is one half of a pair cut by the start line.
    """
    arcs = pair_arcs(piece)
    over = over_start(piece, arcs, start, row)
    every = np.arange(len(piece))
    hung = np.repeat(every, np.maximum(2 - np.bincount(arcs[:, 1], minlength=len(piece)), 0))
    finished = np.repeat(every, np.maximum(2 - np.bincount(arcs[:, 0], minlength=len(piece)), 0))
    parts = [
        (arcs[~over, 0], arcs[~over, 1]),
        (np.full(len(hung), OUTSIDE), hung),
        (finished, np.full(len(finished), OUTSIDE)),
        (np.full(over.sum(), OUTSIDE), arcs[over, 1]),
        (arcs[over, 0], np.full(over.sum(), OUTSIDE)),
    ]
    table = np.concatenate([np.stack(part, axis=1) for part in parts])
    return table, np.arange(len(table)) >= len(table) - 2 * over.sum()


def _work_order(arcs: IntArray, nodes: int) -> tuple[IntArray, IntArray]:
    """A topological order (Kahn 1962) as far as it goes, and one cycle among the nodes that are left."""
    inner = arcs[(arcs >= 0).all(axis=1)]
    inner = inner[np.argsort(inner[:, 0], kind="stable")]
    first = np.searchsorted(inner[:, 0], np.arange(nodes + 1)).tolist()
    heads = inner[:, 1].tolist()
    waits = np.bincount(inner[:, 1], minlength=nodes).tolist()
    order = [node for node in range(nodes) if waits[node] == 0]
    for node in order:  # grows while it is read
        for head in heads[first[node] : first[node + 1]]:
            waits[head] -= 1
            if waits[head] == 0:
                order.append(head)
    return np.array(order, dtype=np.int64), _cycle(inner, waits)


def _cycle(arcs: IntArray, waits: list[int]) -> IntArray:
    """A cycle among the nodes that still wait; empty if none does."""
    left = np.array(waits) > 0
    if not left.any():
        return np.zeros(0, dtype=np.int64)
    stuck = arcs[left[arcs].all(axis=1)]
    # Each node left waits for another one left: going back from node to node must come round.
    one_before = dict(zip(stuck[::-1, 1].tolist(), stuck[::-1, 0].tolist(), strict=True))
    node = int(np.flatnonzero(left)[0])
    seen: dict[int, int] = {}
    while node not in seen:
        seen[node] = len(seen)
        node = one_before[node]
    return np.array(list(seen)[seen[node] :][::-1], dtype=np.int64)

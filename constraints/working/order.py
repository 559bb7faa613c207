"""The order in which a lacemaker works: finish the motif, go down the diagonal, then to the nearest that is ready.

Diagonals run towards the footside on the lacemaker's left, as in printed orders of plain ground (Dillmont 1886,
Encyclopedia of Needlework, fig. 788, runs them down to the left). A block is begun when all its pairs are there,
so that it is worked in one go; where it must wait for ground that waits for it, it is worked as far as it goes.
The quarters of a round follow each other by themselves: the edge pair comes to the end of one when all of it is worked,
and nothing of the next can be worked before it.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from itertools import pairwise

import numpy as np

from constraints.flow import ROW, UNIT, Flow
from constraints.lattice import FloatArray
from constraints.layout import Layout

# A block begun before all its pairs are there costs as much as a path of so many units.
_BROKEN_OFF = 40.0
# A figure lies so many steps of the ground from the one before, from middle to middle.
_NEXT_FIGURE = 3.1


@dataclass(frozen=True)
class Order:
    """nodes: all nodes of the flow, each after those it waits for. changes: how often the next one lies neither
    in the same motif nor beside the one before."""

    nodes: tuple[int, ...]
    changes: int


def work_order(layout: Layout, flow: Flow) -> Order:
    """A lacemaker's order of work. The flow has no cycle."""
    return _Standpoint(layout, flow).order()


@dataclass(eq=False)
class _Standpoint:
    """Where the hands are, and what is ready."""

    layout: Layout
    flow: Flow
    waits: list[int] = field(init=False)
    ready: list[int] = field(init=False)

    def __post_init__(self) -> None:
        flow, piece = self.flow, self.layout.piece
        nodes = len(flow.kind)
        arcs = flow.arcs[(flow.arcs >= 0).all(axis=1)]
        self.waits = np.bincount(arcs[:, 1], minlength=nodes).tolist()
        self.ready = [node for node in range(nodes) if self.waits[node] == 0]
        ordered = arcs[np.argsort(arcs[:, 0], kind="stable")]
        first = np.searchsorted(ordered[:, 0], np.arange(nodes + 1)).tolist()
        heads = ordered[:, 1].tolist()
        self.after = [heads[a:b] for a, b in pairwise(first)]
        count = np.bincount(flow.node, minlength=nodes)[:, None]
        by_node = piece.pinholes[np.argsort(flow.node, kind="stable")]
        self.held = np.split(by_node, np.cumsum(count[:-1, 0]))
        total = np.stack([np.bincount(flow.node, weights=axis, minlength=nodes) for axis in piece.pinholes.T], axis=1)
        self.place: FloatArray = total / count
        # The part of a block in one quarter is one motif.
        zones = len(piece.directions)
        self.motif = np.full(nodes, -1)
        self.motif[flow.node] = np.where(self.layout.inside, self.layout.block * zones + piece.zone, -1)
        inside = self.motif[arcs[:, 1]]
        from_outside = (inside >= 0) & (self.motif[arcs[:, 0]] != inside)
        motifs = int(self.motif.max(initial=-1)) + 1
        self.missing = np.bincount(inside[from_outside], minlength=motifs)
        sideways = np.stack([piece.directions[:, 1], -piece.directions[:, 0]], axis=1)
        self.down_left = (piece.directions - sideways)[piece.zone]

    def order(self) -> Order:
        done: list[int] = []
        changes = 0
        here: int | None = None
        while self.ready:
            node = None
            if here is not None:
                node = self._next_of_motif(here)
                node = self._down_the_diagonal(here) if node is None else node
            if node is None:
                node = self._nearest(here)
                changes += here is not None and not self._beside(here, node)
            self._work(node)
            done.append(node)
            here = node
        return Order(tuple(done), changes)

    def _work(self, node: int) -> None:
        self.ready.remove(node)
        for head in self.after[node]:
            self.waits[head] -= 1
            motif = self.motif[head]
            if motif >= 0 and motif != self.motif[node]:
                self.missing[motif] -= 1
            if self.waits[head] == 0:
                self.ready.append(head)

    def _next_of_motif(self, here: int) -> int | None:
        if self.flow.kind[here] != ROW:
            return None
        ready = [node for node in self.ready if self.motif[node] == self.motif[here]]
        # Of two arms of a block the one in which the worker is.
        return next((node for node in ready if node in self.after[here]), ready[0] if ready else None)

    def _down_the_diagonal(self, here: int) -> int | None:
        """What is ready one step towards the footside."""
        step = self._step(here)
        ready = [node for node in self.ready if self.flow.kind[node] != ROW]
        if not ready:
            return None
        away = self.place[ready] - self.place[here]
        along = away @ step / 2
        aside = np.abs(away - along[:, None] * step).max(axis=1)
        figures = (self.flow.kind[ready] == UNIT) | (self.flow.kind[here] == UNIT)
        near = (along > 0.4) & (along < np.where(figures, _NEXT_FIGURE, 1.1)) & (aside < np.where(figures, 0.6, 0.1))
        return ready[int(np.argmin(np.where(near, along + aside, np.inf)))] if near.any() else None

    def _beside(self, one: int, other: int) -> bool:
        """Whether a pinhole of one lies within a pitch of one of the other."""
        gaps = np.abs(self.held[one][:, None, :] - self.held[other][None, :, :])
        return bool((gaps.max(axis=2) <= 2).any())

    def _step(self, node: int) -> FloatArray:
        pinhole = int(np.argmax(self.flow.node == node))
        step: FloatArray = self.down_left[pinhole].astype(np.float64)
        return step

    def _nearest(self, here: int | None) -> int:
        ready = np.array(self.ready)
        away = np.zeros(len(ready)) if here is None else np.abs(self.place[ready] - self.place[here]).sum(axis=1)
        motif = self.motif[ready]
        broken = (motif >= 0) & (np.append(self.missing, 0)[motif] > 0)
        return int(ready[np.argmin(away + _BROKEN_OFF * broken)])

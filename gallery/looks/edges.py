"""The lines along the edges that are worked as footsides: the edge pair's way, and its passives."""

from __future__ import annotations

import numpy as np

from constraints.lattice import STEPS, FloatArray, IntArray
from constraints.piece import Piece
from gallery.looks.marks import Marks


def edge_links(piece: Piece) -> tuple[IntArray, IntArray]:
    """(k,) edge pins, and the pin to which the edge pair goes on from each; in a headside it works in the rows."""
    begin = np.flatnonzero(piece.edge_next >= 0)
    end = piece.edge_next[begin]
    alone = ~(piece.fan[begin] | piece.fan[end])
    return begin[alone], end[alone]


def edge_lines(piece: Piece, inset: float, along: int | None = None) -> FloatArray:
    """A line along the worked edges, or one of them, `inset` units inside its pins (negative: outside).

    Quadratic curves from pin to pin, shape (k, 3, 2): straight ones, and turns at the corners.
    """
    begin, end = edge_links(piece)
    if along is not None:
        own = piece.edge[begin] == along
        begin, end = begin[own], end[own]
    inward = _inward(piece)
    start, stop = (piece.pinholes[pin] + inset * inward[pin] for pin in (begin, end))
    turns = np.abs(piece.pinholes[begin] - piece.pinholes[end]).min(axis=1) > 0
    # At a corner the line first runs on along its own edge, to where the next edge's line begins.
    on = (stop - start) * (1 - np.abs(inward[begin]))
    control = start + np.where(turns[:, None], on, (stop - start) / 2)
    return np.stack([start, control, stop], axis=1)


def passive_lines(marks: Marks, aside: float = 0.0) -> FloatArray:
    """(k, 3, 2) the passives of every edge, as `edge_lines` has them. aside: moved so much further in."""
    design = marks.design
    counts = design.form.passives(design.worked, design.passives)
    lines = [
        edge_lines(marks.piece, inset + aside, edge)
        for edge, count in enumerate(counts)
        for inset in passive_insets(count)
    ]
    return np.concatenate([np.empty((0, 3, 2)), *lines])


def passive_insets(passives: int) -> list[float]:
    """How far inside the edge pins each passive pair runs: side by side, halfway to the next pins."""
    spacing = min(0.3, 0.6 / max(1, passives - 1))
    return [0.5 + spacing * (i - (passives - 1) / 2) for i in range(passives)]


def _inward(piece: Piece) -> FloatArray:
    """(n, 2) the direction from an edge pin into the lace: the mean of the directions to its neighbours."""
    present = (piece.neighbours >= 0)[:, :, None]
    total = (STEPS * present).sum(axis=1)
    inward: FloatArray = total / np.maximum(1, np.abs(total).max(axis=1, keepdims=True))
    return inward

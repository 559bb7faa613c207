"""How rows lie where they turn over a corner line: those of a trail that swings, and those of a headside at a corner.

They part evenly between the pins on either side, and the work turns with them.
"""

from __future__ import annotations

from itertools import groupby

import numpy as np

from constraints.lattice import FloatArray, IntArray
from constraints.swings import uncut
from constraints.working.ledger import BLOCK
from constraints.working.work import Work
from gallery.looks.settling import meeting

# So often the ends of passages that turn are moved halfway to the middle of their neighbours'.
_SETTLING = 4


def fanned(work: Work, middle: FloatArray, direction: FloatArray) -> set[int]:
    """Lay the crossings of all slanting rows, and turn them with their rows; the steps that are laid so.

    middle: (k, 2) the middle of every crossing; direction: (k, 2) the unit direction in which the work runs there. Both
    are changed.
    """
    piece, steps = work.layout.piece, work.crossings.step
    step_of = {node: step for step, node in enumerate(work.order.nodes)}
    laid: set[int] = set()
    for swing in uncut(work.layout, work.start_row):
        own = [step_of[node] for node in work.flow.node[swing.outer].tolist()]
        half = len(own) // 2
        for rows in (slice(0, half), slice(half, None)):
            outer, inner = piece.pinholes[swing.outer[rows]], piece.pinholes[swing.inner[rows][::2]]
            crossings = np.flatnonzero(np.isin(steps, own[rows]) & (work.crossings.kind == BLOCK))
            _lay(work, crossings, outer.astype(np.float64), inner.astype(np.float64), middle, direction)
        laid.update(own)
    return laid


def rounded(work: Work, middle: FloatArray, direction: FloatArray) -> set[int]:
    """Lay the crossings of the headsides at corners, passage after passage; the steps that are laid so. middle,
    direction: as above."""
    piece, crossings = work.layout.piece, work.crossings
    if not piece.fan.any():
        return set()
    # One worker goes round the corner; where the start line cuts the headside there, two.
    beside = (piece.neighbours >= 0) & piece.fan[piece.neighbours] & piece.fan[:, None]
    over = (beside & (piece.zone[piece.neighbours] != piece.zone[:, None])).any(axis=1)
    chain_of = work.chains.number
    at_corner = {chain_of.get(each, -1) for each in work.flow.node[over].tolist()} - {-1}
    own = np.array([chain_of.get(each, -1) for each in work.order.nodes])
    for number in at_corner:
        held = np.flatnonzero((crossings.kind == BLOCK) & (own[crossings.step] == number))
        rows = [list(members) for _, members in groupby(held.tolist(), key=lambda k: int(crossings.step[k]))]
        turning = [row for row in rows if not meeting(work, row, middle, direction[row[0]])]
        runs = (groupby(row, key=lambda k: int(crossings.worker[k])) for row in turning)
        passages = [passage for run in runs for passage in (list(members) for _, members in run) if len(passage) > 1]
        _turn(passages, crossings.worker, middle, direction)
    return set(np.flatnonzero(np.isin(own, list(at_corner))).tolist())


def _turn(passages: list[list[int]], worker: IntArray, middle: FloatArray, direction: FloatArray) -> None:
    """Passages that turn little by little: the ends of each settle between those of the passages before and after
    it."""
    ends = np.empty((len(passages), 2, 2))
    for number, passage in enumerate(passages):
        half = (middle[passage[-1]] - middle[passage[0]]) / (len(passage) - 1) / 2
        ends[number] = (middle[passage[0]] - half, middle[passage[-1]] + half)[:: 1 if worker[passage[0]] == 0 else -1]
    for _ in range(_SETTLING):
        ends[1:-1] = (ends[:-2] + 2 * ends[1:-1] + ends[2:]) / 4
    for passage, (left, right) in zip(passages, ends, strict=True):
        share = (np.arange(len(passage)) + 0.5) / len(passage)
        middle[passage] = left + (share if worker[passage[0]] == 0 else 1 - share)[:, None] * (right - left)
        across = (right - left) / np.hypot(*(right - left))
        direction[passage] = np.array([-across[1], across[0]])


def _lay(
    work: Work, crossings: IntArray, outer: FloatArray, inner: FloatArray, middle: FloatArray, direction: FloatArray
) -> None:
    """The rows on one side of the line, passage by passage: the worker goes to an outer pin and back to an inner one.
    Each outer pin has two passages, each inner one four, and they part evenly."""
    worker = work.crossings.worker
    # A worker that goes to the left is the right one of the two that meet.
    passages = [list(members) for _, members in groupby(crossings.tolist(), key=lambda k: int(worker[k]))]
    # On either side pins stand evenly in one line; a single inner one as if others stood by it like the outer ones.
    further_out, further_in = outer[1] - outer[0], (inner[1] - inner[0] if len(inner) > 1 else outer[1] - outer[0])
    for number, passage in enumerate(passages):
        left, right = outer[0] + (number - 0.5) / 2 * further_out, inner[0] + (number - 1.5) / 4 * further_in
        # After the last row the worker may have begun the next passage, to let a pair out.
        count = max(len(passage), len(passages[number - 1]) if number == len(passages) - 1 else 0)
        share = (np.arange(len(passage)) + 0.5) / count
        share = (share if worker[passage[0]] == 0 else 1 - share)[:, None]
        middle[passage] = left + share * (right - left)
        across = (right - left) / np.hypot(*(right - left))
        # Rows lie from the left, where the outer edge is, to the right; the work runs towards her.
        direction[passage] = np.array([-across[1], across[0]])

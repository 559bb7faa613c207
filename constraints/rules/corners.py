"""Corners: how blocks cross the corner lines of what is worked round.

In halves, each half is a block of its own: the rules on its shape and its width hold on either side of the line. Where
only trails shall cross, two pairs side by side swing over the line about one pin, three to five in slanting rows, and
nothing turns about the middle. Rows slant only in blocks of one worker: where blocks may split, wide trails stay away.
"""

from __future__ import annotations

import numpy as np

from constraints.corners import CLEAR, SLANTING, SWINGING, SWUNG
from constraints.formula import FALSE
from constraints.lattice import IntArray
from constraints.links import outward_of
from constraints.piece import Piece
from constraints.swings import WIDTHS, beside, course, telling
from constraints.variables import Model

NAME = "corners"


def corners(model: Model) -> None:
    """No more links side by side over a corner line than the brief's way of crossing allows."""
    links = over_lines(model.piece)
    if model.rules.corners == CLEAR:
        model.formula.clause(NAME, ~model.block[links])
    elif model.rules.corners == SWUNG:
        most = SWINGING if model.rules.splits else SLANTING
        model.formula.clause(NAME, ~model.block[side_by_side(model.piece, links, most + 1)])
        if most > SWINGING:
            slanting(model, links)
        model.formula.clause(NAME, ~model.block[round_the_middle(model.piece)])


def over_lines(piece: Piece) -> IntArray:
    """(k, 2) the neighbour steps over corner lines, headsides aside: pinholes before and after a line."""
    tail, step = np.nonzero(piece.runs_out & (piece.neighbours >= 0))
    head = piece.neighbours[tail, step]
    over = (piece.zone[tail] != piece.zone[head]) & ~piece.fan[tail] & ~piece.fan[head]
    return np.stack([tail[over], head[over]], axis=1)


def side_by_side(piece: Piece, links: IntArray, count: int) -> IntArray:
    """(k, 2 count) the pinholes of every so many links side by side along one corner line, from the middle outwards,
    two of each link."""
    after = np.full(len(piece) + 1, -1)
    after[links[:, 0]] = links[:, 1]
    along = np.stack([np.zeros(count, dtype=np.int64), np.arange(count)], axis=1)
    runs = beside(piece, links, outward_of(piece, links), along).transpose(0, 2, 1)
    joined = (runs >= 0).all(axis=(1, 2)) & (after[runs[:, :, 0]] == runs[:, :, 1]).all(axis=1)
    chosen: IntArray = runs[joined].reshape(-1, 2 * count)
    return chosen


def slanting(model: Model, links: IntArray) -> None:
    """Trails too wide to swing about one pin do so in slanting rows: both ends of their runs are clean, and on either
    side of the line they come to it straight."""
    piece, formula = model.piece, model.formula
    # Off the piece lies no block.
    block = np.append(model.block, FALSE)
    for count in WIDTHS:
        run = side_by_side(piece, links, count)
        ends, outward = run[:, :2], outward_of(piece, run[:, :2])
        next_ones = block[beside(piece, ends, outward, np.array([[0, -1], [0, count]]))]
        held = ~block[run]
        if count == WIDTHS[0]:
            for end in range(2):
                before, after = next_ones[:, 0, end], next_ones[:, 1, end]
                formula.clause(NAME, held, ~before, after)
                formula.clause(NAME, held, before, ~after)
        apart = np.concatenate([held, next_ones[:, 0]], axis=1)
        told = block[beside(piece, ends, outward, telling(count))][:, :, 0]
        for across in (True, False):
            swung = course(count, across)
            places, clear = (block[beside(piece, ends, outward, steps)] for steps in (swung.places, swung.clear))
            for side in range(2):
                otherwise = ~told[:, side] if across else told[:, side]
                for wanted in (*places[:, side].T, *~clear[:, side].T):
                    formula.clause(NAME, apart, otherwise, wanted)


def round_the_middle(piece: Piece) -> IntArray:
    """(k, 3) every three of the four pinholes round the point where all quarters meet."""
    zones = np.sort(piece.zone[piece.holes], axis=1)
    middle = piece.holes[(np.diff(zones, axis=1) != 0).all(axis=1)]
    return np.concatenate([np.delete(middle, corner, axis=1) for corner in range(4)])

"""Links: where pairs run over corner lines within blocks."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from constraints.flow import pair_arcs
from constraints.lattice import STEPS, BoolArray, IntArray
from constraints.layout import Layout, components
from constraints.piece import Piece


@dataclass(frozen=True, eq=False)
class Links:
    """All links of a layout: the arcs of pairs over corner lines within one block, headsides aside.

    arc: (k,) their numbers in `flow.pair_arcs`. ends: (k, 2) their pinholes before and after the line. run: (k,) number
    of the run of each, a largest set of links side by side. block: (k,) the block of each. outward: (k,) the step along
    its corner line away from the middle, as its number in lattice.STEPS.
    """

    arc: IntArray
    ends: IntArray
    run: IntArray
    block: IntArray
    outward: IntArray

    @property
    def width(self) -> IntArray:
        """(k,) how many links the run of each has."""
        return np.bincount(self.run, minlength=len(self.run) + 1)[self.run]


def links_of(layout: Layout) -> Links:
    """The links of a layout, in the order of the pairs' arcs."""
    piece, block = layout.piece, layout.block
    arcs = pair_arcs(piece)
    tail, head = arcs.T
    joined = (block[tail] >= 0) & (block[tail] == block[head]) & (piece.zone[tail] != piece.zone[head])
    arc = np.flatnonzero(joined & ~piece.fan[tail] & ~piece.fan[head])
    ends = arcs[arc]
    own, outward = block[ends[:, 0]], outward_of(piece, ends)
    return Links(arc, ends, _runs(piece, ends, outward, own), own, outward)


def round_corner(piece: Piece) -> int:
    """How many pairs turn side by side over a corner line in the corner fan or scallop of a headside, at most; 0 where
    no headside worked in blocks goes round corners. It turns in one whatever the key says of other blocks."""
    tail, head = pair_arcs(piece).T
    over = piece.fan[tail] & piece.fan[head] & (piece.zone[tail] != piece.zone[head])
    return int(np.bincount(piece.zone[tail[over]]).max(initial=0))


def outward_of(piece: Piece, ends: IntArray) -> IntArray:
    """(k,) the step along the corner line away from the middle, for arcs over corner lines with these (k, 2) pinholes
    before and after them: worked round, the outer edge lies on her left."""
    direction = piece.directions[piece.zone[ends[:, 0]]]
    outward = direction - np.stack([direction[:, 1], -direction[:, 0]], axis=1)
    found: IntArray = (outward[:, None, :] == STEPS).all(axis=2).argmax(axis=1)
    return found


def innermost(piece: Piece, links: Links) -> BoolArray:
    """(k,) whether a link is one of the four round the middle of a piece, where all quarters meet."""
    inward = (links.outward + 2) % 4
    zone = np.append(piece.zone, -1)
    beyond = piece.neighbours[links.ends[:, 0], inward]
    found: BoolArray = (beyond >= 0) & (zone[beyond] != piece.zone[links.ends[:, 0]])
    return found


def _runs(piece: Piece, ends: IntArray, outward: IntArray, own: IntArray) -> IntArray:
    """(k,) the run of each link: links one step apart along one line."""
    link = np.full(len(piece) + 1, -1)
    link[ends[:, 0]] = np.arange(len(ends))
    beside = []
    for step in (outward, (outward + 2) % 4):
        before, after = (piece.neighbours[ends[:, side], step] for side in (0, 1))
        next_one = link[before]
        same = (next_one >= 0) & (ends[next_one, 1] == after) if len(ends) else next_one >= 0
        beside.append(np.where(same, next_one, -1))
    return components(np.stack(beside, axis=1), own)

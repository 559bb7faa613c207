"""What blocks, fans and pins are called in the words of an order of work."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np

from constraints.edgings.outer_side import outer_ends
from constraints.piece import NO_EDGE
from constraints.working.numbers import number_at
from constraints.working.steps import BlockPart, Step
from constraints.working.work import Work


@dataclass(frozen=True)
class Called:
    """number: block of the square to its number, in the order in which blocks are begun. kind: block to what it is:
    "block", or what its headside calls it. unbroken: those that run all along an edge; one alone goes by no number.
    beside: block of a headside to the valley pins at its ends. valleys: all valley pins. gimps: blocks that a gimp
    goes round."""

    number: dict[int, int]
    kind: dict[int, str]
    unbroken: frozenset[int]
    beside: dict[int, tuple[int, ...]]
    valleys: frozenset[int]
    gimps: frozenset[int]

    def name(self, block: int) -> str:
        """Such as "block 3", "fan 2", "the scallop"."""
        if self.unbroken == {block}:
            return f"the {self.kind[block]}"
        return f"{self.kind[block]} {self.number[block]}"


def block_numbers(steps: Iterable[Step]) -> dict[int, int]:
    """The number by which a block of the square is called: from 1 in the order in which they are begun."""
    found: dict[int, int] = {}
    for step in steps:
        if isinstance(step, BlockPart):
            found.setdefault(step.block, len(found) + 1)
    return found


def called(work: Work, steps: Iterable[Step]) -> Called:
    """What everything is called."""
    layout, piece, numbers = work.layout, work.layout.piece, number_at(work)
    kinds = dict.fromkeys(range(len(work.design.blocks)), "block")
    beside: dict[int, set[int]] = {}
    valleys: set[int] = set()
    unbroken: frozenset[int] = frozenset()
    if piece.headside is not None and piece.headside.solid:
        own = np.unique(layout.block[piece.fan]).tolist()
        unbroken = frozenset(own if piece.headside.unbroken else ())
        for block in own:
            kinds[block] = piece.headside.block(turned=len(np.unique(piece.zone[layout.block == block])) > 1)
        open_edge = (piece.edge != NO_EDGE) & ~piece.fan & np.isin(piece.edge, piece.fan_edges)
        for valley in np.flatnonzero(open_edge).tolist():
            x, y = piece.pinholes[valley].tolist()
            valleys.add(number := numbers[(float(x), float(y))])
            near = piece.neighbours[valley]
            for place in near[near >= 0].tolist():
                if piece.fan[place]:
                    beside.setdefault(int(layout.block[place]), set()).add(number)
    ends = {block: tuple(sorted(each)) for block, each in beside.items()}
    gimps = frozenset(gimp.block for gimp in work.gimps)
    return Called(block_numbers(steps), kinds, unbroken, ends, frozenset(valleys), gimps)


def pin_at(work: Work, pinhole: int) -> int | None:
    """The number of the pin at a pinhole; of a row of a headside, that at its outer end. None where none stands, within
    a block."""
    numbers, piece = number_at(work), work.layout.piece
    x, y = piece.pinholes[pinhole].tolist()
    found = numbers.get((float(x), float(y)))
    if found is None and piece.fan[pinhole] and piece.edge[pinhole] != NO_EDGE:
        out_x, out_y = outer_ends(piece, np.array([pinhole]))[0].tolist()
        found = numbers.get((out_x, out_y))
    return found

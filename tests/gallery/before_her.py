"""What lies before a lacemaker when she has a piece's papers: the pricking for the player, the printed text, and what
she is told when she looks where the pairs hang."""

from __future__ import annotations

from itertools import accumulate

import numpy as np
from player.pricking import Pricking

from constraints.fillings import GROUNDS
from constraints.piece import ROUND
from constraints.working.numbers import number_at
from constraints.working.steps import CornerPin, steps_of
from constraints.working.work import Work
from explore.papers.work import as_text
from gallery.order.called import block_numbers
from gallery.order.checks import BetweenSteps
from gallery.order.words import Telling, order_lines

# Pairs, what they are at an edge or "", where they hang.
Told = list[tuple[str, str, str]]


def pricking_of(work: Work, mirrored: bool = False) -> Pricking:
    """The pricking, the map of the blocks and what the diagram colours."""
    layout, piece = work.layout, work.layout.piece
    numbers = block_numbers(steps_of(work))
    fans = set(np.unique(layout.block[piece.fan]).tolist())
    printed = Pricking(
        pinholes=frozenset((float(x), float(y)) for x, y in piece.pinholes.tolist()),
        pins={number: place for place, number in number_at(work).items()},
        blocks={
            numbers[block]: frozenset((float(x), float(y)) for x, y in each.pinholes)
            for block, each in enumerate(work.design.blocks)
        },
        edging=frozenset(numbers[block] for block in fans),
        gimps=frozenset(gimp.called for gimp in work.gimps),
        grounds={
            (float(x), float(y)): GROUNDS[name].one
            for name, places in layout.grounds.items()
            for x, y in piece.pinholes[places].tolist()
        },
        worked_round=work.design.worked == ROUND,
    )
    return printed.mirrored() if mirrored else printed


def text_of(work: Work, telling: Telling) -> str:
    """The order of work as it is written to a file."""
    return as_text(order_lines(work, telling))


def told_after_all(done: Work, telling: Telling) -> list[Told]:
    """What is told of the pairs after every sentence that tells what to do; nothing before a corner pin, which is one
    with what stands before it."""
    steps = steps_of(done)
    standing = BetweenSteps(done, steps)
    nodes = list(accumulate((len(step.nodes) for step in steps), initial=0))
    found: list[Told] = []
    for count in accumulate(line.steps for line in order_lines(done, telling) if line.steps):
        before_corner = count < len(steps) and isinstance(steps[count], CornerPin)
        hanging = () if before_corner else standing.after(nodes[count])
        found.append([(each.pairs, each.who, each.where) for each in hanging])
    return found

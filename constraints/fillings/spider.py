"""Spiders: all pairs meet at one pin in the middle, its legs twisted on both sides.

Spiders of 8, 12 and 16 legs take 4, 6 and 8 pairs, the pin of 8 and 16 off the grid; each left pair crosses each right
one before the pin and again after it (the teaching pages of Jo Edkins). Moves and twists: common practice, no source.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from constraints.colours import Colour
from constraints.fillings.filling import Figure, FigureFilling, Hands, Laying, Unit
from constraints.lattice import DOWN_LEFT, DOWN_RIGHT, IntArray, Place
from constraints.moves import spelled, times

if TYPE_CHECKING:
    from constraints.variables import Model, Sites
    from constraints.working.habits import Habits

NAME = "spider"
_BODY = "CTC"


def ring(model: Model) -> None:
    """Two spiders never lie on both ends of one neighbour step.

    A ground pinhole, the border of a block and a rose have pins of their own; a spider's pinhole has none, so a leg
    cannot end in it. Common practice, no source.
    """
    spiders = [sites for sites in model.sites.values() if sites.unit.ring_free and len(sites.pinholes)]
    if not spiders:
        return
    # Overlaps are already excluded, so only a last row of one can meet the first row of another.
    for step in (DOWN_RIGHT, DOWN_LEFT):
        owner, literal = [], []
        for sites in spiders:
            for places, at_start in ((_side(sites, step, last=True), True), (_side(sites, step, last=False), False)):
                number = places if at_start else model.piece.neighbours[places, step - 2]
                flat, chosen = number.reshape(-1), np.repeat(sites.chosen, number.shape[1])
                owner.append(flat[flat >= 0])
                literal.append(chosen[flat >= 0])
        model.formula.one_each("spider's ring", np.concatenate(owner), np.concatenate(literal))


def _side(sites: Sites, step: int, last: bool) -> IntArray:
    """The pinholes of each site on its last (or first) side along a step: (s, size)."""
    size = sites.unit.size
    grid = sites.pinholes.reshape(-1, size, size)
    line = size - 1 if last else 0
    return grid[:, line, :] if step == DOWN_RIGHT else grid[:, :, line]


def work(hands: Hands, spider: Figure) -> None:
    """Each left leg crosses each right leg before the pin and again after it."""
    legs = hands.come()
    half = len(legs) // 2
    for leg in legs:
        hands.twist(leg, hands.habits.legs)
    legs = _through(hands, legs, half, _moved(spider, -0.25))
    hands.put_up(spider.centre)
    legs = _through(hands, legs, half, _moved(spider, 0.25))
    for leg in legs:
        hands.twist(leg, hands.habits.legs)
    hands.go(legs)


def _through(hands: Hands, legs: list[int], half: int, middle: Place) -> list[int]:
    """All left legs through all right legs, the inner ones first."""
    for row in range(half):
        # The pair that stands at half - 1 - row goes right through `half` pairs.
        for column in range(half):
            at = half - 1 - row + column
            legs[at : at + 2] = hands.cross(legs[at], legs[at + 1], _BODY, middle)
    return legs


def _moved(spider: Figure, by: float) -> Place:
    return (spider.centre[0] + by * spider.towards[0], spider.centre[1] + by * spider.towards[1])


def _told(habits: Habits) -> str:
    return (
        f"Spider: twist every leg {times(habits.legs)}. Take each pair of the left half through all of the "
        f"right half ({spelled(_BODY)}), the inner one first; the pin into the middle; the same once more, so that "
        f"each pair comes back to its own side; twist the legs {times(habits.legs)}."
    )


def _of(legs: int) -> Unit:
    size = legs // 4
    middle = ((0, 0),)
    return Unit(f"spider-{legs}", NAME, size, legs // 2, legs, middle, ring_free=True, gathered=True)


SPIDER = FigureFilling(
    name=NAME,
    words="spider",
    places="centres",
    one="spider",
    several="spiders",
    field="spiders",
    label="spiders",
    usual=True,
    prominent=False,
    colour=Colour.UMBER,
    legend="leg of a spider: CTC with every pair of the other side, pin, CTC again",
    told=_told,
    rules=(ring,),
    units=(_of(8), _of(12), _of(16)),
    laying=Laying.APART,
    work=work,
)

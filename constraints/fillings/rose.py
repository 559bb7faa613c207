"""Rose ground: units of four pins, and between them pairs that cross over without a pin.

A unit is worked pin by pin, the upper one with the middle pairs, those to either side, the lower one with the middle
pairs again. Units of one field stand on every second hole along both diagonals, so that each shares its cross-overs
with those beside it (the teaching pages of Jo Edkins: a rose has 4 pins and 4 pairs). Moves: common practice, no
source.

At a corner line. Worked round, no unit lies on the line, not even stitch by stitch: at its corner that points along the
line to the centre a pair on its way out to the first pin would cross over with one on its way in from the last pin. So
the cross-over waits for the last pin, to which a pair comes from the first, and the first for the cross-over, whatever
lies round the unit; over the start line the ring is closed by way of the whole round. At its other corner on the line
the two pins that face each other beyond wait so. Without those two cross-overs it could be worked, but then a field has
a row of holes there that look like plain ground; and a unit in the middle of a piece would have none at all.

So a field goes round a corner with a row of units on either side of the line, an odd number of holes from it, and the
two rows share the cross-overs on the line: one row is worked towards the corner before the other row back (Jo Edkins,
teaching pages on Torchon lace, the mat of spiders and roses).
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from constraints.colours import Colour
from constraints.fillings.filling import Figure, FigureFilling, Hands, Laying, Unit
from constraints.lattice import diagonals
from constraints.moves import spelled

if TYPE_CHECKING:
    from constraints.variables import Model

NAME = "rose"
_CROSS_OVER = "CTCT"


def alignment(model: Model) -> None:
    """A unit at hole (u, v) asks its field for the alignment u mod 2, v mod 2. Common practice, no source."""
    for sites in model.sites.values():
        if not sites.unit.aligned or not len(sites.pinholes):
            continue
        holes = sites.holes[:, 0]
        for numbers, even in zip(diagonals(sites.centres).T, (model.labels.even_u, model.labels.even_v), strict=True):
            wanted = np.where(numbers % 2 == 0, even[holes], ~even[holes])
            model.formula.implies("rose alignment", sites.chosen, wanted)


def work(hands: Hands, rose: Figure) -> None:
    """Its four pins, each as a pin of the ground."""
    for pinhole in rose.places:
        hands.pin(pinhole)


def tell(cross_over: str, what: str) -> str:
    """How roses are worked whose pairs cross over so; what: what one is called."""
    return (
        f"{what.capitalize()}: four pins with four pairs, the upper one with the middle pairs, those to either side, "
        "the lower one with the middle pairs again; each as a pin of the ground. Where it says 'cross over': "
        f"{spelled(cross_over)} without a pin."
    )


ROSE = FigureFilling(
    name=NAME,
    words="rose ground",
    places="holes",
    one="rose",
    several="roses",
    field="rose ground",
    label="rose ground",
    usual=True,
    prominent=True,
    colour=Colour.STEEL,
    legend="rose ground: as the ground at pins, CTCT at cross-overs without a pin",
    told=lambda habits: tell(_CROSS_OVER, "rose"),
    rules=(alignment,),
    units=(Unit(NAME, NAME, size=2, pairs=4, aligned=True, cross_over=_CROSS_OVER),),
    laying=Laying.IN_LINE,
    work=work,
)

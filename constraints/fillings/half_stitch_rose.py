"""Rose ground whose pairs cross over in half stitch: CT at the corners of a unit, where other roses have CTCT.

One of the six varieties of rose ground in Nottingham, The Technique of Torchon Lace (value from memory). The pairs part
there: of each one thread goes to the other side.
"""

from __future__ import annotations

from dataclasses import replace

from constraints.colours import Colour
from constraints.fillings.filling import Unit
from constraints.fillings.rose import ROSE, tell

NAME = "half-stitch-rose"
_CROSS_OVER = "CT"

HALF_STITCH_ROSE = replace(
    ROSE,
    name=NAME,
    words="rose ground in half stitch",
    one="half-stitch rose",
    several="half-stitch roses",
    field="rose ground in half stitch",
    label="rose ground in half stitch",
    usual=False,
    colour=Colour.GREEN,
    legend="rose ground in half stitch: as the ground at pins, CT at cross-overs without a pin",
    told=lambda habits: tell(_CROSS_OVER, "half-stitch rose"),
    units=(Unit(NAME, NAME, size=2, pairs=4, aligned=True, cross_over=_CROSS_OVER),),
)

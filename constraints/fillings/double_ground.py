"""Double Torchon ground: CTCT pin CTCT at every pinhole (common practice, no source).

Each pair crosses the other whole, passes the pin on its far side and comes back.
"""

from __future__ import annotations

from constraints.colours import Colour
from constraints.fillings.filling import Bend, GroundFilling
from constraints.moves import spelled

_MOVES = "CTCT.CTCT"
# How far beyond its pin a pair turns back, and how far it bows out on the way there; how close its threads lie there.
_FAR, _BOW, _TIGHT = 0.26, 0.14, 0.07


def _bend(far: int, back: int) -> Bend:
    """From halfway before the pin (back -1) or after it to its far side. far: 1 is to the right."""
    return Bend(
        start=(-far / 2, back / 2),
        leave=(far, -back),
        end=(_FAR * far, 0.0),
        arrive=(0.0, -back),
        spread=0.0,
        close=_TIGHT,
        bow=_BOW,
    )


DOUBLE_GROUND = GroundFilling(
    name="double-ground",
    words="double torchon ground",
    places="pinholes",
    one="double ground",
    several="double ground",
    field="double ground",
    label="double torchon ground",
    usual=False,
    prominent=False,
    colour=Colour.SLATE,
    legend="double ground: CTCT, pin, CTCT",
    told=lambda habits: f"Double ground: {spelled(_MOVES)}.",
    rules=(),
    moves=_MOVES,
    # A lozenge round the pin: the pairs cross twice, above it and below it.
    mark=(tuple((0.42 * x, 0.42 * y) for x, y in ((0, -1), (1, 0), (0, 1), (-1, 0), (0, -1))),),
    bends=tuple(_bend(far, back) for far in (-1, 1) for back in (-1, 1)),
    knot=0.62,
)

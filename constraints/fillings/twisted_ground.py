"""Twisted ground: Torchon ground with an extra twist, TTC pin TTC at every pinhole.

It is in the sampler of Halley 2013, Grounds for Torchon (value from memory). Each pair leaves its pin on the side on
which it came: of its two threads the inner one goes round the pin on the far side.
"""

from __future__ import annotations

from constraints.colours import Colour
from constraints.fillings.filling import Bend, GroundFilling
from constraints.moves import spelled

_MOVES = "TTC.TTC"
# How far a pair's threads lie from its line: halfway to the next pin; at the pin, of the left pair and the right one.
_HALFWAY, _AT_PIN = 0.07, {-1: 0.13, 1: 0.23}
# Twist marks lie so far from the pin, and reach so far on either side of a pair.
_FROM_PIN, _REACH = 0.3, 0.11


def _bend(side: int, back: int) -> Bend:
    """From halfway before the pin (back -1) or after it to the pin. side: 1 is on the right."""
    return Bend(
        start=(side / 2, back / 2),
        leave=(-side, -back),
        end=(0.0, 0.0),
        arrive=(0.0, -back),
        spread=_HALFWAY,
        close=_AT_PIN[side],
        crossed=True,
    )


def _twist(x: int, y: int) -> tuple[tuple[float, float], ...]:
    """A short bar across the pair that comes from there, or goes there."""
    return tuple((_FROM_PIN * x + end * _REACH * y, _FROM_PIN * y - end * _REACH * x) for end in (-1, 1))


TWISTED_GROUND = GroundFilling(
    name="twisted-ground",
    words="twisted torchon ground",
    places="pinholes",
    one="twisted ground",
    several="twisted ground",
    field="twisted ground",
    label="twisted torchon ground",
    usual=False,
    prominent=False,
    colour=Colour.BROWN,
    legend="twisted ground: TTC, pin, TTC where two pairs meet",
    told=lambda habits: f"Twisted ground: {spelled(_MOVES)}.",
    rules=(),
    moves=_MOVES,
    # A bar across each of the four pairs at a pin: one twist more.
    mark=tuple(_twist(x, y) for y in (-1, 1) for x in (-1, 1)),
    bends=tuple(_bend(side, back) for side in (-1, 1) for back in (-1, 1)),
    knot=0.52,
)

"""Pinholes of ground, rose pins, spiders: what is worked at one place."""

from __future__ import annotations

from collections.abc import Sequence

from constraints.working.habits import BODY, DOUBLE_MOVES, GROUND_MOVES, Habits
from constraints.working.ledger import DOUBLE, GROUND, SPIDER, Ledger, Place


def pinhole(ledger: Ledger, pairs: Sequence[int], place: Place, habits: Habits, kind: int = GROUND) -> list[int]:
    """Two pairs round a pin."""
    left, right = pairs
    moves = DOUBLE_MOVES if kind == DOUBLE else GROUND_MOVES[habits.ground]
    return list(ledger.cross(left, right, moves, place, kind))


def spider(ledger: Ledger, legs: Sequence[int], centre: Place, towards: Place, habits: Habits) -> list[int]:
    """Each left leg crosses each right leg before the pin and again after it.

    legs: from left to right, as many on either side. towards: the working direction. Figures from the
    teaching pages of Jo Edkins.
    """
    half = len(legs) // 2
    for leg in legs:
        ledger.twist(leg, habits.legs)
    legs = _through(ledger, list(legs), half, _moved(centre, towards, -0.25))
    ledger.after_crossing(centre)
    legs = _through(ledger, legs, half, _moved(centre, towards, 0.25))
    for leg in legs:
        ledger.twist(leg, habits.legs)
    return legs


def _through(ledger: Ledger, legs: list[int], half: int, middle: Place) -> list[int]:
    """All left legs through all right legs, the inner ones first."""
    for row in range(half):
        # The pair that stands at half - 1 - row goes right through `half` pairs.
        for column in range(half):
            at = half - 1 - row + column
            legs[at : at + 2] = ledger.cross(legs[at], legs[at + 1], BODY, middle, SPIDER)
    return legs


def _moved(place: Place, along: Place, by: float) -> Place:
    return (place[0] + by * along[0], place[1] + by * along[1])

"""Lines over whole numbers as stairs: each value's tread runs from its number to the next, steps are upright."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence

Scale = Callable[[float], float]
Values = Sequence[float | None]

# Marks at an axis are one, two or five times a power of ten apart, and no more than so many.
_ROUND, _TICKS = (1, 2, 5), 6


def treads(starts: Sequence[float], step: float, values: Values, y: Scale) -> Iterator[list[tuple[float, float]]]:
    """The corners of every unbroken stair. starts: where each tread begins; y: the height of a value."""
    points: list[tuple[float, float]] = []
    for start, value in zip(starts, values, strict=True):
        if value is None:
            if points:
                yield points
            points = []
        else:
            points += [(start, y(value)), (start + step, y(value))]
    if points:
        yield points


def runs(numbers: Sequence[int], values: Sequence[int | None]) -> Iterator[tuple[int, int, int]]:
    """First and last number of every stretch with one value, and the value; stretches without one are left out."""
    first = 0
    for place in range(1, len(numbers) + 1):
        if place == len(numbers) or values[place] != values[first]:
            value = values[first]
            if value is not None:
                yield numbers[first], numbers[place - 1], value
            first = place


def marks(bottom: float, top: float) -> list[float]:
    """Round values from `bottom` to `top` to mark at an axis."""
    step = _step(top - bottom)
    first, last = math.ceil(bottom / step - 1e-9), math.floor(top / step + 1e-9)
    return [round(number * step, 10) for number in range(first, last + 1)]


def below(values: Values, top: float) -> float:
    """A fifth of `top` that lies clearly below all of the values, for the lower end of an axis; 0 for none."""
    least = min((value for value in values if value is not None), default=0.0)
    fifth = top / 5
    return round(max(0.0, math.ceil(least / fifth - 0.25) - 1) * fifth, 10)


def _step(length: float) -> float:
    """The finest round step that marks a length in no more than so many places."""
    power = 10.0 ** (math.floor(math.log10(length)) - 1)
    while True:
        for factor in _ROUND:
            if length / (factor * power) < _TICKS:
                return factor * power
        power *= 10

"""Numbers of pins and pairs as they are told, in runs and lists, and cross-overs by them."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby

from constraints.working.ledger import NOWHERE
from constraints.working.steps import BlockPart, Diagonal, Step


def listed(pins: Sequence[int]) -> str:
    return str(pins[0]) if len(pins) == 1 else f"{', '.join(map(str, pins[:-1]))} and {pins[-1]}"


def run(pins: Sequence[int]) -> str:
    return str(pins[0]) if len(pins) == 1 else f"{pins[0]}\N{EN DASH}{pins[-1]}"


def span(first: int, last: int) -> str:
    return f"{first}\N{EN DASH}{last}" if last - first > 1 else f"{first} and {last}"


def runs(pairs: Sequence[int]) -> str:
    """Pairs, those side by side together: "pair 3", "pairs 5\N{EN DASH}8 and 11\N{EN DASH}14"."""
    return f"{'pair' if len(pairs) == 1 else 'pairs'} {by_runs(pairs)}"


def by_runs(numbers: Sequence[int]) -> str:
    """Numbers that follow each other together: "3", "5 and 6", "5\N{EN DASH}8 and 11\N{EN DASH}14"."""
    begins = [number for number in numbers if number - 1 not in numbers]
    ends = [number for number in numbers if number + 1 not in numbers]
    told = [str(a) if a == b else f"{a}\N{EN DASH}{b}" for a, b in zip(begins, ends, strict=True)]
    if len(begins) == 1 and ends[0] - begins[0] == 1:
        told = [f"{begins[0]} and {ends[0]}"]
    return " and ".join(told)


def crossed_over(step: Step) -> str:
    """The cross-overs of a step, each before its pin; those before its first pin come first."""
    told = []
    for pin, group in groupby(step.over, key=lambda each: each[1]):
        pairs = " and ".join(f"{pair}, {pair + 1}" for pair, _ in group)
        first = not isinstance(step, Diagonal | BlockPart) or pin == NOWHERE or pin == step.pins[0]
        told.append(f"; first cross over {pairs}" if first else f"; cross over {pairs} before pin {pin}")
    return "".join(told)

"""Where steps of the work come again and again, as in the repeats of a strip, so that they need be told but once."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Any

import numpy as np

from constraints.lattice import BoolArray, IntArray
from constraints.working.ledger import NOWHERE
from constraints.working.steps import BlockPart, Diagonal, Step
from gallery.order.called import Called
from gallery.order.numbers import listed

# So many steps must be saved.
_WORTH = 20


@dataclass(frozen=True)
class Again:
    """Steps first to end, the last one not counted, are worked `times` times in all, one after the other; each time
    every pin is so many numbers on, and every block or fan, but for blocks that go on all along: those of the numbers
    `staying`."""

    first: int
    end: int
    times: int
    pins: int
    blocks: int
    staying: tuple[int, ...] = ()


def coming_again(steps: Sequence[Step], called: Called) -> Again | None:
    """The steps whose coming again saves most; of those the fewest. None if none come twice."""
    sign = np.array(_signs(steps, called))
    pin, block = np.array(_pins(steps)), _blocks(steps, called)
    best: Again | None = None
    saved = 0
    for period in range(1, len(steps) // 2 + 1):
        same = sign[period:] == sign[:-period]
        on = pin[period:] - pin[:-period]
        for begin, end in _runs(same, on):
            # Blocks that are begun with the strip rise otherwise than later ones.
            for first in range(begin, min(begin + period, end) + 1):
                more = (end - first) // period
                if more * period <= saved:
                    break
                shift = _shift(block, first, first + more * period, period)
                if shift is not None:
                    saved = more * period
                    best = Again(first, first + period, more + 1, int(on[first]), *shift)
                    break
    return best


def told_once(steps: Sequence[Step], called: Called) -> list[tuple[int, int, Again | None]]:
    """All steps in stretches, from first to end, the last one not counted: what comes again and again, each stretch
    with its `Again` counted from its own first step, and what lies between. Short ones are not worth telling so."""
    found = coming_again(steps, called)
    if found is None or (found.times - 1) * (found.end - found.first) < _WORTH:
        return [(0, len(steps), None)] if len(steps) else []
    after = found.first + found.times * (found.end - found.first)
    own = replace(found, first=0, end=found.end - found.first)
    before = told_once(steps[: found.first], called)
    beyond = told_once(steps[after:], called)
    moved = [(first + after, end + after, again) for first, end, again in beyond]
    return [*before, (found.first, after, own), *moved]


def _runs(same: BoolArray, on: IntArray) -> list[tuple[int, int]]:
    """Where steps are the same as those one period on, all of them by as many pins: first and last plus one."""
    breaks = np.flatnonzero(~same[1:] | ~same[:-1] | (on[1:] != on[:-1])) + 1
    edges = [0, *breaks.tolist(), len(same)]
    return [(a, b) for a, b in pairwise(edges) if b > a and same[a]]


def _shift(block: Sequence[int | None], first: int, end: int, period: int) -> tuple[int, tuple[int, ...]] | None:
    """By how much the numbers of blocks rise from one time to the next, and the numbers of those that stay; None if
    they do not rise alike."""
    rises: dict[int, set[int]] = {}
    staying = set()
    for step in range(first, end):
        number, later = block[step], block[step + period]
        if number is not None and later is not None:
            rises.setdefault((step - first) % period, set()).add(later - number)
            if later == number:
                staying.add(number)
    risen = {each for found in rises.values() for each in found} - {0}
    if len(risen) > 1 or any(len(found) > 1 for found in rises.values()):
        return None
    return (risen.pop() if risen else 0), tuple(sorted(staying))


def _blocks(steps: Sequence[Step], called: Called) -> list[int | None]:
    """The number by which the block of a step is called, if it is called by one."""
    return [
        called.number[step.block]
        if isinstance(step, BlockPart) and not called.name(step.block).startswith("the ")
        else None
        for step in steps
    ]


def _pins(steps: Sequence[Step]) -> list[int]:
    """The first pin of every step; of one without pins that of the step before."""
    found = [1]
    for step in steps:
        found.append(step.pins[0] if step.pins else found[-1])
    return found[1:]


def _signs(steps: Sequence[Step], called: Called) -> list[int]:
    """A number for every step, the same for steps that differ but in the numbers of pins and blocks."""
    known: dict[object, int] = {}
    return [
        known.setdefault(_sign(step, pin, called), len(known)) for step, pin in zip(steps, _pins(steps), strict=True)
    ]


def _sign(step: Step, pin: int, called: Called) -> object:
    """A step with its pins counted from its first one."""

    def less(number: int) -> int | None:
        return None if number == NOWHERE else number - pin

    pins = tuple(less(each) for each in step.pins)
    over = tuple((pair, less(at)) for pair, at in step.over)
    common: tuple[Any, ...] = (type(step), step.zone, pins, over, frozenset(step.pins) & called.valleys == frozenset())
    if isinstance(step, BlockPart):
        sides = tuple(tuple((less(at), word) for at, word in each) for each in (step.left, step.right, step.middle))
        turns = tuple((less(turn.after), less(turn.before), less(turn.pin), turn.pair) for turn in step.turns)
        kind = called.kind[step.block]
        which = step.block if step.block in called.unbroken else None
        beside = tuple(less(each) for each in called.beside.get(step.block, ()))
        begin = (step.rows, step.pairs, step.worker, None if step.again else step.in_all)
        clefts = tuple(map(less, step.clefts))
        end = (step.ends, step.again, step.anew, step.cut, step.done)
        return (*common, kind, which, beside, step.block in called.gimps, begin, end, sides, turns, step.eyes, clefts)
    if isinstance(step, Diagonal):
        marked = tuple(map(less, step.edges)), tuple((less(each), filling) for each, filling in step.grounds)
        return (*common, step.slope, step.pairs, marked)
    return (*common, replace(step, nodes=(), pins=(), over=()))


def words_of_again(found: Again, first: int, last: int, pin: int) -> str:
    """That steps are worked again, and with which pins."""
    begins = [pin + found.pins * time for time in range(1, found.times)]
    which = f"step {first}" if first == last else f"steps {first} {'and' if last - first == 1 else 'to'} {last}"
    blocks = f", every block or fan {found.blocks}" if found.blocks else ""
    if found.staying:
        many = "s" if len(found.staying) > 1 else ""
        blocks += f"; block{many} {listed(found.staying)} {'go' if many else 'goes'} on"
    pins = f"pin{'s' if len(begins) > 1 else ''} {listed(begins)}"
    return (
        f"Work {which} {often(found.times - 1)} more, beginning with {pins}: each time every pin is {found.pins} "
        f"on{blocks}."
    )


def often(times: int) -> str:
    return {1: "once", 2: "twice"}.get(times, f"{times} times")

"""What is told to be done in a step."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

Renumbered = Callable[[int], int]


@dataclass(frozen=True)
class Over:
    """Pairs that cross over, the left one of two, before a pin; first of all where that is None."""

    pair: int
    before: int | None


@dataclass(frozen=True)
class Line:
    """A diagonal, or a single pin. right: whether it goes down to the right. edges: its ends marked f; valleys: v.
    grounds: pins that are told in a ground of its own, each with what that is called."""

    pins: tuple[int, ...]
    right: bool
    pairs: tuple[int, int]
    edges: frozenset[int]
    valleys: frozenset[int]
    grounds: frozenset[tuple[int, str]]
    over: tuple[Over, ...]


@dataclass(frozen=True)
class Figure:
    """A rose (legs 0) or a spider."""

    legs: int
    pins: tuple[int, ...]
    first: int
    last: int
    over: tuple[Over, ...]


@dataclass(frozen=True)
class Corner:
    pin: int
    passives: str
    hung: bool


@dataclass(frozen=True)
class Coming:
    """What is told of a pin at one side: pairs in and out, one word each. pin: None at the start line or an end of the
    piece. last: of "every pin of this side" from the one to the other; else the same."""

    pin: int | None
    last: int | None
    words: tuple[str, ...]


@dataclass(frozen=True)
class Turning:
    """after, before: the pin after which it comes, or before which; neither for first of all. again: the pin that it
    goes round; else pair: of the turning stitch."""

    after: int | None
    before: int | None
    again: int | None
    pair: int


@dataclass(frozen=True)
class Rows:
    """Rows of a block. kind: block, fan, corner fan, scallop; number: None for the only scallop. how: "begin", "anew"
    or "go on". eyes: the row of each and how many passives lie to its left.
    clefts: the pins between two arms. ends: the pairs with which it ends. after: what is said of the rest: "",
    "later", "start line" or "other"."""

    kind: str
    number: int | None
    how: str
    valleys: tuple[int, ...]
    in_all: tuple[int, int] | None
    pins: tuple[int, ...]
    rows: int
    pairs: tuple[int, ...]
    worker: int
    left: tuple[Coming, ...]
    right: tuple[Coming, ...]
    middle: tuple[Coming, ...]
    turns: tuple[Turning, ...]
    eyes: tuple[tuple[int, int], ...]
    clefts: tuple[int, ...]
    ends: tuple[int, ...]
    after: str
    over: tuple[Over, ...]
    gimp: tuple[int, int, int] | None
    gimp_ends: bool


Done = Line | Figure | Corner | Rows


def renumbered(done: Done, pin: Renumbered, block: Renumbered) -> Done:
    """The same done again with other pins and blocks."""

    def maybe(number: int | None) -> int | None:
        return None if number is None else pin(number)

    if isinstance(done, Corner):
        return replace(done, pin=pin(done.pin))
    over = tuple(Over(each.pair, maybe(each.before)) for each in done.over)
    pins = tuple(map(pin, done.pins))
    if isinstance(done, Figure):
        return replace(done, pins=pins, over=over)
    if isinstance(done, Line):
        edges, valleys = (frozenset(map(pin, each)) for each in (done.edges, done.valleys))
        grounds = frozenset((pin(each), name) for each, name in done.grounds)
        return replace(done, pins=pins, over=over, edges=edges, valleys=valleys, grounds=grounds)
    sides = [
        tuple(Coming(maybe(each.pin), maybe(each.last), each.words) for each in side)
        for side in (done.left, done.right, done.middle)
    ]
    turns = tuple(Turning(maybe(t.after), maybe(t.before), maybe(t.again), t.pair) for t in done.turns)
    gimp = done.gimp and (pin(done.gimp[0]), *done.gimp[1:])
    return replace(
        done, pins=pins, over=over, left=sides[0], right=sides[1], middle=sides[2], turns=turns, gimp=gimp,
        number=None if done.number is None else block(done.number), valleys=tuple(map(pin, done.valleys)),
    )  # fmt: skip

"""Where the pairs hang on the player's pillow, against what a lacemaker is told when she looks."""

from __future__ import annotations

import re
from collections.abc import Iterable

from player.board import Board
from player.fault import Fault, must
from player.pillow import Pair
from player.reading import DASH

_EDGE = re.compile(r"the edge pair(?: of the (?:inner|other) edge)?(?: and its (?:passive|(\d+) passives))?")


def look(board: Board, told: Iterable[tuple[str, str, str]]) -> None:
    """Every pair hangs where it is told. told: pairs, what they are at an edge or "", where. Fault otherwise."""
    seen = 0
    for pairs, who, where in told:
        numbers = _numbers(pairs)
        must(numbers == list(range(seen + 1, seen + 1 + len(numbers))), f"pairs {pairs} are told after pair {seen}")
        seen += len(numbers)
        edge = _edge(board, numbers, who)
        own = numbers if edge is None else [1 if not edge else len(board.pillow.pairs)]
        for number, place in zip(own, _places(where, len(own)), strict=True):
            found = _where(board, board.pillow.pair(number))
            must(found == place, f"pair {number} is told {place!r}, it hangs {found!r}")
    must(seen == len(board.pillow.pairs), f"{seen} pairs are told of {len(board.pillow.pairs)}")


def _numbers(told: str) -> list[int]:
    read = re.fullmatch(rf"(\d+)(?:(?:{DASH}| and )(\d+))?", told)
    if read is None:
        raise Fault(f"no pairs: {told!r}")
    return list(range(int(read[1]), int(read[2] or read[1]) + 1))


def _places(told: str, count: int) -> list[str]:
    """Where each of so many pairs is told to hang."""
    read = re.fullmatch(rf"pins (\d+){DASH}(\d+), one at each", told)
    if read is None:
        return [told] * count
    first, last = int(read[1]), int(read[2])
    must(abs(last - first) + 1 == count, f"{told!r} is told of {count} pairs")
    return [f"pin {pin}" for pin in range(first, last + (1 if last > first else -1), 1 if last > first else -1)]


def _edge(board: Board, numbers: list[int], who: str) -> int | None:
    """At which edge pairs run, if they do."""
    passives, count = board.pillow.passives, len(board.pillow.pairs)
    edge = 0 if numbers[0] == 1 else 1 if len(passives) > 1 and numbers[-1] == count else None
    if edge is None:
        must(not who, f"{who!r} is told of pairs amid the lace")
        must(not any(board.pillow.pair(number).passive for number in numbers), "passives of an edge are told as others")
        return None
    read = _EDGE.fullmatch(who)
    if read is None:
        raise Fault(f"no pairs of an edge: {who!r}")
    must((" of the " in who) == (edge == 1), f"{who!r} is the other edge")
    must(len(numbers) == 1 + passives[edge], f"{len(numbers)} pairs run along an edge, {1 + passives[edge]} do")
    must(int(read[1] or who.endswith("passive")) == passives[edge], f"{who!r}: there are {passives[edge]} passives")
    return edge


def _where(board: Board, pair: Pair) -> str:
    where = "done" if pair.over else _held(board, pair)
    return where + (", crossed over" if pair.crossed else "")


def _held(board: Board, pair: Pair) -> str:
    pricking, at = board.pricking, pair.at
    corner = pricking.corners.get(at) if at is not None and pair is board.pillow.pairs[0] else None
    if corner is not None and _number(board, corner) <= board.last:
        return f"pin {_number(board, corner)}"
    if at is None or (at, pair.to) in board.pillow.start:
        return "as you hung them on"
    own = next((number for number, begun in board.begun.items() if pair in begun.pairs), None)
    if own is not None:
        return f"in {board.called[own]}"
    if at in board.spiders:
        return f"pin {board.spiders[at]}"
    block = pricking.block_of.get(at)
    pin = None
    if block is not None and pricking.seam(at, pair.to):
        pin = pricking.pin_over(at, pair.to) if pair.to is not None else None
    if pin is None:
        pin = pricking.number.get(at)
    if pin is None and block in pricking.edging and at in pricking.edge_of:
        pin = pricking.outer_pin(at, pricking.edge_of[at])
    if pin is None and block is not None:
        # A row that ends at a pin on the line has no other there; between two lines it goes from one to the other.
        beside = sorted((link for link in pricking.seams if at in link), key=lambda link: link[0] != at)
        pin = next((each for each in (pricking.pin_over(*link) for link in beside) if each is not None), None)
    return f"pin {pin}" if pin is not None else f"out of {board.called[block or 0]}"


def _number(board: Board, place: tuple[float, float]) -> int:
    """The pin at a place; one that is not on the pricking is never put up."""
    return board.pricking.number.get(place, len(board.pricking.pins) + 1)

"""The end of the work: where every pair is, against what is told of it."""

from __future__ import annotations

import re
from collections import Counter

from player.board import Board
from player.fault import Fault, must
from player.hanging import at_edge
from player.pricking import Place
from player.reading import numbers

_HOOK = (
    r"With a fine hook draw one thread of the pair through the loop, pass its other bobbin through, draw both "
    r"up, and knot "
    r"them twice\."
)
_DAY = (
    r"Leave the lace on the pillow for a day, count the pins out again, and cut the threads when all is fast\. "
    r"Pins are "
    r"sharp; rest eyes, neck and hands between the (?P<parts>quarters|parts) of the work\."
)
_ROUND = re.compile(
    r"The end meets the start line\. Sew each pair into the loop of its own number: (?P<n>\d+) sewings, pair 1 "
    r"into the loop "
    rf"that pair 1 was hung with, and so on inwards\. {_HOOK} Those of the first pin are sewn from the "
    rf"(?P<where>corner|footside) inwards, one beside the other\. {_DAY}"
)
_EDGE = r"the edge pair(?:(?:,| and) its (?:passive|\d+ passives))?(?: and a pair beside them)?"
_LAST = (
    r"All pairs end (?P<end>in the last row|at the bottom edge): (?:two at (?:each of the pins|pin) "
    r"(?P<inner>[\d, and]+?), and )?"
    rf"(?:at the outer pins (?P<left>\d+) and (?P<right>\d+) (?P<both>{_EDGE})|at the outer pin (?P<one>\d+) "
    rf"(?P<first>{_EDGE})"
    rf", at the outer pin (?P<other>\d+) (?P<second>{_EDGE}))(?:, and (?P<within>\d+) side by side within the "
    rf"rows of blocks "
    r"that the end cuts)?\."
)
_RING = re.compile(
    r"The end meets the beginning: bring the first row up below the last one, so that the pins of both lie as "
    r"those of any two "
    rf"rows, and no repeat is broken\. {_LAST} Sew each pair into the loop of its own number: (?P<n>\d+) "
    rf"sewings, pair 1 on the "
    rf"left into the loop that pair 1 was hung with, and so on across\. {_HOOK} Closed, the lace measures [\d.]+ "
    rf"mm round\. {_DAY}"
)
_KNOTS = (
    r"Knot the two pairs of each pin with one another in a reef knot, close to the pin; knot those at the outer "
    r"pins likewise\."
    r"|Plait the two pairs of each pin in half stitch \(cross, twist\) as long as you like, and knot the plait "
    r"at its end; plait "
    r"those at the outer pins likewise\.|Knot the pairs of each pin once, close to the pin, and cut all "
    r"(?P<threads>\d+) threads "
    r"to one length as a fringe\."
)
_ENDED = re.compile(rf"{_LAST} (?:{_KNOTS}) {_DAY}")


def finish(board: Board, words: str) -> None:
    """Every pair ends where it is told. Fault otherwise."""
    pricking = board.pricking
    must(board.last == len(pricking.pins), f"{board.last} pins are put up of {len(pricking.pins)}")
    for number, begun in board.begun.items():
        must(begun.worked == pricking.blocks[number], f"block {number} is not worked whole")
    must(set(board.begun) == set(pricking.blocks), "a block of the map is not worked")
    on_the_way = [number for number, pair in enumerate(board.pillow.pairs, 1) if not pair.over and not pair.passive]
    must(not on_the_way, f"pairs {on_the_way} are not finished")
    read = next((found for each in (_ROUND, _RING, _ENDED) if (found := each.fullmatch(words))), None)
    if read is None:
        raise Fault(f"no finish: {words!r}")
    held = read.groupdict()
    must((read["parts"] == "quarters") == pricking.worked_round, "quarters of a round, parts of other work")
    must(("where" in held) == pricking.worked_round, "a round ends at its start line")
    if (sewn := held.get("n")) is not None:
        must(int(sewn) == board.head.pairs, f"{sewn} sewings of {board.head.pairs} pairs")
    if held.get("threads"):
        must(int(held["threads"]) == 2 * board.head.pairs, "threads of the fringe")
    if pricking.worked_round:
        must((held["where"] == "footside") == (board.head.level is not None), "from where pairs are sewn")
        ways = [(pair.at, pair.to) for pair in board.pillow.pairs if not pair.passive]
        must(ways == board.hung, "a pair does not come to the loop of its number")
    else:
        must((held["end"] == "in the last row") == board.head.strip, "a strip ends in its last row")
        _last_pins(board, held)
    _roses(board)


def _last_pins(board: Board, held: dict[str, str | None]) -> None:
    places = [pair.at for pair in board.pillow.pairs if not pair.passive]
    outer = [places[0], places[-1]]
    first, second = held["both"] or held["first"], held["both"] or held["second"]
    told = (held["left"] or held["one"], first), (held["right"] or held["other"], second)
    count = Counter(places)
    for (pin, words), place, passives in zip(told, outer, board.head.passives, strict=True):
        must(_pin(board, place) == int(pin or 0), f"the outer pin {pin}: it is {_pin(board, place)}")
        at_edge(words or "", passives, count[place])
    inner = {place: number for place, number in count.items() if place not in outer}
    pins = sorted(pin for place in inner if (pin := _pin(board, place)) is not None)
    must(tuple(pins) == (numbers(held["inner"]) if held["inner"] else ()), f"pairs end at pins {pins}")
    must(all(inner[place] == 2 for place in inner if _pin(board, place) is not None), "two pairs end at each pin")
    within = sum(number for place, number in inner.items() if _pin(board, place) is None)
    must(within == int(held["within"] or 0), f"{within} pairs end within rows")


def _pin(board: Board, place: Place | None) -> int | None:
    """The pin at a place, or at the outer end of its row where that lies in a headside."""
    if place is None:
        return None
    found = board.pricking.number.get(place)
    edge = board.pricking.edge_of.get(place)
    if found is None and edge is not None and board.pricking.block_of.get(place) in board.pricking.edging:
        return board.pricking.outer_pin(place, edge)
    return found


def _roses(board: Board) -> None:
    """Every cross-over was made at a corner of a rose, none twice, and none is missing below a rose."""
    corners = set()
    for places, _ in board.roses:
        xs, ys = zip(*places, strict=True)
        x, y = sum(xs) / 4, sum(ys) / 4
        corners |= {(x + dx, y + dy) for dx in (-1, 1) for dy in (-1, 1)}
    made = board.pillow.crossings_over
    must(len(set(made)) == len(made), "pairs cross over twice at one place")
    must(corners.issuperset(made), "pairs cross over where no rose is")
    # Between two pins a pair crosses over but once, though there be roses on both its sides.
    missing = [ways for ways in board.pillow.below_roses if board.pillow.crossed.isdisjoint(ways)]
    must(not missing, f"pairs did not cross over on {missing}")

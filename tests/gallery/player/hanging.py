"""The pairs hung on: the pricking says which ways begin at the start, the words how many hang on each false pin."""

from __future__ import annotations

import re
from itertools import groupby

from player.fault import Fault, must
from player.head import Head
from player.pillow import Pair, Pillow
from player.pricking import ROUND, Place, Pricking
from player.reading import numbers

Way = tuple[Place, Place]

_BEFORE = {first: ROUND[at - 1] for at, first in enumerate(ROUND)}
_AFTER = {before: first for first, before in _BEFORE.items()}
_CORNERS = {"top-left": "left", "bottom-left": "bottom", "bottom-right": "right", "top-right": "top"}
_EDGE = r"the edge pair(?: and its (?:passive|\d+ passives))?"
_LAST = r"(the edge pair of the inner edge(?: and its (?:passive|\d+ passives))?) on the last \((\d+) pairs?\)"
_INNER = rf", {_LAST}"
_LOOPS = (
    r"take the false pins out and leave their loops open, as long as the gap was: the end of the lace is sewn "
    r"into them\."
)
_FACING = r"one wherever two pinholes face each other across it"
_CORNER = re.compile(
    rf"Put (\d+) false pins on the start line, {_FACING}\. From the corner inwards hang (\d+) pairs on the first "
    rf"\(({_EDGE}), then a pair of the ground\)(?:{_INNER})? and one pair on each other\. When the first "
    rf"diagonals hold, "
    rf"{_LOOPS}"
)
_CORNER_PIN = re.compile(
    rf"Put up pin 1 at the corner itself and hang ({_EDGE}) round it\. Put (\d+) false pins on the start line, "
    rf"{_FACING}"
    rf", and hang (?:one pair on each|{_LAST} and one pair on each other)\. When the first diagonals hold, {_LOOPS} "
    r"Pin 1 stays\."
)
_LEVEL = re.compile(
    rf"Put (\d+) false pins half a pitch above the pins of the first row, from the footside inwards: hang "
    rf"(?:(\d+) pairs on "
    rf"the first \(({_EDGE}), then a pair of the ground\)|({_EDGE}) on the first)(?:{_INNER})? and two pairs on "
    rf"each other\."
    rf"(?: Where the line goes on inwards along the corner line, put (\d+) more, wherever two pinholes face each other "
    rf"across it, and hang one pair on each\.)? When the first rows hold, {_LOOPS}"
)
_AT_EDGE = r"the edge pair(?:(?: and| ,|,)? its (?:passive|\d+ passives))?(?: and a pair beside them)?"
_ABOVE = re.compile(
    rf"Put a false pin half a pitch above every (?:pinhole of the first row|pin of the top edge) \((\d+) of "
    rf"them\) and hang "
    rf"two pairs on each\. Hang (?:({_AT_EDGE}) on a false pin half a pitch above the first pin of either side "
    rf"\((?:(\d+) and "
    rf"(\d+) pairs|(1) pair each)\)|({_AT_EDGE}) on a false pin half a pitch above the first pin of the left side "
    rf"\((\d+) pairs?\), ({_AT_EDGE}) on a false pin half a pitch above the first pin of the right side \((\d+) "
    rf"pairs?\))\. "
    rf"When the pins below hold, (?:take the false pins out and draw the loops down\.|{_LOOPS})"
)

_TRUE = re.compile(
    r" Where a block crosses the start line, the false pins are true ones, used again at the end: "
    r"pins? ([\d, and]+) stays?\."
)


def hang(words: str, head: Head, pricking: Pricking) -> Pillow:
    """The pairs as they are hung on."""
    ways = _first_ways(head, pricking)
    edges = len(head.passives)
    pairs = [Pair(at, to) for at, to in ways]
    beside = [[Pair(passive=True) for _ in range(count)] for count in head.passives]
    pairs[1:1] = beside[0]
    if edges > 1:
        pairs[-1:-1] = beside[1]
    must(len(pairs) == head.pairs, f"{head.pairs} pairs are told, {len(pairs)} can be hung on")
    if pricking.worked_round:
        words = _true_pins(words, pricking, ways)
        _round(words, head, pricking, ways)
    else:
        _across(words, head, ways)
    start = frozenset((at, to) for at, to in ways if at is not None)
    return Pillow(pricking, pairs, head.passives, start)


def _true_pins(words: str, pricking: Pricking, ways: list[tuple[Place | None, Place]]) -> str:
    """The pins on the start line where blocks cross it, which stay; the other words."""
    # What also takes a pair from a false pin above it has both hung there.
    above = {to for at, to in ways if at is not None and pricking.quarter(at) == pricking.quarter(to)}
    links = [(at, to) for at, to in ways if at is not None and pricking.seam(at, to) and to not in above]
    every = {pin for link in links if (pin := pricking.pin_over(*link)) is not None}
    own = sorted(pin for pin in every if pricking.pins[pin] not in pricking.pinholes)
    read = _TRUE.search(words)
    told = numbers(read[1]) if read else ()
    must(list(told) == own, f"pins {told} are told to stay on the start line, {own} stand there")
    return words[: read.start()] if read else words


def _first_ways(head: Head, pricking: Pricking) -> list[tuple[Place | None, Place]]:
    """The ways on which pairs hang at first, from the left."""
    if pricking.worked_round:
        return [*_over_the_start(head, pricking)]
    first = {place for place in pricking.pinholes if not pricking.above(place)}
    found: list[tuple[Place | None, Place]] = []
    left, right = (edge[0] for edge in pricking.edges)
    for place in sorted({*first, left, right}):
        lacking = 2 - len(pricking.above(place))
        found += [(None, place)] * lacking
    return found


def _over_the_start(head: Head, pricking: Pricking) -> list[Way]:
    if head.level is None and not head.corner:
        raise Fault("no start is told")
    first, row = head.level or (_CORNERS[head.corner], None)

    def beyond(place: Place) -> bool:
        quarter = pricking.quarter(place)
        left, top, right, bottom = pricking.box
        middle = pricking.along(((left + right) / 2, (top + bottom) / 2), quarter)
        begun = row is None or pricking.along(place, quarter) - middle >= row
        return quarter == _AFTER[first] or (quarter == first and begun)

    def over(at: Place, to: Place) -> bool:
        return pricking.quarter(at) in (first, _BEFORE[first]) and not beyond(at) and beyond(to)

    found: list[tuple[float, Way]] = []
    for place in pricking.pinholes:
        edge = pricking.edge_of.get(place)
        for side in (-1, 1):
            to = pricking.below(place, side)
            if to in pricking.pinholes and edge != (side + 1) // 2 and over(place, to):
                found.append((_inwards(pricking, place, to), (place, to)))
        after = pricking.next_on_edge(place) if edge is not None else None
        if after is not None and over(place, after):
            found.append((-1.0 if edge == 0 else 1e9, (place, after)))
    return [way for _, way in sorted(found)]


def _inwards(pricking: Pricking, one: Place, other: Place) -> float:
    """How far inside the outer edge a pair runs."""
    left, top, right, bottom = pricking.box
    depths = [min(x - left, right - x, y - top, bottom - y) for x, y in (one, other)]
    return sum(depths) / 2 + (0.5 if depths[0] == depths[1] else 0.0)


# --- what is told -----------------------------------------------------------------------------------------


def _round(words: str, head: Head, pricking: Pricking, ways: list[tuple[Place | None, Place]]) -> None:
    own = [1 + count for count in head.passives]
    if read := _CORNER.fullmatch(words):
        must(not head.level, "the start is told twice")
        _false_pins(read[1], ways)
        must(int(read[2]) == own[0] + 1, f"{read[2]} pairs on the first false pin are told")
        _edge_words(read[3], head.passives[0])
        _inner(read[4], read[5], head)
    elif read := _CORNER_PIN.fullmatch(words):
        must(not head.level, "the start is told twice")
        _edge_words(read[1], head.passives[0])
        _false_pins(read[2], ways)
        _inner(read[3], read[4], head)
    elif read := _LEVEL.fullmatch(words):
        must(head.level is not None, "the start is told twice")
        _level(read, head, pricking, ways)
    else:
        raise Fault(f"no hanging on: {words!r}")


def _false_pins(told: str, ways: list[tuple[Place | None, Place]]) -> None:
    places = len(set(ways))
    must(int(told) == places, f"{told} false pins are told, at {places} places pairs run over the start line")


def _level(read: re.Match[str], head: Head, pricking: Pricking, ways: list[tuple[Place | None, Place]]) -> None:
    level, more = [], []
    for _, same in groupby(ways, key=lambda way: way[1]):
        group = list(same)
        at, to = group[0]
        straight = at is not None and pricking.quarter(at) == pricking.quarter(to)
        (level if straight else more).append(len(group))
    must(int(read[1]) == len(level), f"{read[1]} false pins above the first row are told, there are {len(level)}")
    must(int(read[7] or 0) == len(more), f"{read[7]} false pins along the corner line are told, there are {len(more)}")
    must(all(count == 1 for count in more), "one pair on each")
    on_first = level[0] + head.passives[0]
    must(int(read[2]) == on_first if read[2] else on_first == 1 + head.passives[0], "pairs on the first false pin")
    _edge_words(read[3] or read[4], head.passives[0])
    inner = len(head.passives) > 1
    must(all(count == 2 for count in level[1 : -1 if inner else None]), "two pairs on each other")
    if inner:
        must(int(read[6]) == level[-1] + head.passives[1], "pairs on the last false pin")
    _inner(read[5], read[6], head, level[-1] - 1 if inner else 0)


def _inner(words: str | None, count: str | None, head: Head, more: int = 0) -> None:
    must((words is None) == (len(head.passives) == 1), "the inner edge is told where there is one")
    if words is not None:
        must(int(count or 0) == 1 + head.passives[1] + more, f"{count} pairs on the last false pin are told")
        _edge_words(words.replace(" of the inner edge", ""), head.passives[1])


def _across(words: str, head: Head, ways: list[tuple[Place | None, Place]]) -> None:
    read = _ABOVE.fullmatch(words)
    if read is None:
        raise Fault(f"no hanging on: {words!r}")
    groups = [len(list(same)) for _, same in groupby(ways, key=lambda way: way[1])]
    must(int(read[1]) == len(groups) - 2, f"{read[1]} false pins are told, there are {len(groups) - 2}")
    must(all(count == 2 for count in groups[1:-1]), "two pairs on each")
    told = (read[6], read[7]), (read[8], read[9])
    if read[2]:
        told = (read[2], read[3] or read[5]), (read[2], read[4] or read[5])
    for (edge, count), own, passives in zip(told, (groups[0], groups[-1]), head.passives, strict=True):
        must(int(count) == own + passives, f"{count} pairs at the side are told, there are {own + passives}")
        at_edge(edge, passives, own)


def at_edge(words: str, passives: int, own: int) -> None:
    """What is told to lie at the outermost pin of a row: the edge pair with its passives, and a pair beside them."""
    beside = words.endswith(" and a pair beside them")
    must(beside == (own > 1), f"{words!r} is told of {own} pairs and {passives} passives")
    _edge_words(words.removesuffix(" and a pair beside them").replace(",", " and"), passives)


def _edge_words(words: str, passives: int) -> None:
    counted = {0: "", 1: " and its passive"}.get(passives, f" and its {passives} passives")
    must(words == f"the edge pair{counted}", f"{words!r} is told, there are {passives} passives")

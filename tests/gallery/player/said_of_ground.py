"""The sentences of diagonals, figures and corner pins, read without any thought whether they can be followed."""

from __future__ import annotations

import re
from collections.abc import Iterator

from player.fault import Fault, must
from player.reading import DASH, numbers, span
from player.steps import Corner, Done, Figure, Line, Over

SPAN = rf"\d+{DASH}\d+|\d+ and \d+"
_OVERS = r"(?:; (?:first )?cross over \d+, \d+(?: and \d+, \d+)*(?: before pin \d+)?)*"
# Grounds that have names of their own.
GROUNDS = ("double ground", "twisted ground")
_NAMES = "|".join(GROUNDS)
GROUND = re.compile(
    rf"({'|'.join(name.capitalize() for name in GROUNDS)}|Ground), (?:(pins?)|the diagonal( down to the right)?, "
    r"pins|(\d+) diagonals( down to the "
    r"right)?, pins) "
    r"(.*)\."
)
_RUNS = rf"\d+(?:{DASH}\d+)?(?: and \d+(?:{DASH}\d+)?)*"
_ONE_LINE = re.compile(
    rf"(\d+)([fv]?)(?:{DASH}(\d+)([fv]?))? \((\d+), (\d+)({_OVERS})((?:; {_RUNS} in (?:{_NAMES}))*)\)"
)
VALLEY = re.compile(rf"Valley pin (\d+) \((\d+), (\d+)({_OVERS})\)\.")
SPIDERS = re.compile(r"(?:Spider|(\d+) spiders) with (8|12|16) legs: (.*)\.")
# Figures of four pins.
FOURS = {"rose": "roses", "half-stitch rose": "half-stitch roses"}
ROSES = re.compile(rf"(?:{'|'.join(name.capitalize() for name in FOURS)}|(\d+) (?:{'|'.join(FOURS.values())})): (.*)\.")
_FIGURE = re.compile(rf"pins? (\d+(?:{DASH}\d+)?) \(pairs ({SPAN})({_OVERS})\)")
CORNER = re.compile(
    r"Corner pin (\d+): (?:(the edge pair(?: and its passives?)?) hang round it\. It stays where it is|take "
    r"(the edge pair(?: and its passives?)?) round outside it and turn; nothing is worked there)\."
)


def read_ground(read: re.Match[str]) -> list[Done]:
    told = _split(read[6])
    right = bool(read[3] or read[5])
    found: list[Done] = []
    for each in told:
        one = _ONE_LINE.fullmatch(each)
        if one is None:
            raise Fault(f"no diagonal: {each!r}")
        first, last = int(one[1]), int(one[3] or one[1])
        must(last >= first, f"pins {first} to {last} do not rise")
        pins = tuple(range(first, last + 1))
        marks = [(first, one[2]), (last, one[4] or "")]
        edges, valleys = (frozenset(pin for pin, mark in marks if mark == letter) for letter in "fv")
        must(not one[8] or read[1] == "Ground", "a ground is told twice")
        grounds = frozenset(_in_grounds(one[8]) if read[1] == "Ground" else ((pin, read[1].lower()) for pin in pins))
        found.append(Line(pins, right, (int(one[5]), int(one[6])), edges, valleys, grounds, read_over(one[7])))
    count = sum(len(each.pins) for each in found if isinstance(each, Line))
    if read[4]:
        must(int(read[4]) == len(told) > 1, f"{read[4]} diagonals are told, {len(told)} follow")
    elif read[2]:
        must((count == 1) == (read[2] == "pin"), "one pin, or several")
        must(count == len(told), "single pins are told, diagonals follow")
    else:
        must(len(told) == 1 and count > 1, "a diagonal is told")
    return found


def _in_grounds(words: str) -> Iterator[tuple[int, str]]:
    """The pins of a diagonal that are told in a ground of its own, with its name."""
    for told in re.finditer(rf"; ({_RUNS}) in ({_NAMES})", words):
        for each in told[1].split(" and "):
            yield from ((pin, told[2]) for pin in numbers(each))


def read_valley(read: re.Match[str]) -> list[Done]:
    pin = int(read[1])
    pairs = int(read[2]), int(read[3])
    return [Line((pin,), False, pairs, frozenset(), frozenset({pin}), frozenset(), read_over(read[4]))]


def read_figures(words: str, count: str | None, legs: int) -> list[Done]:
    told = _split(words)
    must(len(told) == int(count or 1), f"{count or 'one'} is told, {len(told)} follow")
    found: list[Done] = []
    for each in told:
        one = _FIGURE.fullmatch(each)
        if one is None:
            raise Fault(f"no figure: {each!r}")
        found.append(Figure(legs, numbers(one[1]), *span(one[2]), read_over(one[3])))
    return found


def read_corner(read: re.Match[str]) -> list[Done]:
    return [Corner(int(read[1]), read[2] or read[3], read[2] is not None)]


def _split(words: str) -> list[str]:
    """What semicolons part, but for those within brackets."""
    return re.split(r"; (?![^()]*\))", words)


def read_over(words: str) -> tuple[Over, ...]:
    found = []
    for told in re.finditer(r"; (first )?cross over ([\d, and]+?)(?: before pin (\d+))?(?=;|$)", words):
        must((told[1] is None) == (told[3] is not None), f"before which pin pairs cross over: {told[0]!r}")
        for left, right in re.findall(r"(\d+), (\d+)", told[2]):
            must(int(right) == int(left) + 1, f"pairs {left} and {right} do not lie side by side")
            found.append(Over(int(left), int(told[3]) if told[3] else None))
    return tuple(found)

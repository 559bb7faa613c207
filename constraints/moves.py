"""Moves as the trade writes them, C, T and a point for the pin: written out, and what they do to two pairs.

C, cross, takes the left of the two middle threads over the right one; T, twist, takes in each pair the right thread
over the left one.
"""

from __future__ import annotations

_WORDS = {"C": "cross", "T": "twist", ".": "pin"}
_TIMES = {0: "", 1: "once", 2: "twice", 3: "three times"}


def spelled(moves: str) -> str:
    """Moves written out: CT.CT is cross, twist, pin, cross, twist."""
    return ", ".join(_WORDS[letter] for letter in moves)


def times(count: int) -> str:
    """How often, in words."""
    return _TIMES.get(count, f"{count} times")


def braid(moves: str) -> str:
    """The same moves from their first cross on, without the pin. Grounds of one braid are one lace: of twists between
    two pins it makes no difference which pin they are told with."""
    word = moves.replace(".", "")
    first = max(word.find("C"), 0)
    return word[first:] + word[:first]


def change_places(moves: str) -> bool:
    """Whether the two pairs have changed places after these moves, each with both its threads."""
    threads = [0, 1, 2, 3]
    for letter in moves.replace(".", ""):
        if letter == "C":
            threads[1], threads[2] = threads[2], threads[1]
        else:
            threads = [threads[1], threads[0], threads[3], threads[2]]
    return set(threads[:2]) == {2, 3}

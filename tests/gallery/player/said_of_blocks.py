"""The sentences of a step of a block, read without any thought whether they can be followed."""

from __future__ import annotations

import re

from player.fault import Fault, must
from player.reading import DASH, numbers, span
from player.said_of_ground import SPAN, read_over
from player.steps import Coming, Rows, Turning

_NAME = r"(block|fan|corner fan|scallop)(?: (\d+))?"
_RUNS = rf"\d+(?:{DASH}\d+)?(?: and \d+(?:{DASH}\d+)?)*"
_BEGIN = re.compile(
    r"(?:(Block|Fan|Corner fan|Scallop)(?: (\d+))? in (?:cloth|half|whole) stitch"
    r"(?: between the valley pins (\d+) and (\d+)| beside the valley pin (\d+))?"
    rf", pairs ({SPAN}) in all|(Go on with|Another part of) (?:the )?{_NAME})"
    rf", (?:pins? (\d+(?:{DASH}\d+)?)|no new pin), (\d+) rows?"
    rf"(?:; pairs? ({_RUNS}) in it, worker (\d+))?"
)
_BEGIN_WITH = re.compile(rf"Begin with pairs? ({_RUNS}), worker (\d+)")
_GIMP = re.compile(
    r"Lay in a gimp pair above pin (\d+): on the left it passes (\d+) pairs in and out, on the right (\d+)"
)
_ENDS = re.compile(
    rf"It ends with pairs? ({_RUNS})(: the start line cuts it, and its other part is worked later"
    r"|: another part is worked later)?"
)
_TURN = re.compile(
    r"(?:first|(after|before) (\d+(?:(?:, \d+)* and \d+)?)) "
    r"(?:round pin (\d+) again|turning stitch with pair (\d+), no pin)"
)
_EYE = re.compile(
    r"Eye in row (\d+): between its passives (\d+) and (\d+) from the left twist the worker twice, "
    r"(?:both times it|as it) goes through"
)
_CLEFT = re.compile(
    r"(?:Pin (\d+) stands|Pins (\d+(?:, \d+)* and \d+) stand) between two arms, where their workers part or meet"
)
_COUNTED = {"two": 2, "three": 3, "": 1}


def read_rows(words: str) -> Rows:
    """A step of a block, sentence by sentence."""
    must(words.endswith("."), f"no end: {words!r}")
    left = words[:-1].split(". ")
    gimp = over = None
    if read := _GIMP.fullmatch(left[0]):
        gimp = (int(read[1]), int(read[2]), int(read[3]))
        left.pop(0)
    if left and re.match(r"(First c|C)ross over ", left[0]):
        told = left.pop(0)
        over = read_over(f"; {told[0].lower()}{told[1:]}")
        must(bool(over), f"no cross-over: {told!r}")
    begin = _BEGIN.fullmatch(left.pop(0)) if left else None
    if begin is None:
        raise Fault(f"no step: {words!r}")
    pairs, worker = begin[12], begin[13]
    if begin[7] != "Go on with":
        with_ = _BEGIN_WITH.fullmatch(left.pop(0)) if left else None
        if with_ is None or pairs:
            raise Fault(f"with which pairs it begins: {words!r}")
        pairs, worker = with_[1], with_[2]
    must(bool(pairs), f"which pairs are in it: {words!r}")
    sides = _sides(left.pop(0)) if left and re.match(r"(Left|Right|In the middle): ", left[0]) else {}
    turns = _turns(left.pop(0)) if left and re.match(r"(First|After|Before) ", left[0]) else ()
    clefts: tuple[int, ...] = ()
    if left and (cleft := _CLEFT.fullmatch(left[0])):
        clefts = numbers(cleft[1] or cleft[2])
        left.pop(0)
    eyes = []
    while left and (eye := _EYE.fullmatch(left[0])):
        must(int(eye[3]) == int(eye[2]) + 1, f"passives apart: {left[0]!r}")
        eyes.append((int(eye[1]), int(eye[2])))
        left.pop(0)
    ends: tuple[int, ...] = ()
    after = ""
    if left and (last := _ENDS.fullmatch(left[0])):
        ends = _places(last[1])
        after = "" if last[2] is None else "start line" if "start line" in last[2] else "other"
        left.pop(0)
    elif left and left[0] == "It goes on later":
        after = left.pop(0) and "later"
    gimp_ends = bool(left) and left.pop(0) == "Its gimp ends below the last pin"
    must(not left, f"more is told: {left}")
    how = "begin" if begin[1] else "go on" if begin[7] == "Go on with" else "anew"
    return Rows(
        kind=(begin[1] or begin[8]).lower(),
        number=int(begin[2] or begin[9]) if begin[2] or begin[9] else None,
        how=how,
        valleys=tuple(int(pin) for pin in (begin[3], begin[4], begin[5]) if pin),
        in_all=span(begin[6]) if begin[6] else None,
        pins=numbers(begin[10]) if begin[10] else (),
        rows=int(begin[11]),
        pairs=_places(pairs),
        worker=int(worker),
        left=sides.get("left", ()),
        right=sides.get("right", ()),
        middle=sides.get("in the middle", ()),
        turns=turns,
        eyes=tuple(eyes),
        clefts=clefts,
        ends=ends,
        after=after,
        over=over or (),
        gimp=gimp,
        gimp_ends=gimp_ends,
    )


def _places(words: str) -> tuple[int, ...]:
    return tuple(pair for part in words.split(" and ") for pair in numbers(part))


def _turns(words: str) -> tuple[Turning, ...]:
    found = []
    for told in words.split("; "):
        read = _TURN.fullmatch(told[0].lower() + told[1:])
        if read is None:
            raise Fault(f"no turn: {told!r}")
        again, pair = int(read[3]) if read[3] else None, int(read[4] or 0)
        for pin in numbers(read[2]) if read[2] else (None,):
            after, before = (None, pin) if read[1] == "before" else (pin, None)
            must(after is None or after != again, f"from a pin to the same: {told!r}")
            found.append(Turning(after, before, again, pair))
    return tuple(found)


def _sides(words: str) -> dict[str, tuple[Coming, ...]]:
    found: dict[str, tuple[Coming, ...]] = {}
    for told in words.split("; "):
        side, _, events = told.partition(": ")
        must(side.lower() not in found, f"{side} is told twice")
        found[side.lower()] = tuple(_events(events))
    return found


_LINE = re.compile(r"(one|\d+) (from the start line|to the start line|hung on above it|ending in its last row)")
_AT = re.compile(
    r"((?:two |three )?in|(?:two |three )?out|(?:two |three )?in and (?:two |three )?out) at "
    r"(?:(every pin of this side from (\d+) to (\d+))|(\d+(?:(?:, \d+)*? and \d+)?))"
)


def _events(words: str) -> list[Coming]:
    """What comes and goes at one side."""
    found = []
    for told in re.split(r", (?=in |out |two |three |one |\d+ (?:from|to|hung|ending))", words):
        if read := _LINE.fullmatch(told):
            word = "in" if read[2].startswith(("from", "hung")) else "out"
            must(read[1] != "1", "one, not 1")
            found += [Coming(None, None, (word,))] * (1 if read[1] == "one" else int(read[1]))
        elif read := _AT.fullmatch(told):
            counted = [part.split() for part in read[1].split(" and ")]
            each = tuple(word for *count, word in counted for _ in range(_COUNTED[" ".join(count)]))
            if read[2]:
                found.append(Coming(int(read[3]), int(read[4]), each))
            else:
                found += [Coming(pin, pin, each) for pin in numbers(read[5])]
        else:
            raise Fault(f"nothing that comes or goes: {told!r}")
    return found

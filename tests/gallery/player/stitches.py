"""What is told before the work begins: how the order is read, and the stitches."""

from __future__ import annotations

import re
from dataclasses import dataclass

from player.fault import Fault, must
from player.head import Head
from player.pricking import Pricking
from player.reading import DASH, TIMES
from player.said_of_ground import FOURS, GROUNDS

_MOVES = r"(?:(?:cross|twist|pin)(?:, (?:cross|twist|pin))*)"
_TIMES = r"(?:once|twice|three times|\d+ times)"
_EDGE_TWISTS = rf"(?:twist the edge pair {_TIMES}|leave the edge pair untwisted)"
_READ = re.compile(
    r"Pins are numbered in the order in which they are put up\. Pairs are counted from the (footside|headside), "
    r"as they lie at "
    r"that moment: the edge pair is pair 1, its passives come next(?:; the edge pair of the (other edge|inner "
    r"edge) is pair (\d+)"
    r", the last one)?\. Sides are as you see them, with the work running towards you\. The rule of order: "
    r"finish what is begun, "
    r"a block, a spider, a rose; then go on down the diagonal; then take the nearest that is ready in the same "
    r"(quarter|part of "
    r"the lace)\. By it the hands change their place \d+ times(?:, and the pillow is turned (three|four) "
    r"times)?\. A diagonal is "
    rf"told by its pins and the two pairs of its first one: 41{DASH}45 \(8, 9\) begins at pin 41 with pairs 8 "
    rf"and 9 and goes down "
    r"to the left, every next pin with the pairs one nearer to the (footside|headside): pin 42 with 7 and 8\. "
    r"One that goes down "
    r"to the right takes them one farther in\.(?: An f after a pin marks a pin of [a-z ]+; where one stands "
    r"first, the pairs are "
    r"the edge pair and the one that comes out to it\.)?(?: A v marks a valley pin, between two fans\.)?"
)
_BLOCKS = re.compile(
    rf"Blocks: the worker goes to and fro from pin to pin, (left|right) first, then (left|right)(?:, twisted "
    rf"{_TIMES} at each)?, "
    r"through all pairs of the block\. It begins with the pairs told, at its first pin\. In at a pin: one pair "
    r"more is taken in "
    r"there, before the worker turns; out: the outermost pair goes out after it, and is worked no more\.(?: "
    r"Pairs that leave "
    rf"cloth are twisted {_TIMES}\.)? Where a block goes on later, the pairs that are in it wait there, its "
    rf"worker among them\."
)
_HEADSIDE = re.compile(
    r"Headside, on the (left|right|left and right): a block along the edge whose worker turns round a pin at the "
    r"outer side in "
    rf"every row(?:, a fan between every two valley pins\. Valley pin: the two pairs that remain of the fan, "
    rf"the edge pair one "
    rf"of them, {_MOVES}; {_EDGE_TWISTS}\. The next fan begins with them\.|\. It goes on from beginning to end; "
    rf"beside its edge "
    r"pair run? (\d+) (?:pair that never leaves|pairs that never leave) it, so that (\d+) pairs are in it at its "
    r"narrowest\.)"
)
_OTHERS = [
    re.compile(each)
    for each in (
        r"Cross: of the four threads of two pairs the second over the third, left over right\. Twist: in each "
        r"pair the right "
        r"thread over the left one\. \(Moves stay the same on either hand\.\)",
        rf"Ground, (?:open|closed) method: {_MOVES}\.",
        rf"(?:{'|'.join(name.capitalize() for name in GROUNDS)}): {_MOVES}\.",
        r"(?:Footside|Scalloped edge|Footside and scalloped edge|Scalloped edge and footside), at each of its "
        r"pins: the pair of the ground "
        r"and the edge pair "
        rf"{_MOVES}; {_EDGE_TWISTS}\.",
        r"(?:Footside|Scalloped edge|Footside and scalloped edge|Scalloped edge and footside), at each of its "
        r"pins: the pair of the ground "
        r"goes out through "
        rf"the (?:passive|\d+ passives) \(cross, twist, cross\)(?:, twist it {_TIMES})?; with the edge pair "
        rf"{_MOVES}, the pin "
        rf"inside both; {_EDGE_TWISTS}, it waits; the old edge pair goes back in through the (?:passive|\d+ passives)"
        rf"(?:, twist it {_TIMES})?\. It is the edge pair no longer, the other is\.",
        rf"(?:Cloth|Half|Whole) stitch: {_MOVES}\.",
        rf"Gimp: a pair of a thicker thread, not counted with the others\. Lay it across above the first pin of "
        rf"its block, one "
        r"bobbin to the left and one to the right\. Wherever a pair comes into the block or goes out of it: "
        r"(?:twist the pair "
        rf"{_TIMES}, )?pass the gimp between its two threads(?:, twist it {_TIMES})?\. Below the last pin cross "
        rf"the two gimps, "
        r"take each back beside the other through three pairs, and cut them off when these hold\.",
        rf"Turning stitch, where a worker turns and no pin stands: worker and outermost passive {_MOVES}, and "
        rf"the passive goes "
        r"on as worker\.",
        r"Seams, where a block crosses a corner line: it is worked in two halves\. Before the line the worker "
        r"turns in every row round a pin that stands on the line, and the outermost pair stays behind there\. Turn "
        r"the pillow\. After the line that pair is taken in again, and the worker turns round the same pin once "
        r"more\.",
        r"Slanting rows, where a trail goes round a corner: pins on the (?:left|right) are used twice, each from two "
        r"pins on the (?:left|right) one after the other, and the rows lie aslant between them\. Before the line a "
        r"pair comes in with the first of the two, after it one goes out with the second\.",
        rf"Seams, where a block crosses a corner line: it is worked in two halves, each with pins of its own "
        rf"beside the line\. Pairs go over it one by one(?:, twisted {_TIMES} on their way)?\.",
        r"This square was made before blocks were worked in two halves: on older papers of it the pins along the "
        r"corner lines stand elsewhere\. Use no older paper together with these\.",
        r"Headside: the ground goes on to the edge, whose pins stand in scallops; in each of them a spider of "
        r"(?:8|12) legs\. "
        r"Before a corner the scallop is ground alone\.",
        r"Inner corners: no pin stands there\. The edge pair of the inner edge goes from the last pin of one "
        r"side straight on to "
        r"the first pin of the next, its passives beside it\.",
        rf"Spider: twist every leg {_TIMES}\. Take each pair of the left half through all of the right half "
        rf"\({_MOVES}\), the "
        r"inner one first; the pin into the middle; the same once more, so that each pair comes back to its own "
        r"side; twist the "
        rf"legs {_TIMES}\.",
        rf"(?:{'|'.join(name.capitalize() for name in FOURS)}): four pins with four pairs, "
        r"the upper one with the middle pairs, those to either side, the lower one with the "
        rf"middle pairs again; each as a pin of the ground\. Where it says 'cross over': {_MOVES} without a pin\.",
    )
]


@dataclass(frozen=True)
class Manner:
    """left_first: the side to which the worker of a block goes first. turned: how often the pillow is turned, told of a
    round. headside: the sides on which one is told to lie."""

    left_first: bool
    turned: int | None


def read_stitches(how: str, stitches: str, head: Head, pricking: Pricking) -> Manner:
    """How it is worked, as told before the work begins. Fault if any of it cannot be read."""
    read = _READ.fullmatch(how)
    if read is None:
        raise Fault(f"how to read it cannot be read: {how!r}")
    far = {True: "inner edge", False: "other edge"}[pricking.worked_round] if len(head.passives) > 1 else None
    must(read[2] == far, f"the far edge is the {far}")
    must(far is None or int(read[3]) == head.pairs, f"the last pair is {head.pairs}")
    must(read[1] == read[6], "pairs are counted from one edge")
    must((read[4] == "quarter") == pricking.worked_round == (read[5] is not None), "quarters of a round")
    left_first, at = True, 0
    while at < len(stitches):
        if blocks := _BLOCKS.match(stitches, at):
            must(blocks[1] != blocks[2], "to and fro")
            left_first = blocks[1] == "left"
        found = blocks or _headside(stitches, at, head, pricking)
        found = found or next((each for other in _OTHERS if (each := other.match(stitches, at))), None)
        if found is None:
            raise Fault(f"no stitch: {stitches[at:]!r}")
        at = found.end() + 1
    return Manner(left_first, TIMES.get(read[5]) if read[5] else None)


def _headside(stitches: str, at: int, head: Head, pricking: Pricking) -> re.Match[str] | None:
    read = _HEADSIDE.match(stitches, at)
    if read is not None:
        held = {pricking.nearest_edge(pricking.blocks[number]) for number in pricking.edging}
        told = " and ".join(("left", "right")[edge] for edge in sorted(held))
        must(read[1] == told, f"the headside lies on the {told}, told is the {read[1]}")
        if read[2]:
            passives = head.passives[min(held)]
            must((int(read[2]), int(read[3])) == (passives, passives + 2), "pairs at the narrowest")
    return read

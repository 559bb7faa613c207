"""What the head of an order of work says: pairs, edges, the start."""

from __future__ import annotations

import re
from dataclasses import dataclass

from player.fault import Fault, must
from player.pricking import Pricking
from player.reading import Section, swapped

_EITHER = r"(?: all round| at either edge)?"
_KINDS = {
    rf"footside{_EITHER} of cloth with (?P<n>\d+) passives?": 0,
    rf"twisted footside{_EITHER}": 0,
    rf"headside{_EITHER} of fans in (?:cloth|half) stitch": 0,
    rf"headside{_EITHER}, a scallop in (?:cloth|half) stitch with (?P<n>\d+) pairs at its narrowest": -2,
    rf"headside{_EITHER} of ground scallops, a spider of (?:8|12) legs in each and (?P<n>\d+) passives? along them": 0,
}
_KIND = "|".join(re.sub(r"\?P<n>", "", kind) for kind in _KINDS)
_MM = r"\d+(?:\.\d+)?"
_OUTLINE = (
    rf"A (?P<form>square|frame|rectangle|strip) {_MM} mm by {_MM} mm(?P<opening> round an opening of {_MM} mm by "
    rf"{_MM} mm)?"
    rf"(?:, \d+ repeats of \d+ rows \({_MM} mm\))? at a pitch of {_MM} mm"
)
_WORKED = (
    r"worked (?:(?P<down>down from the top row)|(?P<across>across from the top)|round from (?:the start line at the "
    r"(?P<corner>top-left|bottom-left|bottom-right|top-right) corner|a horizontal start line (?:through the middle of "
    r"the (?P<middle>left|bottom|right|top) quarter|in the (?P<level>left|bottom|right|top) quarter, (?P<rows>\d+) "
    r"rows? (?P<past>past|before) its middle)))"
)
_COUNTS = r"(?P<pairs>\d+) pairs \((?P<bobbins>\d+) bobbins\), (?P<pins>\d+) pins"
_EDGES = (
    rf"(?P<one>{_KIND})(?:(?: on the left, (?P<right>{_KIND}) on the right)|(?: at the outer edge(?:, "
    rf"(?P<inner>{_KIND}) at "
    rf"the inner edge| and (?P<same>at the inner edge))))?\. (?:The (?P<near>footside|headside) is on the left"
    r"|The outer edge is on the left, the inner edge on the right|Pairs are counted from the "
    r"(?:(?P<from>footside|headside) "
    r"on the )?left)\."
)
_HEAD = re.compile(rf"{_OUTLINE}, {_WORKED}\. {_COUNTS}; {_EDGES}")


@dataclass(frozen=True)
class Head:
    """pairs: on the pillow. passives: of every edge that has an edge pair. strip: whether the piece is one. corner: of
    the start line, or "". level: quarter of a horizontal start and its row, counted from the middle, or None. mirrored:
    whether the text was told with the first edge on the right."""

    pairs: int
    passives: tuple[int, ...]
    strip: bool
    corner: str
    level: tuple[str, int] | None
    mirrored: bool


def read_head(told: list[Section], pricking: Pricking) -> Head:
    """The head of a text. Fault if it cannot be read, or is not so."""
    words = " ".join(item.words for item in told[0].items)
    mirrored = _HEAD.fullmatch(words) is None or "counted from the right" in words
    read = _HEAD.fullmatch(swapped(words) if mirrored else words)
    if read is None:
        raise Fault(f"no head: {words!r}")
    pairs, bobbins, pins = (int(read[name]) for name in ("pairs", "bobbins", "pins"))
    must(bobbins == 2 * pairs, "two bobbins a pair")
    must(pins == len(pricking.pins), f"{pins} pins are told, {len(pricking.pins)} are on the pricking")
    round_ = not (read["down"] or read["across"])
    must(round_ == pricking.worked_round, "worked round and across are not the same")
    must(bool(read["down"]) == (read["form"] == "strip"), "a strip is worked down")
    kinds = [read["one"]]
    two = not round_ or read["opening"] is not None
    if two:
        kinds.append(read["right"] or read["inner"] or read["one"])
    must(not two or round_ != (read["same"] is None and read["inner"] is None), "both edges are told")
    must((read["near"] is not None) == (round_ and not two), "where pairs are counted from is told")
    quarter, row = read["middle"] or read["level"], int(read["rows"] or 0) * (-1 if read["past"] == "before" else 1)
    passives = tuple(map(_passives, kinds))
    level = (quarter, row) if quarter else None
    return Head(pairs, passives, read["form"] == "strip", read["corner"] or "", level, mirrored)


def _passives(kind: str) -> int:
    for pattern, more in _KINDS.items():
        if read := re.fullmatch(pattern, kind):
            return int(read.groupdict().get("n") or 0) + more
    raise Fault(f"no edge: {kind!r}")

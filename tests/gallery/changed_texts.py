"""Printed orders of work with one pin, pair or side changed, drawn at random.

What counts as one of these: in all that is told from the hanging on to the finish every number and every left or
right, and in the head the sides and the numbers of pairs and pins; but for lengths in millimetres and the numbers of
steps, which are none of the three. What stands in "How to read it" and "The stitches" is the same for every piece, its
examples among it; the player reads it word for word.
"""

from __future__ import annotations

import re
from random import Random

_HEAD_END = "How to read it\n"
_BODY = "Hang on the pairs\n"
_NUMBER = re.compile(r"(?<![\d.])\d+(?![\d.]*\d)(?!\s+mm)(?!\.\d)")
_SIDE = re.compile(r"\b([Ll]eft|[Rr]ight)\b")
_OTHER = {"left": "right", "right": "left", "Left": "Right", "Right": "Left"}


def places(text: str) -> list[tuple[int, int]]:
    """Where a pin, a pair or a side stands in a text: begin and end of each."""
    title, head = text.index("\n") + 1, text.index(_HEAD_END)
    body = text.index(_BODY)
    title = text.index("\n", title) + 1
    found = [each.span() for each in _SIDE.finditer(text) if title <= each.start() < head or each.start() >= body]
    for each in _NUMBER.finditer(text):
        counted = title <= each.start() < head and re.match(r"\s+(pairs|pins|passives?|bobbins)", text[each.end() :])
        step = re.search(r"(^|\n) {0,3}$", text[: each.start()]) and text[each.end() :].startswith("  ")
        if counted or (each.start() >= body and not step):
            found.append(each.span())
    return sorted(found)


def changed(text: str, random: Random) -> tuple[str, str]:
    """The text with one of these changed, and what was done."""
    begin, end = random.choice(places(text))
    old = text[begin:end]
    if old in _OTHER:
        new = _OTHER[old]
    else:
        near = [int(old) - 2, int(old) - 1, int(old) + 1, int(old) + 2]
        elsewhere = [int(each) for each in re.findall(r"\d+", text[begin - 60 : end + 60]) if each != old]
        new = str(random.choice([each for each in (*near, *elsewhere) if each > 0]))
    told = text[max(0, begin - 30) : end + 30].replace("\n", " ")
    return text[:begin] + new + text[end:], f"{old} to {new} in {told!r}"

"""A printed order of work taken apart: headings, numbered steps, paragraphs; what is known of every piece alike."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import NamedTuple

from player.fault import Fault


class Item(NamedTuple):
    """A step with its number, or running text with number 0."""

    number: int
    words: str


@dataclass
class Section:
    """What stands below a heading."""

    heading: str
    items: list[Item]


_STEP = re.compile(r" {0,3}(\d+)  (\S.*)")
_SWAP = {"left": "right", "right": "left", "Left": "Right", "Right": "Left"}


def sections(text: str) -> list[Section]:
    """The sections of a text, the first one with the title for a heading."""
    lines = text.splitlines()
    found: list[Section] = []
    step = False
    for at, line in enumerate(lines):
        after = lines[at + 1] if at + 1 < len(lines) else ""
        if line and len(after) == len(line) and set(after) in ({"="}, {"-"}):
            found.append(Section(line, []))
            step = False
            continue
        if not line or set(line) in ({"="}, {"-"}):
            continue
        if not found:
            raise Fault("the text begins without a title")
        items = found[-1].items
        if read := _STEP.fullmatch(line):
            items.append(Item(int(read[1]), read[2]))
            step = True
        elif line.startswith("      ") and step:
            items[-1] = items[-1]._replace(words=f"{items[-1].words} {line.strip()}")
        elif items and not step:
            items[-1] = items[-1]._replace(words=f"{items[-1].words} {line}")
        else:
            items.append(Item(0, line))
            step = False
    return found


def swapped(text: str) -> str:
    """The text with left and right changed; moves are the same on either hand."""
    kept = re.split(r"(left over right|right thread over the left|left half through all of the right half)", text)
    return "".join(
        part if at % 2 else re.sub(r"\b([Ll]eft|[Rr]ight)\b", lambda each: _SWAP[each[0]], part)
        for at, part in enumerate(kept)
    )


def numbers(words: str) -> tuple[int, ...]:
    """All numbers of a list such as "3, 5 and 8", or of a run such as "3-8"."""
    if read := re.fullmatch(rf"(\d+){DASH}(\d+)", words):
        first, last = int(read[1]), int(read[2])
        if first >= last:
            raise Fault(f"no run of numbers: {words!r}")
        return tuple(range(first, last + 1))
    if not re.fullmatch(r"\d+|\d+(, \d+)* and \d+", words):
        raise Fault(f"no list of numbers: {words!r}")
    return tuple(map(int, re.findall(r"\d+", words)))


def span(words: str) -> tuple[int, int]:
    """The first and last of a run such as "3-8", "3 and 4" or "3"."""
    found = numbers(words)
    if len(found) == 2 and found[1] != found[0] + 1:
        raise Fault(f"no run of numbers: {words!r}")
    return found[0], found[-1]


DASH = "\N{EN DASH}"
TIMES = {"once": 1, "twice": 2, "three": 3, "four": 4}

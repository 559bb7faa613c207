"""The kinds of value that are names: a choice, a symmetry, an edge, the stitches, a coloured thread."""

from __future__ import annotations

import difflib
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from constraints import edgings
from constraints.edgings import FOOTSIDE, Headside
from constraints.fillings import ALLOWED, FILLINGS
from constraints.stitches import STITCHES
from constraints.symmetry import SUITS
from explore.asking.kinds import Unfit, Whole, shown

_MOST_OF_A_STITCH = 10**6
_WITH_LEAST = re.compile(r"\s*([^:]*?)\s*(?::\s*([0-9]{1,7})\s*)?", re.ASCII)
_THREAD = re.compile(r"\s*([0-9]{1,5})\s*([a-z]?)\s*=\s*(\S+)\s*", re.ASCII)


class _Words:
    """A value that is written as it is."""

    def from_text(self, text: str) -> str:
        raise Unfit

    def from_toml(self, value: object) -> str:
        if not isinstance(value, str):
            raise Unfit
        return self.from_text(value)

    def to_toml(self, value: str) -> str:
        return value


@dataclass(frozen=True)
class Choice(_Words):
    """One of a few names."""

    names: tuple[str, ...]

    @property
    def allowed(self) -> str:
        return ", ".join(self.names)

    def from_text(self, text: str) -> str:
        if text not in self.names:
            raise Unfit(nearest(text, self.names))
        return text


@dataclass(frozen=True)
class SymmetryChoice(_Words):
    """A symmetry, several with commas between them, or what suits."""

    names: tuple[str, ...]

    @property
    def allowed(self) -> str:
        return f"one or more of {', '.join(self.names)}, with commas between, or {SUITS}"

    def from_text(self, text: str) -> str:
        # What suits was once called any, in briefs for strips.
        if text in (SUITS, "any"):
            return SUITS
        chosen = [each.strip() for each in text.split(",")]
        for each in chosen:
            if each not in self.names:
                raise Unfit(nearest(each, (*self.names, SUITS)))
        return ",".join(name for name in self.names if name in chosen)


@dataclass(frozen=True)
class Splits:
    """A number of splits and merges, or as many as pay in the print's own blocks: None."""

    most: int

    @property
    def allowed(self) -> str:
        return f"a whole number from 0 to {self.most}, or {SUITS}"

    def from_text(self, text: str) -> int | None:
        return None if text == SUITS else Whole(0, self.most).from_text(text)

    def from_toml(self, value: object) -> int | None:
        return None if value == SUITS else Whole(0, self.most).from_toml(value)

    def to_toml(self, value: int | None) -> int | str:
        return SUITS if value is None else value


@dataclass(frozen=True)
class EdgingName:
    """How an edge is worked: a headside, None for a footside."""

    @property
    def allowed(self) -> str:
        return edgings.ALLOWED

    def from_text(self, text: str) -> Headside | None:
        try:
            return edgings.named(" ".join(text.split()))
        except ValueError:
            raise Unfit from None

    def from_toml(self, value: object) -> Headside | None:
        if not isinstance(value, str):
            raise Unfit
        return self.from_text(value)

    def to_toml(self, value: Headside | None) -> str:
        return FOOTSIDE if value is None else value.name


@dataclass(frozen=True)
class SideChoice:
    """One side or both: true for both."""

    @property
    def allowed(self) -> str:
        return "one, both"

    def from_text(self, text: str) -> bool:
        if text not in ("one", "both"):
            raise Unfit(nearest(text, ("one", "both")))
        return text == "both"

    def from_toml(self, value: object) -> bool:
        if not isinstance(value, str):
            raise Unfit
        return self.from_text(value)

    def to_toml(self, value: bool) -> str:
        return "both" if value else "one"


@dataclass(frozen=True)
class Stitches:
    """Stitches and fillings, each with the least number of it (pinholes or figures; 0: none is needed).

    The value is a mapping of names to least numbers, in the order of `constraints.fillings.ALLOWED`.
    """

    @property
    def allowed(self) -> str:
        example = f"{next(iter(STITCHES))},{next(iter(FILLINGS))}:8"
        return f"some of {', '.join(ALLOWED)}, each with a least number if wanted, such as {example}"

    def from_text(self, text: str) -> dict[str, int]:
        return self._gathered(text.split(","))

    def from_toml(self, value: object) -> dict[str, int]:
        if isinstance(value, str):
            return self.from_text(value)
        if not isinstance(value, list):
            raise Unfit
        return self._gathered(value)

    def to_toml(self, value: Mapping[str, int]) -> list[str]:
        return [f"{name}:{least}" if least else name for name, least in value.items()]

    def _gathered(self, items: Iterable[object]) -> dict[str, int]:
        least: dict[str, int] = {}
        for item in items:
            found = _WITH_LEAST.fullmatch(item) if isinstance(item, str) else None
            if not found:
                raise Unfit(f"{shown(item)} is no stitch with a least number")
            name = found[1]
            if name not in ALLOWED:
                raise Unfit(nearest(name, ALLOWED) or f"{shown(name)} is not known")
            if name in least:
                raise Unfit(f"{name} is named twice")
            least[name] = int(found[2] or 0)
        for name, number in least.items():
            if number > _MOST_OF_A_STITCH:
                raise Unfit(f"no piece holds {number} of {name}")
        if not any(name in STITCHES for name in least):
            raise Unfit(f"blocks need at least one of {', '.join(STITCHES)}")
        return {name: least[name] for name in ALLOWED if name in least}


@dataclass(frozen=True)
class ThreadColour:
    """Threads that are to be coloured. pair: as it is hung, from 1. thread: a (left), b (right), "" for both. colour:
    as she wrote it."""

    pair: int
    thread: str
    colour: str

    def __str__(self) -> str:
        return f"{self.pair}{self.thread}={self.colour}"


@dataclass(frozen=True)
class Colouring:
    """A thread and a colour for it."""

    @property
    def allowed(self) -> str:
        return "a pair as it is hung, its thread a (left) or b (right), or neither for both, and a colour: 7a=crimson"

    def from_text(self, text: str) -> ThreadColour:
        found = _THREAD.fullmatch(text)
        if found is None:
            raise Unfit
        if found[2] not in ("", "a", "b"):
            raise Unfit(f"a pair has the threads a and b; the nearest is {found[1]}b={found[3]}")
        return ThreadColour(int(found[1]), found[2], found[3])

    def to_toml(self, value: ThreadColour) -> str:
        return str(value)


def nearest(name: str, known: Iterable[str]) -> str:
    """ "did you mean ...?" for the nearest known name, or "" if none is near."""
    near = difflib.get_close_matches(name[:60], list(known), n=1)
    return f"did you mean {near[0]}?" if near else ""

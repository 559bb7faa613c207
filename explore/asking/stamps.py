"""The kinds of value that tell which stamps lie in a piece, how turned and where; and what she calls them."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import count
from pathlib import PurePath
from typing import Any

from constraints.brief import SPOTS
from constraints.symmetry import SUITS
from explore.asking.kinds import Unfit
from explore.asking.names import nearest
from explore.pictures import is_picture

# So many stamps lie in one piece at the most.
MOST_STAMPS = 4
_TURN = re.compile(r"\s*(-?[0-9]{1,6}(?:\.[0-9]*)?)\s*", re.ASCII)


@dataclass(frozen=True)
class Turns:
    """Degrees clockwise on the page, each from 0 to less than 360, in the order given."""

    @property
    def allowed(self) -> str:
        return "degrees from -360 to 360, clockwise on the page, such as 0,45,90"

    def from_text(self, text: str) -> tuple[float, ...]:
        found = [_TURN.fullmatch(each) for each in text.split(",")]
        if not all(found):
            raise Unfit
        return self._gathered([float(each[1]) for each in found if each])

    def from_toml(self, value: object) -> tuple[float, ...]:
        if isinstance(value, str):
            return self.from_text(value)
        return self._gathered(value if isinstance(value, list) else [value])

    def to_toml(self, value: tuple[float, ...]) -> list[float]:
        return list(value)

    def _gathered(self, turns: list[object] | list[float]) -> tuple[float, ...]:
        degrees: list[float] = []
        for turn in turns:
            if not isinstance(turn, int | float) or isinstance(turn, bool) or not -360 <= turn <= 360:
                raise Unfit
            degrees.append(float(turn) % 360.0 % 360.0)  # twice: a tiny negative turn rounds up to 360
        if not degrees:
            raise Unfit("it names no turn")
        return tuple(dict.fromkeys(degrees))


# Between the stamps of a flag: no name of a file holds it, a line break some do.
BETWEEN_STAMPS = "\0"


@dataclass(frozen=True)
class StampReferences:
    """Stamps as she refers to them: files, or the names of built-in ones; of a flag with `BETWEEN_STAMPS` between."""

    allowed: str = "a picture of a print, the name of a built-in stamp, a list of these, or an empty text for none"

    def from_text(self, text: str) -> tuple[str, ...]:
        return self._each(text.split(BETWEEN_STAMPS) if text else [])

    def from_toml(self, value: object) -> tuple[str, ...]:
        if isinstance(value, str):
            return self._each([value] if value else [])
        if not isinstance(value, list) or not all(isinstance(each, str) and each for each in value):
            raise Unfit
        return self._each(value)

    def to_toml(self, value: tuple[str, ...]) -> Any:
        return list(value) if len(value) > 1 else "".join(value)

    def _each(self, names: list[str]) -> tuple[str, ...]:
        if any("\0" in name for name in names):
            raise Unfit("a file name holds no such character")
        if len(names) > MOST_STAMPS:
            raise Unfit(f"at most {MOST_STAMPS} lie in one piece")
        return tuple(names)


@dataclass(frozen=True)
class SpotNames:
    """Where stamps lie: one spot for all of them, or for each by its name."""

    allowed: str = (
        f"{', '.join(SPOTS)} or {SUITS}, for all stamps or for each by its name, such as bee=corners,leaf=sides"
    )

    def from_text(self, text: str) -> tuple[tuple[str, str], ...]:
        found = []
        for part in text.split(","):
            name, _, spot = part.rpartition("=")
            if spot.strip() not in (*SPOTS, SUITS):
                raise Unfit(nearest(spot.strip(), (*SPOTS, SUITS)))
            found.append((name.strip(), spot.strip()))
        return tuple(found)

    def from_toml(self, value: object) -> tuple[tuple[str, str], ...]:
        if not isinstance(value, str):
            raise Unfit
        return self.from_text(value)

    def to_toml(self, value: tuple[tuple[str, str], ...]) -> str:
        return ",".join(f"{name}={spot}" if name else spot for name, spot in value)


def stamp_names(references: Sequence[str]) -> list[str]:
    """What she calls stamps: as `stamp_name`, numbered where two are called the same."""
    found: list[str] = []
    for reference in references:
        name = stamp_name(reference)
        numbered = (f"{name}-{number}" for number in count(2))
        found.append(name if name not in found else next(each for each in numbered if each not in found))
    return found


def stamp_name(reference: str) -> str:
    """What she calls a stamp: the file's name without folders and picture suffixes; "" for none."""
    name = PurePath(reference).name if reference else ""
    name = "".join(c if c.isprintable() else "?" for c in name).strip()
    while is_picture(name):
        name = PurePath(name).stem.strip()
    return name or ("stamp" if reference else "")

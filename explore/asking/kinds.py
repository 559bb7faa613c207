"""The kinds of one value: how each is read from a flag or from TOML, and written back.

Inside, lengths are mm, shares are 0 to 1 and turns are degrees; units are read here and nowhere else.
"""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from typing import Any, Protocol, runtime_checkable

# One inch is 25.4 mm exactly (international yard and pound agreement, 1959).
LENGTH: Mapping[str, Decimal] = {
    "": Decimal(1),
    "mm": Decimal(1),
    "cm": Decimal(10),
    "in": Decimal("25.4"),
}
SHARE: Mapping[str, Decimal] = {"": Decimal(1), "%": Decimal("0.01")}
PLAIN: Mapping[str, Decimal] = {"": Decimal(1)}

NUMBER = r"([0-9]{1,18}(?:\.[0-9]*)?|\.[0-9]+)\s*([^\s0-9.,-]*)"
_ONE = re.compile(rf"\s*{NUMBER}\s*", re.ASCII)
_WHOLE = re.compile(r"\s*([0-9]{1,18})\s*", re.ASCII)


class Unfit(ValueError):
    """A value that its key cannot take. The message says why; empty where naming what is allowed suffices."""


@runtime_checkable
class Kind(Protocol):
    """A kind of value. allowed: what to write, in words. The methods raise Unfit."""

    @property
    def allowed(self) -> str: ...

    def from_text(self, text: str) -> Any:
        """The value of a flag."""

    def to_toml(self, value: Any) -> Any:
        """What to write into TOML, or for a flag, so that the same value is read."""


class KeyKind(Kind, Protocol):
    """The kind of a key of the brief: read from TOML too."""

    def from_toml(self, value: object) -> Any:
        """The value TOML gave, of whatever type."""


@dataclass(frozen=True)
class Whole:
    """A whole number. words: what is allowed, if it is more than a number."""

    least: int
    most: int
    words: str = ""

    @property
    def allowed(self) -> str:
        return self.words or f"a whole number from {self.least} to {self.most}"

    def from_text(self, text: str) -> int:
        found = _WHOLE.fullmatch(text)
        if not found:
            raise Unfit
        return self.from_toml(int(found[1]))

    def from_toml(self, value: object) -> int:
        if not isinstance(value, int) or isinstance(value, bool) or not self.least <= value <= self.most:
            raise Unfit
        return value

    def to_toml(self, value: int) -> int:
        return value


@dataclass(frozen=True)
class Number:
    """A number in the range and the units given. words: what is allowed. unit: what TOML is written in."""

    least: float
    most: float
    words: str
    units: Mapping[str, Decimal] = field(default_factory=lambda: PLAIN)
    unit: str = ""

    @property
    def allowed(self) -> str:
        return self.words

    def from_text(self, text: str) -> float:
        found = _ONE.fullmatch(text)
        if not found:
            raise Unfit
        return self.within(self.measured(found[1], found[2]))

    def from_toml(self, value: object) -> float:
        if isinstance(value, str) and len(self.units) > 1:
            return self.from_text(value)
        if not isinstance(value, int | float) or isinstance(value, bool):
            raise Unfit
        return self.within(value)

    def to_toml(self, value: float) -> float | str:
        return self.told(value) if self.unit else value

    def told(self, value: float) -> str:
        """All digits of a number, in the unit that TOML is written in."""
        text = format(Decimal(repr(value)) / self.units[self.unit], "f")
        return f"{text.removesuffix('.0')}{self.unit}"

    def measured(self, number: str, unit: str) -> float:
        """A number in the unit used inside. Reckoned in decimals, so that 5.5in is 139.7 exactly."""
        factor = self.units.get(unit.lower())
        if factor is None:
            known = ", ".join(each for each in self.units if each) or "none"
            raise Unfit(f"unknown unit {shown(unit)}, known: {known}")
        return float(Decimal(number) * factor)

    def within(self, value: float) -> float:
        if not self.least <= value <= self.most:  # false for NaN as well
            raise Unfit
        return float(value) + 0.0  # no minus zero


def written(kind: Kind, value: Any) -> str:
    """A value as she would write it for a flag."""
    return _flag_words(kind.to_toml(value))


def _flag_words(value: object) -> str:
    if isinstance(value, list):
        return ",".join(map(_flag_words, value))
    return f"{value:g}" if isinstance(value, float) else str(value)


def shown(value: object) -> str:
    """A value for a one-line message: quoted if it is text, never long, never with a line break."""
    text = f'"{value}"' if isinstance(value, str) else _toml_words(value)
    text = "".join(c if c.isprintable() else c.encode("unicode_escape").decode("ascii") for c in text)
    return text if len(text) <= 60 else text[:57] + "..."


def _toml_words(value: object) -> str:
    """A value as a TOML file would say it, near enough to be recognised."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, list):
        return "[" + ", ".join(shown(each) for each in value[:8]) + (", ...]" if len(value) > 8 else "]")
    if isinstance(value, dict):
        return "a table"
    if isinstance(value, int) and abs(value) >= 10**18:
        return "a huge number"
    if isinstance(value, float) and math.isnan(value):
        return "nan"
    return str(value)

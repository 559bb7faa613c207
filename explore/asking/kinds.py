"""The kinds of value a brief holds: how each is read from a flag or from TOML, and written back.

Inside, lengths are mm, shares are 0 to 1 and turns are degrees; units are read here and nowhere else.
"""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from typing import Any, Protocol, TypeVar

_Real = TypeVar("_Real", int, float)

# One inch is 25.4 mm exactly (international yard and pound agreement, 1959).
LENGTH: Mapping[str, Decimal] = {
    "": Decimal(1),
    "mm": Decimal(1),
    "cm": Decimal(10),
    "in": Decimal("25.4"),
}
SHARE: Mapping[str, Decimal] = {"": Decimal(1), "%": Decimal("0.01")}
PLAIN: Mapping[str, Decimal] = {"": Decimal(1)}

_NUMBER = r"([0-9]{1,18}(?:\.[0-9]*)?|\.[0-9]+)\s*([^\s0-9.,-]*)"
_ONE = re.compile(rf"\s*{_NUMBER}\s*", re.ASCII)
_TWO = re.compile(rf"\s*{_NUMBER}\s*-\s*{_NUMBER}\s*", re.ASCII)
_WHOLE = re.compile(r"\s*([0-9]{1,18})\s*", re.ASCII)
_WHOLE_TWO = re.compile(r"\s*([0-9]{1,18})\s*(?:-\s*([0-9]{1,18})\s*)?", re.ASCII)


class Unfit(ValueError):
    """A value that its key cannot take. The message says why; empty where naming what is allowed suffices."""


class Kind(Protocol):
    """A kind of value. allowed: what to write, in words. The methods raise Unfit."""

    @property
    def allowed(self) -> str: ...

    def from_text(self, text: str) -> Any:
        """The value of a flag."""

    def from_toml(self, value: object) -> Any:
        """The value TOML gave, of whatever type."""

    def to_toml(self, value: Any) -> Any:
        """What to write into TOML so that from_toml reads the same value."""


@dataclass(frozen=True)
class Whole:
    """A whole number."""

    least: int
    most: int

    @property
    def allowed(self) -> str:
        return f"a whole number from {self.least} to {self.most}"

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
class Wholes:
    """Whole numbers, each once, in the order given."""

    each: Whole

    @property
    def allowed(self) -> str:
        return "whole numbers with commas between, such as 2,5"

    def from_text(self, text: str) -> tuple[int, ...]:
        return tuple(dict.fromkeys(self.each.from_text(part) for part in text.split(",")))

    def from_toml(self, value: object) -> tuple[int, ...]:
        if not isinstance(value, list):
            raise Unfit
        return tuple(dict.fromkeys(map(self.each.from_toml, value)))

    def to_toml(self, value: tuple[int, ...]) -> list[int]:
        return list(value)


@dataclass(frozen=True)
class WholeSpan:
    """A whole number or a range of them, as (least, most)."""

    least: int
    most: int

    @property
    def allowed(self) -> str:
        return f"a whole number from {self.least} to {self.most}, or a range such as 20-28"

    def from_text(self, text: str) -> tuple[int, int]:
        found = _WHOLE_TWO.fullmatch(text)
        if not found:
            raise Unfit
        return self._within(int(found[1]), int(found[2] or found[1]))

    def from_toml(self, value: object) -> tuple[int, int]:
        if isinstance(value, str):
            return self.from_text(value)
        ends = value if isinstance(value, list) else [value, value]
        if len(ends) != 2:
            raise Unfit
        return self._within(*ends)

    def to_toml(self, value: tuple[int, int]) -> int | str:
        return value[0] if value[0] == value[1] else f"{value[0]}-{value[1]}"

    def _within(self, low: object, high: object) -> tuple[int, int]:
        whole = Whole(self.least, self.most)
        return _right_way_up(whole.from_toml(low), whole.from_toml(high))


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
        return f"{_plain(value)}{self.unit}" if self.unit else value

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


@dataclass(frozen=True)
class Span:
    """A number or a range of them, as (least, most)."""

    number: Number

    @property
    def allowed(self) -> str:
        return self.number.words

    def from_text(self, text: str) -> tuple[float, float]:
        found = _TWO.fullmatch(text)
        if not found:
            value = self.number.from_text(text)
            return value, value
        # "4-6mm": a unit on one end holds for both.
        low, high = found[2] or found[4], found[4] or found[2]
        return self._within(self.number.measured(found[1], low), self.number.measured(found[3], high))

    def from_toml(self, value: object) -> tuple[float, float]:
        if isinstance(value, str):
            return self.from_text(value)
        if isinstance(value, list):
            if len(value) != 2:
                raise Unfit
            return _right_way_up(self.number.from_toml(value[0]), self.number.from_toml(value[1]))
        one = self.number.from_toml(value)
        return one, one

    def to_toml(self, value: tuple[float, float]) -> float | str:
        low, high = value
        if low == high:
            return self.number.to_toml(low)
        return f"{_plain(low)}-{_plain(high)}{self.number.unit}"

    def _within(self, low: float, high: float) -> tuple[float, float]:
        return _right_way_up(self.number.within(low), self.number.within(high))


def _right_way_up(low: _Real, high: _Real) -> tuple[_Real, _Real]:
    if low > high:
        raise Unfit("the range is upside down")
    return low, high


def _plain(value: float) -> str:
    """All digits of a number and no exponent."""
    text = format(Decimal(repr(value)), "f")
    return text.removesuffix(".0")


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

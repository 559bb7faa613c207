"""The kinds of several values of one kind: lists, ranges, two side by side."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TypeVar

from explore.asking.kinds import NUMBER, Number, Unfit, Whole

_Real = TypeVar("_Real", int, float)

_TWO = re.compile(rf"\s*{NUMBER}\s*-\s*{NUMBER}\s*", re.ASCII)
_WHOLE_TWO = re.compile(r"\s*([0-9]{1,18})\s*(?:-\s*([0-9]{1,18})\s*)?", re.ASCII)
_SIDES = re.compile(rf"\s*{NUMBER}\s*x\s*{NUMBER}\s*", re.ASCII)


@dataclass(frozen=True)
class Wholes:
    """Whole numbers and ranges of them, each once, in the order given."""

    each: Whole

    @property
    def allowed(self) -> str:
        return self.each.words or "whole numbers with commas between, such as 2,5 or 4-6"

    def from_text(self, text: str) -> tuple[int, ...]:
        spans = map(WholeSpan(self.each.least, self.each.most).from_text, text.split(","))
        return tuple(dict.fromkeys(number for low, high in spans for number in range(low, high + 1)))

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
        return f"{self.number.told(low).removesuffix(self.number.unit)}-{self.number.told(high)}"

    def _within(self, low: float, high: float) -> tuple[float, float]:
        return _right_way_up(self.number.within(low), self.number.within(high))


@dataclass(frozen=True)
class Twice:
    """Two whole numbers, across and down; one stands for both."""

    each: Whole

    @property
    def allowed(self) -> str:
        return f"a whole number from {self.each.least}, or two such as 2x3"

    def from_text(self, text: str) -> tuple[int, int]:
        across, times, down = text.partition("x")
        return self.each.from_text(across), self.each.from_text(down if times else across)

    def to_toml(self, value: tuple[int, int]) -> int | str:
        return value[0] if value[0] == value[1] else f"{value[0]}x{value[1]}"


@dataclass(frozen=True)
class Box:
    """Width and height; a unit on one of them holds for both."""

    number: Number

    @property
    def allowed(self) -> str:
        return self.number.words

    def from_text(self, text: str) -> tuple[float, float]:
        found = _SIDES.fullmatch(text)
        if not found:
            raise Unfit
        width, height = found[2] or found[4], found[4] or found[2]
        return (
            self.number.within(self.number.measured(found[1], width)),
            self.number.within(self.number.measured(found[3], height)),
        )

    def to_toml(self, value: tuple[float, float]) -> str:
        return f"{self.number.told(value[0]).removesuffix(self.number.unit)}x{self.number.told(value[1])}"


def _right_way_up(low: _Real, high: _Real) -> tuple[_Real, _Real]:
    if low > high:
        raise Unfit("the range is upside down")
    return low, high

"""Reading what a file of a design says, value by value: whatever is damaged or out of range ends in one clear line."""

from __future__ import annotations

import json
from typing import Any, NoReturn

from constraints.design import Ring
from constraints.forms import Form
from constraints.lattice import Point, in_order

# Outlines of a print as it is traced have some hundred points.
MOST_POINTS = 10_000


class DesignFileError(ValueError):
    """A file of a design that does not say what it must say. The message is one clear line."""


class Reader:
    """Reads one JSON object; every complaint names the key, the value found and what is allowed."""

    def __init__(self, data: Any, where: str) -> None:
        if not isinstance(data, dict):
            raise DesignFileError(f"{where} must be a JSON object")
        self.data: dict[str, Any] = data
        self.where = where

    def _get(self, key: str, default: Any) -> Any:
        if key in self.data:
            return self.data[key]
        if default is None:
            raise DesignFileError(f'"{key}" is missing from {self.where}')
        return default

    def refuse(self, why: str) -> NoReturn:
        """Raises DesignFileError, for what two values together cannot be."""
        raise DesignFileError(why)

    def text(self, key: str, default: str | None = None) -> str:
        value = self._get(key, default)
        if not isinstance(value, str):
            raise DesignFileError(f'"{key}" must be a text, not {_short(value)}')
        return value

    def choice(self, key: str, allowed: tuple[str, ...], default: str | None = None) -> str:
        value = self.text(key, default)
        if value not in allowed:
            raise DesignFileError(f'"{key}" is {_short(value)}; allowed: {", ".join(allowed)}')
        return value

    def whole(self, key: str, least: int, most: int, default: int | None = None) -> int:
        value = self._get(key, default)
        if not isinstance(value, int) or isinstance(value, bool) or not least <= value <= most:
            raise DesignFileError(f'"{key}" must be a whole number from {least} to {most}, not {_short(value)}')
        return value

    def number(self, key: str, least: float, most: float) -> float:
        value = self._get(key, None)
        if not isinstance(value, int | float) or isinstance(value, bool) or not least <= value <= most:
            raise DesignFileError(f'"{key}" must be a number from {least:g} to {most:g}, not {_short(value)}')
        return float(value)

    def yes_no(self, key: str, default: bool) -> bool:
        value = self._get(key, default)
        if not isinstance(value, bool):
            raise DesignFileError(f'"{key}" must be true or false, not {_short(value)}')
        return value

    def inside(self, key: str) -> Reader:
        return Reader(self._get(key, None), f'"{key}"')

    def items(self, key: str) -> list[Reader]:
        return [Reader(item, f'each entry of "{key}"') for item in self._list(key)]

    def points(self, key: str, form: Form, pinholes: bool) -> tuple[Point, ...]:
        left, top, right, bottom = form.box
        parity = form.parity if pinholes else 1 - form.parity
        points = []
        for value in self._list(key):
            if not _is_pair(value, int) or not (left <= value[0] <= right and top <= value[1] <= bottom):
                within = f"x {left} to {right}, y {top} to {bottom}"
                raise DesignFileError(f'"{key}" must list [x, y] within {within}, not {_short(value)}')
            if (value[0] + value[1]) % 2 != parity:
                kind = f"{'odd' if parity else 'even'} at a {'pinhole' if pinholes else 'hole'}"
                raise DesignFileError(f'"{key}" holds {_short(value)}: x + y is {kind}')
            points.append((value[0], value[1]))
        if len(set(points)) != len(points):
            raise DesignFileError(f'"{key}" names a place twice')
        return in_order(points)

    def rings(self, key: str) -> list[Ring]:
        rings = []
        for ring in self._list(key):
            if not isinstance(ring, list) or len(ring) < 3 or not all(_is_pair(p, int | float) for p in ring):
                raise DesignFileError(f'"{key}" must list rings of at least three [x, y]')
            if any(abs(number) > 10**5 for point in ring for number in point):
                raise DesignFileError(f'"{key}" runs outside every piece')
            rings.append(tuple((float(x), float(y)) for x, y in ring))
        points = sum(map(len, rings))
        if points > MOST_POINTS:
            raise DesignFileError(f'"{key}" has {points} points; at most {MOST_POINTS} are read')
        return rings

    def _list(self, key: str) -> list[Any]:
        value = self._get(key, None)
        if not isinstance(value, list):
            raise DesignFileError(f'"{key}" must be a list')
        return value


def _is_pair(value: Any, kind: Any) -> bool:
    return (
        isinstance(value, list)
        and len(value) == 2
        and all(isinstance(v, kind) and not isinstance(v, bool) and v == v for v in value)
    )


def _short(value: Any) -> str:
    text = json.dumps(value, ensure_ascii=False, default=str)
    return text if len(text) <= 40 else text[:37] + "..."

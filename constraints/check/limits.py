"""What the brief of a square limits, as the check reads it. A key that is missing limits nothing."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any

from constraints.corners import CORNERS
from constraints.fillings import ALLOWED


@dataclass(frozen=True)
class Limits:
    """The limits of a brief, None where there is none. See the README for the meaning of each key.

    pairs: most. solid: least and most share of block places. least: at least so many pinholes of a
    stitch or of a ground, or units of a figure.
    """

    pairs: int | None = None
    narrowest: int | None = None
    widest: int | None = None
    narrowest_ground: int | None = None
    margin: int | None = None
    splits: int | None = None
    corners: str | None = None
    solid: tuple[float, float] | None = None
    match: float | None = None
    stitches: frozenset[str] | None = None
    least: Mapping[str, int] = field(default_factory=dict)


def read(brief: Mapping[str, Any]) -> tuple[Limits, list[str]]:
    """The limits of a brief, and a line for each key that cannot be read as one."""
    values: dict[str, Any] = {}
    complaints = []
    for key, (fits, allowed, convert) in _KEYS.items():
        if key not in brief or brief[key] is None:
            continue
        if fits(brief[key]):
            values[key] = convert(brief[key])
        else:
            complaints.append(f'the brief\'s "{key}" must be {allowed}, not {str(brief[key])[:40]}')
    return Limits(**values), complaints


def _whole(value: Any) -> bool:
    return isinstance(value, int) and not isinstance(value, bool) and value >= 0


def _share(value: Any) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool) and 0 <= value <= 1


def _shares(value: Any) -> bool:
    return isinstance(value, list | tuple) and len(value) == 2 and all(map(_share, value))


def _corners(value: Any) -> bool:
    return value in CORNERS


def _names(value: Any) -> bool:
    return isinstance(value, list | tuple) and all(name in ALLOWED for name in value)


def _counts(value: Any) -> bool:
    return isinstance(value, Mapping) and _names(list(value)) and all(map(_whole, value.values()))


_ANY_OF = f"names among {', '.join(ALLOWED)}"
_WHOLE = (_whole, "a whole number", int)
_KEYS: dict[str, tuple[Callable[[Any], bool], str, Callable[[Any], Any]]] = {
    "pairs": _WHOLE,
    "narrowest": _WHOLE,
    "widest": _WHOLE,
    "narrowest_ground": _WHOLE,
    "margin": _WHOLE,
    "splits": _WHOLE,
    "corners": (_corners, f"one of {', '.join(CORNERS)}", str),
    "solid": (_shares, "two numbers from 0 to 1", tuple),
    "match": (_share, "a number from 0 to 1", float),
    "stitches": (_names, _ANY_OF, frozenset),
    "least": (_counts, f"whole numbers for {_ANY_OF}", dict),
}

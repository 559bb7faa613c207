"""The kind of value that is a taste: names of tastes, or weights of traits."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass

from explore.asking.kinds import Unfit
from explore.asking.names import nearest
from gallery.seeing.traits import TRAITS

Weights = tuple[tuple[str, float], ...]

_MOST = 3.0
_WEIGHT = re.compile(r"\s*([a-z-]+)\s*(?::\s*([+-]?[0-9]{1,2}(?:\.[0-9]{1,6})?)\s*)?", re.ASCII)

# How much each of them likes what traits; one's own words, no source.
TASTES: Mapping[str, Mapping[str, float]] = {
    "calm": {"pieces": -1.0, "kinds": -0.7, "uneven": -0.4, "closed": 0.7, "order": 0.7},
    "bold": {"print": 1.0, "slender": -1.0, "pieces": -0.5, "blocks": 0.5},
    "open": {"blocks": -1.0, "filled": -0.5, "empty": 0.7, "slender": 0.4},
    "dense": {"blocks": 0.7, "filled": 1.0, "empty": -0.7},
    "old-fashioned": {"spiders": 1.0, "roses": 0.5, "closed": 0.7, "order": 0.5, "toothed": -0.3},
}


@dataclass(frozen=True)
class TasteWords:
    """Weights of traits, each other than 0, in the order of the traits; names of tastes are their weights."""

    @property
    def allowed(self) -> str:
        return f"one or more of {', '.join(TASTES)}, or weights from -3 to 3 such as closed:1,roses:-0.5"

    def from_text(self, text: str) -> Weights:
        weights = dict.fromkeys(TRAITS, 0.0)
        for part in text.split(","):
            found = _WEIGHT.fullmatch(part)
            if not found:
                raise Unfit
            name, weight = found[1], found[2]
            if weight is None and name in TASTES:
                for trait, own in TASTES[name].items():
                    weights[trait] += own
            elif weight is not None and name in TRAITS and abs(float(weight)) <= _MOST:
                weights[name] += float(weight)
            else:
                known = TASTES if weight is None else TRAITS
                raise Unfit(nearest(name, known) or ("" if name in known else f"there are {', '.join(known)}"))
        found_any = tuple((name, round(max(-_MOST, min(_MOST, each)), 3)) for name, each in weights.items() if each)
        if not found_any:
            raise Unfit
        return found_any

    def from_toml(self, value: object) -> Weights:
        if not isinstance(value, str):
            raise Unfit
        return self.from_text(value)

    def to_toml(self, value: Weights) -> str:
        return ",".join(f"{name}:{weight:g}" for name, weight in value)

"""Patterns that units make in a large field: over all of it, or in bands, corners, the rim or the middle alone."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from constraints.lattice import BoolArray, IntArray
from explore.compose.parts import Random


@dataclass(frozen=True)
class Pattern:
    """Where in the square units stand; the same under every turn and reflection.

    kind: "all"; "bands" along the sides or "diamonds" along the corner lines, `width` units wide, every second
    one; "rim" and "middle", beyond or within `width` from the centre; "corners" and "sides".
    """

    kind: str = "all"
    width: int = 1
    second: bool = False

    def holds(self, points: IntArray) -> BoolArray:
        """(s,) whether a unit may stand at each of these points, (s, 2)."""
        near, far = np.sort(np.abs(points), axis=1).T
        measured = {
            "bands": (far // self.width) % 2 == self.second,
            "diamonds": ((near + far) // self.width) % 2 == self.second,
            "rim": far >= self.width,
            "middle": far < self.width,
            "corners": 2 * near >= far,
            "sides": 2 * near < far,
        }
        found: BoolArray = np.ones(len(points), dtype=np.bool_) if self.kind == "all" else measured[self.kind]
        return found


ALL = Pattern()


def draw_pattern(rng: Random, half_size: int, size: int) -> Pattern:
    """A pattern for units that take so many pinholes a side."""
    kind = str(rng.choice(("bands", "diamonds", "rim", "middle", "corners", "sides")))
    if kind in ("bands", "diamonds"):
        width = int(rng.choice((2, 4, 6))) * (2 if size > 2 else 1)
    else:
        width = round(half_size * float(rng.uniform(0.4, 0.75)))
    return Pattern(kind, width, bool(rng.random() < 0.5))

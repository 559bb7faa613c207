"""Patterns that units make in a large field: over all of it, or in bands, corners, the rim or the middle alone."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from constraints.forms import Form
from constraints.lattice import BoolArray, FloatArray, IntArray
from explore.search.compose.parts import Random

_Measure = IntArray | FloatArray
# Of a form that has no middle to go round, or a longer side.
_ALONG = ("bands", "rim", "middle")


@dataclass(frozen=True)
class Pattern:
    """Where in a piece units stand; the same under every turn and reflection.

    kind: "all"; "bands" along the sides or "diamonds" along the corner lines, `width` units wide, every second
    one; "rim" and "middle", beyond or within `width` from the centre, or the middle line; "corners" and "sides". form:
    of the piece, None for "all".
    """

    kind: str = "all"
    width: int = 1
    second: bool = False
    form: Form | None = None

    def holds(self, points: IntArray) -> BoolArray:
        """(s,) whether a unit may stand at each of these points, (s, 2)."""
        near, far = np.sort(np.abs(points), axis=1).T
        if self.form is None or self.form.one_side:
            return _MEASURED[self.kind](near, far, self)
        return _MEASURED[self.kind](near, self.form.to_middle - self.form.inwards(points), self)


_MEASURED: dict[str, Callable[[_Measure, _Measure, Pattern], BoolArray]] = {
    "all": lambda near, far, pattern: far >= 0,
    "bands": lambda near, far, pattern: (far // pattern.width) % 2 == pattern.second,
    "diamonds": lambda near, far, pattern: ((near + far) // pattern.width) % 2 == pattern.second,
    "rim": lambda near, far, pattern: far >= pattern.width,
    "middle": lambda near, far, pattern: far < pattern.width,
    "corners": lambda near, far, pattern: 2 * near >= far,
    "sides": lambda near, far, pattern: 2 * near < far,
}


ALL = Pattern()


def draw_pattern(rng: Random, form: Form, size: int) -> Pattern:
    """A pattern for units that take so many pinholes a side."""
    kinds = ("bands", "diamonds", "rim", "middle", "corners", "sides") if form.one_side else _ALONG
    kind = str(rng.choice(kinds))
    if kind in ("bands", "diamonds"):
        width = int(rng.choice((2, 4, 6))) * (2 if size > 2 else 1)
    else:
        width = round(form.to_middle * float(rng.uniform(0.4, 0.75)))
    return Pattern(kind, width, bool(rng.random() < 0.5), form)

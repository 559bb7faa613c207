"""Headsides as data: fans and scallops, and where they fit.

A fan is a half diamond of depth h that stands on the edge: it takes h pairs in from the ground and gives h back,
and the next one begins 2h units on. Between two fans stands a valley pin. The edge pair works in the fan, so that
two pairs pass at the valley (a pointed fan). A scallop is the same shape without valley pins of its own: one
block runs all along the edge, with more passives beside the edge pair (Dillmont 1886, Encyclopedia of
Needlework, fig. 799, has six pairs at its narrowest). A ground scallop has the same outline and no block: the ground
goes on to the edge, which is worked as a footside is and curves, and one spider stands in each scallop.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace

from constraints.fillings import FILLINGS, Unit
from constraints.stitches import CLOTH, HALF

FAN, SCALLOP, GROUND_SCALLOP = "fan", "scallop", "ground scallop"
KINDS = (FAN, SCALLOP, GROUND_SCALLOP)
STITCHES = (CLOTH, HALF)
DEPTHS = range(2, 7)
# A ground scallop of depth 2 has no room for a spider; from 5 on it holds one of twelve legs.
OPEN_DEPTHS = range(3, 7)
_DEEP = 5
# Pairs at the valley of a fan: the two of its pin. A scallop carries at least one more.
POINTED = 2
MOST_AT_VALLEY = 12
# What an edge is called that has no headside.
FOOTSIDE = "footside"
_NAME = re.compile(r"(?:(cloth|half) (fan|scallop)|(ground scallop)) ([0-9])(?: with ([0-9]{1,2}) pairs)?")


@dataclass(frozen=True)
class Headside:
    """kind: fan, scallop or ground scallop. stitch: cloth or half; of a ground scallop "". depth: h, units. pairs: f,
    all that pass at the valley, the edge pair among them. first: on a strip the row of a valley; round a square or
    frame t, where the last valleys stand 2t + 1 units before each corner."""

    kind: str
    stitch: str
    depth: int
    pairs: int
    first: int

    @property
    def passives(self) -> int:
        """Pairs that run beside the edge pair all along."""
        return self.pairs - POINTED

    @property
    def solid(self) -> bool:
        """Whether it is worked as blocks."""
        return self.kind != GROUND_SCALLOP

    @property
    def figure(self) -> Unit | None:
        """The spider in each ground scallop; None for fans and scallops, which have none."""
        return None if self.solid else FILLINGS["spider"].unit(12 if self.depth >= _DEEP else 8)

    @property
    def inwards(self) -> int:
        """Units from the edge to that spider's middle, so that its pinholes fill the scallop's inner half."""
        return self.depth - (0 if self.figure is None else self.figure.size - 1)

    @property
    def period(self) -> int:
        """Units from valley to valley."""
        return 2 * self.depth

    @property
    def name(self) -> str:
        """As `named` reads it."""
        more = f" with {self.pairs} pairs" if self.kind != FAN else ""
        return f"{self.stitch} {self.kind} {self.depth}{more}".strip()


def named(name: str, first: int = 0) -> Headside | None:
    """The headside of a name such as "cloth fan 3" or "half scallop 3 with 6 pairs"; None for a footside.

    ValueError if it names none.
    """
    if name == FOOTSIDE:
        return None
    read = _NAME.fullmatch(name)
    if read is None:
        raise ValueError(f"{name!r} is no edging")
    stitch, kind, depth, pairs = read[1] or "", read[2] or read[3], int(read[4]), int(read[5] or POINTED)
    if depth not in depths(kind) or pairs not in pairs_of(kind):
        raise ValueError(f"{name!r} is no edging")
    return Headside(kind, stitch, depth, pairs, first)


def depths(kind: str) -> range:
    """The depths that a kind of headside may have."""
    return OPEN_DEPTHS if kind == GROUND_SCALLOP else DEPTHS


def pairs_of(kind: str) -> range:
    """The pairs that may pass at its valley."""
    return range(POINTED, POINTED + 1) if kind == FAN else range(POINTED + 1, MOST_AT_VALLEY + 1)


def fits_corner(side: int, headside: Headside) -> bool:
    """Whether whole fans fit along a side of half-size N with corner fans alike: N = 2t + 1 (mod h), t 1 at least.

    With t = 0 there would be no corner fan, and the fans beside the corner would meet.
    """
    last = 2 * headside.first + 1
    return headside.first >= 1 and last <= side and (side - last) % headside.depth == 0


def corner(side: int, headside: Headside) -> Headside | None:
    """The headside with the corner fan that suits a side of half-size N best: about as long as the others, and no
    deeper; None if whole fans do not fit."""
    depth = headside.depth
    fitting = [t for t in offsets(side, depth) if t <= depth]
    return replace(headside, first=min(fitting, key=lambda t: (abs(2 * t + 1 - depth), t))) if fitting else None


def offsets(side: int, depth: int) -> list[int]:
    """Every t at which fans of a depth fit along a side of half-size N, the smallest corner fan first."""
    return [t for t in range(1, (side + 1) // 2) if (side - 1 - 2 * t) % depth == 0]

"""Scallops: one block runs all along the edge, as deep as a fan between two valleys and narrow at each.

No valley has a pin of its own, and passives run beside the edge pair (Dillmont 1886, Encyclopedia of Needlework,
fig. 799, has six pairs at its narrowest).
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar, Self

from constraints.edgings.headside import MOST_AT_VALLEY, POINTED, Headside, turning
from constraints.stitches import CLOTH, HALF, STITCHES

if TYPE_CHECKING:
    from constraints.working.habits import Habits


@dataclass(frozen=True)
class Scallop(Headside):
    kind: ClassVar[str] = "scallop"
    stitches: ClassVar[tuple[str, ...]] = (CLOTH, HALF)
    usual_stitch: ClassVar[str] = HALF
    depths: ClassVar[range] = range(2, 7)
    at_valley: ClassVar[range] = range(POINTED + 1, MOST_AT_VALLEY + 1)
    unbroken: ClassVar[bool] = True
    at_corner: ClassVar[str] = "goes on round the corner"
    as_footside: ClassVar[str] = ""

    @classmethod
    def offered(cls) -> Iterator[Self]:
        return (cls(HALF, depth, pairs) for depth in cls.depths for pairs in (depth + 1, 2 * depth))

    @property
    def words(self) -> str:
        return f"headside, a scallop in {STITCHES[self.stitch].words} with {self.pairs} pairs at its narrowest"

    def told(self, habits: Habits, where: str) -> str:
        beside = "pair that never leaves it" if self.passives == 1 else "pairs that never leave it"
        return (
            f"{turning(where)}. It goes on from beginning to end; beside its edge pair run {self.passives} {beside}, "
            f"so that {self.pairs} pairs are in it at its narrowest."
        )

"""Fans: half diamonds in one block each, and between every two a pin in the valley.

The edge pair works in the fan, so that two pairs pass at the valley (a pointed fan).
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar, Self

from constraints.edgings.headside import POINTED, Headside, turning
from constraints.moves import spelled, times
from constraints.stitches import CLOTH, HALF, STITCHES
from constraints.working.habits import GROUND_MOVES

if TYPE_CHECKING:
    from constraints.working.habits import Habits


@dataclass(frozen=True)
class Fan(Headside):
    kind: ClassVar[str] = "fan"
    stitches: ClassVar[tuple[str, ...]] = (CLOTH, HALF)
    usual_stitch: ClassVar[str] = CLOTH
    depths: ClassVar[range] = range(2, 7)
    at_valley: ClassVar[range] = range(POINTED, POINTED + 1)
    unbroken: ClassVar[bool] = False
    at_corner: ClassVar[str] = "a fan across the corner"
    as_footside: ClassVar[str] = ""

    @classmethod
    def offered(cls) -> Iterator[Self]:
        return (cls(stitch, depth, POINTED) for stitch in cls.stitches for depth in cls.depths)

    @property
    def words(self) -> str:
        return f"headside of fans in {STITCHES[self.stitch].words}"

    def told(self, habits: Habits, where: str) -> str:
        edge = f"twist the edge pair {times(habits.edge)}" if habits.edge else "leave the edge pair untwisted"
        return (
            f"{turning(where)}, a fan between every two valley pins. Valley pin: the two pairs that remain of the "
            f"fan, the edge pair one of them, {spelled(GROUND_MOVES[habits.ground])}; {edge}. "
            "The next fan begins with them."
        )

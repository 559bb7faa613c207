"""Ground scallops: the outline of scallops and no block.

The ground goes on to the edge, which is worked as a footside is and curves, and one spider stands in each scallop
(common practice, no source).
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar, Self

from constraints.edgings.headside import MOST_AT_VALLEY, POINTED, Headside
from constraints.fillings import FILLINGS, Unit

if TYPE_CHECKING:
    from constraints.working.habits import Habits

# From this depth on a scallop holds the larger of two spiders, of twelve legs.
_DEEP = 5


@dataclass(frozen=True)
class GroundScallop(Headside):
    kind: ClassVar[str] = "ground scallop"
    stitches: ClassVar[tuple[str, ...]] = ("",)
    usual_stitch: ClassVar[str] = ""
    # One of depth 2 has no room for a spider.
    depths: ClassVar[range] = range(3, 7)
    at_valley: ClassVar[range] = range(POINTED + 1, MOST_AT_VALLEY + 1)
    unbroken: ClassVar[bool] = False
    at_corner: ClassVar[str] = "a scallop of ground alone"
    as_footside: ClassVar[str] = "scalloped edge"

    @classmethod
    def offered(cls) -> Iterator[Self]:
        return (cls("", depth, pairs) for depth in cls.depths for pairs in (3, 4))

    @property
    def figure(self) -> Unit:
        return FILLINGS["spider"].units[int(self.depth >= _DEEP)]

    @property
    def _one(self) -> str:
        return FILLINGS[self.figure.filling].called(1, self.figure)

    @property
    def words(self) -> str:
        count = "1 passive" if self.passives == 1 else f"{self.passives} passives"
        return f"headside of ground scallops, a {self._one} in each and {count} along them"

    def told(self, habits: Habits, where: str) -> str:
        return (
            "Headside: the ground goes on to the edge, whose pins stand in scallops; in each of them a "
            f"{self._one}. Before a corner the scallop is ground alone."
        )

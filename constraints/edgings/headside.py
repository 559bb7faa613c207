"""What every headside answers. A kind of headside is one file; nobody else asks of which kind one is.

A headside is an edge that goes out and in between valleys. On the grid it is a row of half diamonds of depth h that
stand on the edge, a new one every 2h units: it takes h pairs in from the ground and gives h back. Lengths are lattice
units, half a pitch each.
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, ClassVar, Self, TypeVar

from constraints.fillings import Unit

if TYPE_CHECKING:
    from constraints.working.habits import Habits

H = TypeVar("H", bound="Headside")

# Pairs at a valley with a pin: the two that meet there. A headside with passives carries at least one more.
POINTED = 2
MOST_AT_VALLEY = 12


@dataclass(frozen=True)
class Headside(ABC):
    """A headside with its measures.

    stitch: of its blocks, "" without any. depth: h. pairs: f, all that pass at the valley, the edge pair among them.
    first: on a strip the row of a valley, on a rectangle that of the last one, from its middle; round a square or frame
    t, where the last valleys stand 2t + 1 units before each corner.

    Of each kind: kind, what it is called. stitches: those of its blocks, "" alone where it has none and the ground goes
    on to the edge, which is worked as a footside is; usual_stitch: where nothing tells it. depths, at_valley: those
    and the pairs that it may have. unbroken: whether one block runs all along the edge, its outer pins a unit outside
    it; else two valleys have pins of their own and something between them. at_corner: how it goes round a corner.
    as_footside: what its edge is called where it is worked as a footside is.
    """

    stitch: str
    depth: int
    pairs: int
    first: int = 0

    kind: ClassVar[str]
    stitches: ClassVar[tuple[str, ...]]
    usual_stitch: ClassVar[str]
    depths: ClassVar[range]
    at_valley: ClassVar[range]
    unbroken: ClassVar[bool]
    at_corner: ClassVar[str]
    as_footside: ClassVar[str]

    @classmethod
    @abstractmethod
    def offered(cls) -> Iterator[Self]:
        """Those that the catalogue lists."""

    @property
    @abstractmethod
    def words(self) -> str:
        """What lies along the edge: "headside of fans in cloth stitch"."""

    @abstractmethod
    def told(self, habits: Habits, where: str) -> str:
        """How it is worked, in the order of work. where: on which side of the piece."""

    @property
    def figure(self) -> Unit | None:
        """The figure that stands between every two valleys of one without blocks, its pinholes in the inner half."""
        return None

    @property
    def passives(self) -> int:
        """Pairs that run beside the edge pair all along."""
        return self.pairs - POINTED

    @property
    def solid(self) -> bool:
        """Whether it is worked as blocks."""
        return bool(self.stitch)

    @property
    def valley_pins(self) -> bool:
        """Whether blocks end at its valleys, and a pin stands between every two."""
        return self.solid and not self.unbroken

    @property
    def outside(self) -> int:
        """Units from the edge of the grid to its outer pins, before the curve."""
        return int(self.unbroken)

    @property
    def inwards(self) -> int:
        """Units from the edge to the middle of its figure."""
        return self.depth - (0 if self.figure is None else self.figure.size - 1)

    @property
    def period(self) -> int:
        """Units from valley to valley."""
        return 2 * self.depth

    @property
    def name(self) -> str:
        """As `named` reads it."""
        more = f" with {self.pairs} pairs" if self.tells_pairs() else ""
        return f"{self.stitch} {self.kind} {self.depth}{more}".strip()

    @classmethod
    def tells_pairs(cls) -> bool:
        """Whether its name tells its pairs, which may be several."""
        return len(cls.at_valley) > 1

    def block(self, turned: bool) -> str:
        """What one of its blocks is called. turned: whether it goes round a corner."""
        return f"corner {self.kind}" if turned and not self.unbroken else self.kind


def turning(where: str) -> str:
    """How the blocks of a headside are worked, to be followed by more."""
    turns = "a block along the edge whose worker turns round a pin at the outer side in every row"
    return f"Headside, on the {where}: {turns}"


def fits_corner(side: int, headside: Headside) -> bool:
    """Whether whole fans fit along a side of half-size N with corner fans alike: N = 2t + 1 (mod h), t 1 at least.

    With t = 0 there would be no corner fan, and the fans beside the corner would meet.
    """
    last = 2 * headside.first + 1
    return headside.first >= 1 and last <= side and (side - last) % headside.depth == 0


def along_side(side: int, headside: H) -> H | None:
    """The headside along the sides of what is worked across, of half-height N, its first and last valleys at the
    outermost edge pins; None if whole fans do not fit: N is one more than a multiple of h."""
    return replace(headside, first=side - 1) if side > 1 and (side - 1) % headside.depth == 0 else None


def corner(side: int, headside: H) -> H | None:
    """The headside with the corner fan that suits a side of half-size N best: about as long as the others, and no
    deeper; None if whole fans do not fit."""
    depth = headside.depth
    fitting = [t for t in offsets(side, depth) if t <= depth]
    return replace(headside, first=min(fitting, key=lambda t: (abs(2 * t + 1 - depth), t))) if fitting else None


def offsets(side: int, depth: int) -> list[int]:
    """Every t at which fans of a depth fit along a side of half-size N, the smallest corner fan first."""
    return [t for t in range(1, (side + 1) // 2) if (side - 1 - 2 * t) % depth == 0]

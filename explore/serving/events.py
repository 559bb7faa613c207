"""What is told of a search while it runs. Values alone: whoever shows them has the words."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from constraints.brief import Brief
from constraints.design import Design


class End(Enum):
    """How a search ended."""

    ENOUGH = "enough"  # as many squares as were asked for
    FEWER = "fewer"  # fewer than asked for, in the effort given: nothing is proven
    NONE = "none"  # none in the effort given
    IMPOSSIBLE = "impossible"  # none, proven
    CANCELLED = "cancelled"  # nobody waited for it any more
    FAILED = "failed"  # a defect of the program, or no room on the machine


@dataclass(frozen=True)
class PlacesLaid:
    """The stamp is blocked at so many places, of so many."""

    places: int
    of: int


@dataclass(frozen=True)
class Found:
    """A square, checked and numbered. job: the one it came from."""

    job: int
    design: Design


@dataclass(frozen=True)
class InVain:
    """A job that came to nothing, and why."""

    job: int
    why: str


@dataclass(frozen=True)
class Ended:
    """The last event of every search. found: squares. why: of the last job in vain, or what is proven, or what failed.
    near: briefs that ask for as much as was reached."""

    end: End
    found: int
    why: str = ""
    near: tuple[Brief, ...] = ()


Event = PlacesLaid | Found | InVain | Ended

"""The hand on which she has the footside, and sides of a piece as she then sees them."""

from __future__ import annotations

from collections.abc import Callable

FOOTSIDE_LEFT, FOOTSIDE_RIGHT = "left", "right"
# The sides of the quarters, by their zones.
QUARTERS = ("left", "bottom", "right", "top")

# Takes a side of a piece with the footside on the left; gives it as she sees it.
Side = Callable[[str], str]
_OTHER = {"left": "right", "right": "left"}


def swapped(side: str) -> str:
    """The other side where left and right change places; top and bottom stay."""
    return _OTHER.get(side, side)


def sides(footside: str) -> Side:
    """How sides are told to one who has the footside on that hand."""
    return swapped if footside == FOOTSIDE_RIGHT else str


def corner(start: str, side: Side) -> str:
    """The corner at which a start line begins, such as "top-left", as she sees it."""
    return "-".join(map(side, start.split("-")))

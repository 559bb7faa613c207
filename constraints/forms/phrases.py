"""How work is told that goes from one edge to the other."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Phrases:
    """way: "worked down". first, last: the edges where it begins and ends. top: the same, where an edge is understood.
    above: over what the first pairs are hung, "pin of the top edge".
    """

    way: str
    first: str
    top: str
    above: str
    last: str


ACROSS_PHRASES = Phrases(
    way="across", first="the top edge", top="the top", above="pin of the top edge", last="at the bottom edge"
)

"""How blocks cross corner lines, in words."""

from __future__ import annotations

# In two halves that meet at pins on the line; only as trails, which swing over it; or not at all.
HALVES, SWUNG, CLEAR = "halves", "swung", "clear"
CORNERS = (HALVES, SWUNG, CLEAR)

# A trail swings over a line about one inner pin with so many pairs side by side at the most, and in slanting rows with
# so many (by eye, in drawings of the threads).
SWINGING, SLANTING = 2, 5


def looser(corners: str) -> tuple[str, ...]:
    """The ways of crossing that allow more than this one, the one that allows least more first."""
    return CORNERS[: CORNERS.index(corners)][::-1] if corners else ()

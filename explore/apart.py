"""Keeping squares apart: two squares of a study have a least difference."""

from __future__ import annotations

from collections.abc import Sequence

from constraints.brief import Brief
from constraints.difference import Shown
from constraints.square import Square


class Collection:
    """The squares of a study so far."""

    def __init__(self, brief: Brief, kept: Sequence[Square]) -> None:
        self._least = brief.apart
        self._held = [Shown.of(each) for each in kept]

    def takes(self, candidate: Square) -> bool:
        """Whether the square differs enough from all before it; if so it is one of them from now on."""
        own = Shown.of(candidate)
        if any(own.difference(other) < self._least for other in self._held):
            return False
        self._held.append(own)
        return True

"""Keeping squares apart: any two of a collection have a least difference."""

from __future__ import annotations

from collections.abc import Sequence

from constraints.design import Design
from constraints.difference import Compared


class Collection:
    """Squares of which no two differ less than by `least`, a share of their pinholes. designs: as they came."""

    def __init__(self, least: float, kept: Sequence[Design] = ()) -> None:
        self._least = least
        self._held = [Compared.of(each) for each in kept]
        self.designs = list(kept)

    def like(self, candidate: Design) -> Design | None:
        """The first of them from which the square differs too little; None if it differs enough from all."""
        return self._like(Compared.of(candidate))

    def takes(self, candidate: Design) -> bool:
        """Whether the square differs enough from all before it; if so it is one of them from now on."""
        own = Compared.of(candidate)
        if self._like(own) is not None:
            return False
        self._held.append(own)
        self.designs.append(candidate)
        return True

    def _like(self, own: Compared) -> Design | None:
        pairs = zip(self.designs, self._held, strict=True)
        return next((design for design, held in pairs if own.difference(held) < self._least), None)

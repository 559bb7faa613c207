"""The door of `stamp`: a print laid alone, at every size and turn of a brief."""

from __future__ import annotations

from contextlib import closing
from dataclasses import dataclass

from constraints.brief import Brief
from constraints.stamp import Stamp
from explore.mending.briefs import BriefDoor
from explore.search.laying.falls import falls


@dataclass(frozen=True)
class Falling(BriefDoor):
    """Whether a size shows the stamp at all. cores: how many work."""

    stamp: Stamp
    cores: int | None

    def allows(self, brief: Brief) -> bool:
        """Every brief may."""
        return True

    def finds(self, brief: Brief) -> bool:
        """Whether a size and turn is found that shows something of it."""
        with closing(falls(self.stamp, brief, self.cores)) as found:
            return any(fall.match > 0 for fall in found)

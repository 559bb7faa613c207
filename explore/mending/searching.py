"""The doors of `explore` and of `stamp`: a brief searched as the command does it, but not for long."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import closing
from dataclasses import dataclass
from itertools import islice

from constraints.brief import Brief
from constraints.stamp import Stamp
from explore.mending.briefs import BriefDoor
from explore.mending.changes import offers
from explore.mending.trying import MendOffer
from explore.search import search as searching
from explore.search import workshops
from explore.search.laying.falls import KEYS, falls
from explore.search.sizing import SIZING
from explore.search.workers import Hands

# So many jobs of each change are waited for.
_JOBS = 10


@dataclass(frozen=True)
class Exploring(BriefDoor):
    """Whether a square is found for a brief. cores: how many work."""

    stamps: tuple[Stamp, ...]
    cores: Hands

    def allows(self, brief: Brief) -> bool:
        """Whether the brief has a size, and its stamp a place."""
        if SIZING[brief.piece.form].conflict(brief):
            return False
        return not self.stamps or workshops.workshop(brief, *self.stamps).has_place()

    def finds(self, brief: Brief) -> bool:
        """Whether a square is found among the first few jobs."""
        try:
            with closing(searching.search(brief, *self.stamps, count=1, cores=self.cores, hasty=True)) as steps:
                return any(step.design is not None for step in islice(steps, _JOBS))
        except searching.Impossible:
            return False


@dataclass(frozen=True)
class Falling(BriefDoor):
    """Whether a size shows the stamp at all. cores: how many work."""

    stamp: Stamp
    cores: Hands

    def finds(self, brief: Brief) -> bool:
        """Whether a size and turn is found that shows something of it."""
        with closing(falls(self.stamp, brief, self.cores)) as found:
            return any(fall.match > 0 for fall in found)

    def offers(self, brief: Brief) -> Iterator[MendOffer]:
        """Changes of what makes a difference to it."""
        return (each for each in offers(brief, (), False) if each.options.keys() <= KEYS)

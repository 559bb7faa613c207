"""The door of `budget`: whether the row of the most pairs has designs."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import ClassVar

from constraints.brief import Brief
from constraints.stamp import Stamp
from explore.bad_input import BadInput
from explore.editing.budget.survey import Fallen, has_pieces
from explore.editing.plain import ONE_WAY, refuse_several_ways
from explore.mending.briefs import BriefDoor
from explore.mending.trying import Options
from explore.search.sizing import SIZING


@dataclass(frozen=True)
class Budgeting(BriefDoor):
    """Designs of a budget, made as its survey makes them."""

    stamps: tuple[Stamp, ...]
    _fallen: Fallen = field(default_factory=dict, compare=False, repr=False)

    usual: ClassVar[Options] = ONE_WAY

    def allows(self, brief: Brief) -> bool:
        """Whether the pairs allow a size."""
        try:
            refuse_several_ways("budget", brief.piece)
        except BadInput:
            return False
        return SIZING[brief.piece.form].conflict(brief) is None

    def finds(self, brief: Brief) -> bool:
        """Whether the sample of the largest size holds a design."""
        return has_pieces(brief, self.stamps, self._fallen)

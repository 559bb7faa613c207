"""The door of `budget`: whether the row of the most pairs has squares."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from constraints.brief import Brief
from constraints.explain import size_conflict
from constraints.stamp import Stamp
from explore.bad_input import BadInput
from explore.editing.budget.survey import has_squares
from explore.editing.plain import ONE_WAY, refuse_unless_plain
from explore.mending.briefs import BriefDoor
from explore.mending.trying import Options


@dataclass(frozen=True)
class Budgeting(BriefDoor):
    """Squares of a budget, made as its survey makes them."""

    stamp: Stamp | None

    usual: ClassVar[Options] = ONE_WAY

    def allows(self, brief: Brief) -> bool:
        """Whether the pairs allow a size."""
        try:
            refuse_unless_plain("budget", brief.piece, symmetries=True)
        except BadInput:
            return False
        return size_conflict(brief) is None

    def finds(self, brief: Brief) -> bool:
        """Whether the sample of the largest half-size holds a square."""
        return has_squares(brief, self.stamp)

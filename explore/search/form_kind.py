"""Pieces of one form and one symmetry on which a stamp is laid and a composition drawn."""

from __future__ import annotations

from abc import ABC, abstractmethod
from dataclasses import dataclass, field
from functools import cached_property
from typing import Generic, TypeVar

import numpy as np

from constraints.brief import Brief
from constraints.forms import Form
from constraints.stamp import Stamp
from explore.search.compose.canvas import Canvas
from explore.search.context import Context, context
from explore.search.laying.placement import Placement

_F = TypeVar("_F", bound=Form)


@dataclass(eq=False)
class FormKind(ABC, Generic[_F]):
    """Pieces of one form and one symmetry under a brief. stage: those of a later one are tried where the print is known
    on none of the earlier."""

    brief: Brief
    symmetry: str
    form: _F
    stage: int = field(default=0, kw_only=True)

    @abstractmethod
    def placements(self, stamp: Stamp) -> list[Placement]:
        """Every way to lay the stamp."""

    @abstractmethod
    def compose(self, canvas: Canvas, rng: np.random.Generator) -> tuple[str, Canvas]:
        """Lay parts round the stamp on a canvas; the name of what leads."""

    def choices(self, stamp: Stamp, least: float) -> list[Placement]:
        """Every way to lay one of several stamps. least: its smallest size, pitches."""
        return [each for each in self.placements(stamp) if each.size >= least]

    @property
    def pitch_mm(self) -> float:
        """The pitch of what is made."""
        return self.brief.piece.middle_pitch_mm

    @cached_property
    def context(self) -> Context:
        return context(self.form, self.brief.piece.worked, self.symmetry, self.brief.rules)

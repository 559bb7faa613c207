"""Jobs of strips: one kind for every repeat and symmetry that a brief allows."""

from __future__ import annotations

from typing import Any

import numpy as np

from constraints.brief import Brief
from constraints.forms import Strip
from constraints.stamp import Stamp
from explore.search.compose.canvas import Canvas
from explore.search.form_kind import FormKind
from explore.search.kinds import KindsWorkshop
from explore.search.laying.placement import Placement
from explore.search.strips.composing import compose, ornament
from explore.search.strips.laying import along, placements
from explore.search.strips.measures import forms_of, symmetries


class StripKind(FormKind[Strip]):
    """Strips of one repeat and one symmetry."""

    def placements(self, stamp: Stamp) -> list[Placement]:
        return placements(self.brief, stamp, self.context.piece, self.span)

    def choices(self, stamp: Stamp, least: float) -> list[Placement]:
        return along(self.brief, stamp, self.context.piece, self.span, least)

    def compose(self, canvas: Canvas, rng: np.random.Generator) -> tuple[str, Canvas]:
        return compose(canvas, rng, self.span, self.brief.rules.solid), canvas

    def ornament(self, canvas: Canvas, rng: np.random.Generator) -> None:
        """Lay one more part of those that lead in a composition, if one finds room."""
        ornament(canvas, rng, self.span)

    @property
    def span(self) -> tuple[int, int]:
        """The first and the last column in which a block may lie all along the strip."""
        headside = self.form.headside
        fan = 0 if headside is None else headside.depth + 1
        margin = self.brief.rules.margin
        left = fan if self.form.both else margin
        return max(left, margin), self.form.columns - 1 - max(fan, margin)


class StripWorkshop(KindsWorkshop):
    """Strips of every repeat and symmetry that the brief allows."""

    def every_kind(self) -> list[FormKind[Any]]:
        return kinds(self.brief)


def kinds(brief: Brief) -> list[FormKind[Any]]:
    """One for every repeat and symmetry that a brief allows."""
    return [StripKind(brief, name, form) for form in forms_of(brief) for name in symmetries(brief, form)]

"""Jobs of frames and rectangles: one kind for every size and symmetry that a brief allows."""

from __future__ import annotations

from typing import Any

import numpy as np

from constraints.brief import Brief
from constraints.forms import Oblong
from constraints.stamp import Stamp
from explore.search.compose.canvas import Canvas
from explore.search.form_kind import FormKind
from explore.search.frames.composing import compose, ornament
from explore.search.frames.laying import placements
from explore.search.frames.measures import MOST_FREER, forms_of, further, symmetries
from explore.search.frames.sides import Sides, sides_of
from explore.search.kinds import KindsWorkshop
from explore.search.laying.placement import Placement

_TRIES = 4


class FrameKind(FormKind[Oblong]):
    """Frames or rectangles of one size and one symmetry."""

    @property
    def _sides(self) -> Sides:
        return sides_of(self.form, self.brief.rules.margin)

    def placements(self, stamp: Stamp) -> list[Placement]:
        return placements(self.brief, stamp, self.context.piece, self._sides)

    def compose(self, canvas: Canvas, rng: np.random.Generator) -> tuple[str, Canvas]:
        """The first composition that is solid enough, or the most solid one: what is missing the solver would put
        anywhere."""
        best: tuple[str, Canvas] | None = None
        for _ in range(_TRIES):
            tried = canvas.copied()
            name = compose(tried, rng, self._sides, self.brief.rules.solid)
            if best is None or tried.solid > best[1].solid:
                best = name, tried
            if tried.solid >= self.brief.rules.solid[0]:
                break
        assert best is not None
        return best

    def ornament(self, canvas: Canvas, rng: np.random.Generator) -> None:
        """Lay one more part of those that lead in a composition, if one finds room."""
        ornament(canvas, rng, self._sides)


class FrameWorkshop(KindsWorkshop):
    """Frames or rectangles of every size and symmetry that the brief allows."""

    def every_kind(self) -> list[FormKind[Any]]:
        return kinds(self.brief)


def kinds(brief: Brief) -> list[FormKind[Any]]:
    """One for every size and symmetry that a brief allows. Where she leaves them open, the usual size and the fullest
    symmetry come first: of rectangles every symmetry of a size before the next one, of frames, on which freer ones are
    for prints without a mirror alone, every size of a symmetry."""
    usual = forms_of(brief)
    steps = [usual, *([form] for form in (further(brief) if brief.stamps else ()))]
    found = []
    for step, forms in enumerate(steps):
        for form in forms:
            for freer, names in enumerate(symmetries(brief, form)):
                stage = freer * len(steps) + step if form.has_opening else step * MOST_FREER + freer
                found += [FrameKind(brief, name, form, stage=stage) for name in names]
    return sorted(found, key=lambda kind: kind.stage)

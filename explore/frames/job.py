"""Jobs of frames and rectangles: the bench of one form, and the forms of a brief."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from constraints.forms import Oblong
from constraints.piece import Piece
from constraints.stamp import Stamp
from explore.compose.canvas import Canvas
from explore.frames.composing import compose
from explore.frames.laying import berths
from explore.frames.measures import forms_of
from explore.frames.sides import Sides, sides_of
from explore.strips.job import FormBench, FormWorkshop
from explore.strips.laying import Berth

_TRIES = 4


@dataclass(eq=False)
class FrameBench(FormBench):
    """Frames or rectangles of one size and one symmetry."""

    outline: Oblong

    @property
    def form(self) -> Oblong:
        return self.outline

    @cached_property
    def piece(self) -> Piece:
        return self.outline.piece(self.brief.worked, self.symmetry)

    @property
    def _sides(self) -> Sides:
        return sides_of(self.outline, self.brief.margin)

    def berths(self, stamp: Stamp) -> list[Berth]:
        return berths(self.brief, stamp, self.piece, self._sides)

    def compose(self, canvas: Canvas, rng: np.random.Generator) -> tuple[str, Canvas]:
        """The first composition that is solid enough, or the most solid one: what is missing the solver would put
        anywhere."""
        best: tuple[str, Canvas] | None = None
        for _ in range(_TRIES):
            tried = Canvas(canvas.model, canvas.block, canvas.keep_off)
            name = compose(tried, rng, self._sides, self.brief.solid)
            if best is None or tried.solid > best[1].solid:
                best = name, tried
            if tried.solid >= self.brief.solid[0]:
                break
        assert best is not None
        return best


class FrameWorkshop(FormWorkshop):
    """Frames or rectangles of every size that the brief allows."""

    def benches(self) -> list[FormBench]:
        return [FrameBench(self.brief, self.brief.symmetry, form) for form in forms_of(self.brief)]

"""Squares of one size, symmetry and way of working as a kind: where one of several stamps may lie, what goes round."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from constraints.brief import SPOTS, Brief
from constraints.forms import Square
from constraints.lattice import FloatArray
from constraints.piece import ROUND
from constraints.square_sizes import sizes, square_of
from constraints.stamp import Stamp, outlines
from constraints.symmetry import SUITS
from explore.search.compose.canvas import Canvas
from explore.search.compose.plans import PLANS
from explore.search.composing.manners import MANNERS
from explore.search.form_kind import FormKind
from explore.search.laying.placement import Placement
from explore.search.laying.sectors import TurnedSector
from explore.search.laying.spots import spots
from explore.search.squares.composing import composed
from explore.search.squares.placing import Placing
from explore.search.squares.suited import settled
from explore.search.squares.suiting import lines_crossed

# Sizes tried, as multiples of the one from which a print is known; of each so many middles in a sector, as shares of
# the way from the centre outwards.
_SIZES, _MIDDLES = (1.0, 1.15, 1.35, 1.6), (0.0, 0.3, 0.6, 0.85, 1.0)


@dataclass(eq=False)
class SquareKind(FormKind[Square]):
    """placing: the size without a stamp."""

    placing: Placing

    @property
    def pitch_mm(self) -> float:
        return self.placing.size.pitch_mm

    def placements(self, stamp: Stamp) -> list[Placement]:
        return self.choices(stamp, 0.0)

    def choices(self, stamp: Stamp, least: float) -> list[Placement]:
        own = Placing(self.brief, stamp, self.placing.size)
        found = []
        for turned in own.sectors:
            for size in self._sizes(own, least):
                for middle in self._middles(own, turned, size):
                    rings = outlines(stamp.placed(size, turned.turn, (float(middle[0]), float(middle[1]))))
                    found.append(Placement(stamp.name, size, turned.turn, rings))
        return found

    def _sizes(self, own: Placing, least: float) -> list[float]:
        if self.brief.stamp.size is not None:
            return [float(size) for size in own.sizes]
        first = max(least, own.sizes[0]) if len(own.sizes) else least
        wanted = {float(round(first * each)) for each in _SIZES}
        return sorted(size for size in wanted if size <= max(own.sizes, default=0.0))

    def _middles(self, own: Placing, turned: TurnedSector, size: float) -> Iterator[FloatArray]:
        """Centres at which a print of that size lies in a sector: at its spot if it has one, over no corner line or as
        many as it must."""
        centres = turned.centres(size, own.reach)
        spot = self.brief.stamp.spot
        if spot != SUITS:
            centres = centres[spots(centres, self.form) == SPOTS.index(spot)]
        if not len(centres):
            return
        if self.brief.piece.worked == ROUND:
            crossed = lines_crossed(turned.hull * size, centres)
            centres = centres[crossed == crossed.min()]
        far = np.abs(centres).max(axis=1) + np.abs(centres).min(axis=1)
        order = np.lexsort((centres[:, 0], centres[:, 1], far))
        for place in dict.fromkeys(int(share * (len(order) - 1)) for share in _MIDDLES):
            yield centres[order[place]]

    def compose(self, canvas: Canvas, rng: np.random.Generator) -> tuple[str, Canvas]:
        return composed(self.placing, canvas.copied, int(rng.integers(len(PLANS) * len(MANNERS))), rng)


def kinds(brief: Brief) -> list[FormKind[Square]]:
    """One for every size, symmetry and way of working that a brief with stamps allows."""
    found: list[FormKind[Square]] = []
    for each in settled(brief, True):
        for size in sizes(each):
            form = square_of(each.piece, size.half_size)
            if form is not None:
                found.append(SquareKind(each, each.piece.symmetry, form, Placing(each, None, size)))
    return found

"""Steps of pairs outside the blocks, many at once: from pinhole to pinhole, to somewhere else, to a figure's pin."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from constraints.lattice import BoolArray, FloatArray, IntArray


@dataclass(frozen=True, eq=False)
class Steps:
    """Neighbour steps. first, last: (m,) the pinholes at both ends; step: (m,) DOWN_RIGHT or DOWN_LEFT."""

    first: IntArray
    last: IntArray
    step: IntArray

    def __len__(self) -> int:
        return len(self.first)

    def where(self, mask: BoolArray) -> Steps:
        return Steps(self.first[mask], self.last[mask], self.step[mask])


@dataclass(frozen=True, eq=False)
class Tips:
    """Pairs that leave a pinhole for somewhere else than the neighbour.

    pin: (k,) the pinhole; step: (k,) the one of lattice.STEPS that the pair would take otherwise;
    towards: (k, 2) where it goes.
    """

    pin: IntArray
    step: IntArray
    towards: FloatArray

    def where(self, mask: BoolArray) -> Tips:
        return Tips(self.pin[mask], self.step[mask], self.towards[mask])


@dataclass(frozen=True, eq=False)
class Legs:
    """The legs of figures with one pin.

    tips: from a ring pinhole to the centre. figure: (k,) the number of the figure. size: (k,) pinholes along its side.
    start: (k, 2) where the leg is first seen: the ring pinhole, or a cross-over between.
    """

    tips: Tips
    start: FloatArray
    figure: IntArray
    size: IntArray

    @property
    def lines(self) -> FloatArray:
        """(k, 2, 2) from the start to the centre."""
        return np.stack([self.start, self.tips.towards], axis=1)

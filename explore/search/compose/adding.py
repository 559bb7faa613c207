"""What may be laid beside blocks that stay: the parts of one form, for pieces that are made from another one."""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from constraints.lattice import IntArray
from explore.search.compose.bays import fill_bays
from explore.search.compose.canvas import Canvas
from explore.search.compose.ornaments import Proportions
from explore.search.compose.parts import Random

# A part, laid on a canvas in a manner where it finds room.
Part = Callable[[Canvas, Random, Proportions], object]


class Ornament(ABC):
    """The parts of one form."""

    @abstractmethod
    def border(self, canvas: Canvas, out: Sequence[IntArray], rng: Random, manner: Proportions) -> None:
        """What runs along the edge, if there is none and one is wanted. out: the parts that were taken out."""

    @abstractmethod
    def parts(self, canvas: Canvas, turn: int, turns: int, rng: Random) -> list[Part]:
        """Those to try, in their order; the first of them by turns, so many of which have the same manner."""

    @abstractmethod
    def fill(self, canvas: Canvas, rng: Random, manner: Proportions, least: float) -> None:
        """More until the piece is so solid, or nothing more fits."""


@dataclass(frozen=True)
class InBays(Ornament):
    """Of a form that is composed in schemes: one of them where it finds room, and diamonds in the bays. scheme: lays
    one."""

    scheme: Callable[[Canvas, Random], None]

    def border(self, canvas: Canvas, out: Sequence[IntArray], rng: Random, manner: Proportions) -> None:
        """Trails along the edges are schemes of their own."""

    def parts(self, canvas: Canvas, turn: int, turns: int, rng: Random) -> list[Part]:
        return [self._scheme, self._bays] if turn % 2 else [self._bays, self._scheme]

    def fill(self, canvas: Canvas, rng: Random, manner: Proportions, least: float) -> None:
        fill_bays(canvas, rng, (least, least))

    def _scheme(self, canvas: Canvas, rng: Random, manner: Proportions) -> None:
        self.scheme(canvas, rng)

    def _bays(self, canvas: Canvas, rng: Random, manner: Proportions) -> None:
        if canvas.solid < manner.most_solid:
            fill_bays(canvas, rng, (canvas.solid, manner.most_solid))

"""The hands at one figure: what its filling is given to work it with, see `fillings.filling.Hands`."""

from __future__ import annotations

from typing import TYPE_CHECKING

from constraints.lattice import Place
from constraints.working.habits import Habits
from constraints.working.ledger import BODY

if TYPE_CHECKING:
    from constraints.working.pillow import Pillow


class FigureHands:
    """Works the figure at a node. filling: the number of its filling."""

    def __init__(self, pillow: Pillow, node: int, filling: int) -> None:
        self._pillow, self._ledger, self._filling = pillow, pillow.ledger, filling
        self._coming, self._going = pillow.arcs_of(node)

    @property
    def habits(self) -> Habits:
        """Hers."""
        return self._pillow.habits

    def pin(self, pinhole: int) -> None:
        """The two pairs that come to a pinhole are worked round its pin, as in the ground."""
        self._pillow.pinhole(pinhole, self._filling)

    def come(self) -> list[int]:
        """The segments that come into the figure, from left to right."""
        return self._pillow.take(self._coming)

    def go(self, segments: list[int]) -> None:
        """These go on, from left to right."""
        self._pillow.give(self._going, segments)

    def cross(self, left: int, right: int, moves: str, place: Place) -> tuple[int, int]:
        """Two segments cross in the figure's body."""
        return self._ledger.cross(left, right, moves, place, BODY, filling=self._filling)

    def twist(self, segment: int, twists: int) -> None:
        """A segment is twisted."""
        self._ledger.twist(segment, twists)

    def put_up(self, place: Place) -> None:
        """A pin after the crossing just made."""
        self._ledger.after_crossing(place)

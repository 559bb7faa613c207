"""Changes counted at the corners of a frame and at its turnovers, and how such counts are told."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

import numpy as np

from constraints.design import Design
from constraints.lattice import BoolArray
from constraints.piece import LEFT_QUARTER, RIGHT_QUARTER


class Where(Enum):
    """Where in a frame changes are counted."""

    WHOLE = "whole"
    CORNERS = "corners"
    TURNOVERS = "turnovers"


@dataclass(frozen=True)
class Count:
    """How many pinholes are worked otherwise than the strip has them. least: so many must be, as is proven."""

    changed: int
    least: int

    def __add__(self, other: Count) -> Count:
        return Count(self.changed + other.changed, self.least + other.least)

    def times(self, parts: int) -> Count:
        """Of so many that are all alike."""
        return Count(self.changed * parts, self.least * parts)

    def each(self, parts: int) -> Count:
        """Of one of so many that are all alike."""
        return Count(self.changed // parts, -(-self.least // parts))

    @property
    def proven(self) -> bool:
        """Whether none can do with fewer."""
        return self.least == self.changed

    @property
    def told(self) -> str:
        """The count; where fewer might do, also how many are needed at least."""
        return f"{self.changed}" if self.proven else f"{self.changed} (at least {self.least})"


def places_of(frame: Design, where: Where) -> BoolArray:
    """(n,) which pinholes lie there: at the corners what of each side is nearer to them than to its turnover."""
    form, piece = frame.form, frame.piece()
    if where is Where.WHOLE:
        return np.ones(len(piece), dtype=np.bool_)
    x, y = np.abs(piece.pinholes).T
    sideways = np.isin(piece.zone, (LEFT_QUARTER, RIGHT_QUARTER))
    to_turnover = np.where(sideways, y, x)
    # A corner reaches from the outer corner to the inner one.
    to_corner = np.where(sideways, form.box[3], form.box[2]) - to_turnover - form.deep
    corners: BoolArray = to_corner < to_turnover
    return corners if where is Where.CORNERS else ~corners

"""The workshops of the search, by the form of a brief. One table."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from constraints.brief import Brief
from constraints.forms import OBLONGS, Square, Strip
from constraints.stamp import Stamp
from explore.search.frames.workshop import FrameWorkshop
from explore.search.squares.workshop import SquareWorkshop
from explore.search.strips.workshop import StripWorkshop
from explore.search.workshop import Workshop

WORKSHOPS: dict[str, Callable[[Brief, Stamp | None], Workshop[Any]]] = {
    Square.name: SquareWorkshop,
    Strip.name: StripWorkshop,
    **dict.fromkeys(OBLONGS, FrameWorkshop),
}


def workshop(brief: Brief, stamp: Stamp | None) -> Workshop[Any]:
    """What the jobs of a brief share."""
    return WORKSHOPS[brief.piece.form](brief, stamp)

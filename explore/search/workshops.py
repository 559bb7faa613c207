"""The workshops of the search, by the form of a brief. One table."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from constraints.brief import Brief
from constraints.forms import OBLONGS, Square, Strip
from constraints.stamp import Stamp
from constraints.symmetry import SUITS
from explore.search.compose.adding import InBays, Ornament
from explore.search.frames.workshop import FrameKind, FrameWorkshop
from explore.search.several import SeveralWorkshop
from explore.search.squares.adding import AboutCentre
from explore.search.squares.workshop import SquareWorkshop
from explore.search.strips.workshop import StripKind, StripWorkshop
from explore.search.workshop import Workshop

WORKSHOPS: dict[str, Callable[[Brief, tuple[Stamp, ...]], Workshop[Any]]] = {
    Square.name: SquareWorkshop,
    Strip.name: StripWorkshop,
    **dict.fromkeys(OBLONGS, FrameWorkshop),
}

# What may be laid on a piece of each form beside blocks that stay.
ORNAMENTS: dict[str, Callable[[Brief, Any], Ornament]] = {
    Square.name: lambda brief, form: AboutCentre(),
    Strip.name: lambda brief, form: InBays(StripKind(brief, brief.piece.symmetry, form).ornament),
    **dict.fromkeys(OBLONGS, lambda brief, form: InBays(FrameKind(brief, brief.piece.symmetry, form).ornament)),
}


def workshop(brief: Brief, *stamps: Stamp) -> Workshop[Any]:
    """What the jobs of a brief share."""
    if len(stamps) > 1 or any(each.spot != SUITS for each in brief.stamps):
        return SeveralWorkshop(brief, stamps)
    return WORKSHOPS[brief.piece.form](brief, stamps)

"""How a search goes about each form of a brief. One table."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from constraints.brief import Brief
from constraints.forms import OBLONGS, Square, Strip
from constraints.stamp import Stamp
from constraints.symmetry import SUITS
from explore.search.compose.adding import InBays, Ornament
from explore.search.form_kind import FormKind
from explore.search.frames import workshop as frames
from explore.search.several import SeveralWorkshop
from explore.search.squares import kind as squares
from explore.search.squares.adding import AboutCentre
from explore.search.squares.workshop import SquareWorkshop
from explore.search.strips import workshop as strips
from explore.search.workshop import LayingWorkshop


@dataclass(frozen=True)
class FormSearch:
    """alone: what the jobs share for one stamp or none. kinds: the pieces that a brief allows, for several. ornament:
    what may be laid on a piece of the form beside blocks that stay."""

    alone: Callable[[Brief, tuple[Stamp, ...]], LayingWorkshop[Any]]
    kinds: Callable[[Brief], list[FormKind[Any]]]
    ornament: Callable[[Brief, Any], Ornament]


_OBLONG = FormSearch(
    frames.FrameWorkshop,
    frames.kinds,
    lambda brief, form: InBays(frames.FrameKind(brief, brief.piece.symmetry, form).ornament),
)
WORKSHOPS: dict[str, FormSearch] = {
    Square.name: FormSearch(SquareWorkshop, squares.kinds, lambda brief, form: AboutCentre()),
    Strip.name: FormSearch(
        strips.StripWorkshop,
        strips.kinds,
        lambda brief, form: InBays(strips.StripKind(brief, brief.piece.symmetry, form).ornament),
    ),
    **dict.fromkeys(OBLONGS, _OBLONG),
}


def workshop(brief: Brief, *stamps: Stamp) -> LayingWorkshop[Any]:
    """What the jobs of a brief share."""
    form = WORKSHOPS[brief.piece.form]
    if len(stamps) > 1 or any(each.spot != SUITS for each in brief.stamps):
        return SeveralWorkshop(brief, stamps, form.kinds)
    return form.alone(brief, stamps)

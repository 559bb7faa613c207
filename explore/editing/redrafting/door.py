"""The door of `redraft`: whether a card can be read with other options."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from pathlib import Path

from constraints.edgings import EDGINGS, FOOTSIDE
from explore.bad_input import BadInput
from explore.editing.redrafting.body import SIDES
from explore.editing.redrafting.making import STAMP, RedraftRequest, try_out
from explore.editing.redrafting.redraft import CardRequest, Redraft, redraft
from explore.mending.trying import WITHOUT, Door, MendOffer, Options, quoted

# How great a change is: a headside that she left open or called otherwise, another side, no strip at all.
_OPEN, _KIND, _SIDE, _STAMP = 0.5, 1.0, 2.0, 3.0


@dataclass(frozen=True)
class Redrafting(Door):
    """card, asked: as she asked for them. made: the card as it was read so."""

    file: Path
    card: CardRequest
    made: Redraft
    asked: RedraftRequest

    def holds(self, options: Options) -> bool:
        """Whether it is read, and made into what she asked for."""
        kind = None if WITHOUT in options else options.get("headside", self.asked.working.kind)
        asked = replace(
            self.asked, use=options.get("as", self.asked.use), working=replace(self.asked.working, kind=kind)
        )
        try:
            card = replace(self.card, footside=options.get("footside", self.card.footside), headside=kind)
            try_out(self.made if card == self.card else redraft(self.file, card), asked)
        except BadInput:
            return False
        return True

    def offers(self) -> Iterator[MendOffer]:
        """Any headside or another one, where she named one; another footside of a picture; a stamp, not a strip."""
        kind = self.asked.working.kind
        if kind is not None:
            yield MendOffer({WITHOUT: f"--headside {quoted(kind)}"}, _OPEN)
            for other in (FOOTSIDE, *EDGINGS):
                if other != kind:
                    yield MendOffer({"headside": other}, _KIND, choice=True)
        if self.made.seat is not None:
            for side in SIDES:
                if side != self.made.seat.side:
                    yield MendOffer({"footside": side}, _SIDE, choice=True)
        if self.asked.use != STAMP:
            yield MendOffer({"as": STAMP}, _STAMP)

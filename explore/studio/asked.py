"""What a page asks about prints: which of them lie side by side, turned and placed how, and what she wishes."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any
from urllib.parse import urlencode

from constraints.brief import SPOTS
from constraints.symmetry import SUITS
from explore.asking.stamps import BETWEEN_STAMPS, MOST_STAMPS, stamp_names
from explore.bad_input import BadInput
from explore.studio import wishes
from explore.studio.prints import Prints


@dataclass(frozen=True)
class PrintsAsked:
    """references: of the prints, the page's own first. turn: of one alone, degrees clockwise. places: of each where it
    lies, one of SPOTS or SUITS. wished: flags of a brief, as the page has them. given: all that was sent."""

    references: tuple[str, ...]
    turn: float | None
    places: tuple[str, ...]
    wished: Mapping[str, str]
    given: Mapping[str, Any]

    def word(self, prints: Prints) -> str:
        """How a brief names them. Raises BadInput."""
        return BETWEEN_STAMPS.join(prints.word(each) for each in self.references)

    def flags(self, prints: Prints) -> dict[str, str]:
        """The wishes as flags of a brief, with the places. Raises BadInput."""
        if all(place == SUITS for place in self.places):
            return dict(self.wished)
        if len(self.places) == 1:
            return {**self.wished, "place": self.places[0]}
        names = stamp_names([prints.word(each) for each in self.references])
        told = [f"{name}={place}" for name, place in zip(names, self.places, strict=True) if place != SUITS]
        return {**self.wished, "place": ",".join(told)}

    def told(self) -> dict[str, Any]:
        """The same as a page sends it."""
        first, *others = self.references
        return {
            "of": first,
            "turn": self.turn,
            "beside": others,
            "places": list(self.places),
            "flags": dict(self.wished),
        }

    def address(self) -> str:
        """The page of the print with these wishes."""
        first, *others = self.references
        turn = [] if self.turn is None else [("turn", f"{self.turn:g}")]
        beside = [("beside", each) for each in others]
        places = [("place", each) for each in self.places] if set(self.places) != {SUITS} else []
        return "/print?" + urlencode([("of", first), *turn, *beside, *places, *self.wished.items()])


def prints_asked(given: Mapping[str, Any]) -> PrintsAsked:
    """What was sent, read. Raises BadInput."""
    turn = given.get("turn")
    if turn is not None and (not isinstance(turn, int | float) or isinstance(turn, bool) or not -360 <= turn <= 360):
        raise BadInput("a turn has from -360 to 360 degrees")
    beside, places = given.get("beside", []), given.get("places", [])
    if not isinstance(beside, list) or not all(isinstance(each, str) for each in beside):
        raise BadInput("prints are named by words")
    if len(beside) >= MOST_STAMPS:
        raise BadInput(f"at most {MOST_STAMPS} prints lie in one piece")
    if beside and turn is not None:
        raise BadInput("one print can be turned, not several; turn their pictures")
    if not isinstance(places, list) or any(each not in (*SPOTS, SUITS) for each in places):
        raise BadInput(f"a print lies at one of {', '.join(SPOTS)}, or where it suits")
    every = (str(given.get("of", "")), *beside)
    wanted = (*places, *[SUITS] * len(every))[: len(every)]
    wished = wishes.flags_of(given.get("flags", {}))
    return PrintsAsked(every, None if turn is None else float(turn), wanted, wished, given)

"""The doors of `fit`: whether a piece fits with other options, and whether another way can be made."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from constraints.catalogue import MOST_GROWTH
from constraints.fitting import Lengths
from explore.asking import read_option
from explore.asking.keys import PITCHES_MM
from explore.bad_input import BadInput
from explore.editing.fitting import EASE, PITCH
from explore.editing.fitting.fits import Fit, Fitting, NoFittingFrame
from explore.editing.fitting.variants import ANY_EDGING, Allowed, named_edgings
from explore.mending.trying import Door, MendOffer, Options

# How great a change is: another pitch, and one that makes it half as large again; another edging; a column wider;
# a tenth of the object farther off.
_PITCH, _RATIO, _EDGING, _WIDER, _EASE = 0.5, 5.0, 2.0, 0.5, 2.0
# Of pitches those are looked at that are so many times hers.
_WITHIN = ((0.8, 1.25), (0.5, 2.0))
_WIDER_BY = (1, 2, 4, 7, 14)


@dataclass(frozen=True)
class OtherwiseFitted(Door):
    """fitting: as she asked for it. ease: mm that it may be off."""

    fitting: Fitting
    ease: float

    def holds(self, options: Options) -> bool:
        """Whether a way fits."""
        other, ease = self._asked(options)
        try:
            return any(fit.sized.error <= ease for fit in other.fits(ease))
        except BadInput:  # a piece that keeps its edge
            return False

    def offers(self, nearest: float) -> Iterator[MendOffer]:
        """Another pitch at which it fits, any edging, a wider band, and as far off as what comes nearest.

        nearest: mm that the nearest way is off, inf if there is none.
        """
        wider = (by for by in _WIDER_BY if self.fitting.change.wider < by <= MOST_GROWTH)
        found = [MendOffer({"edging": ANY_EDGING}, _EDGING)]
        found += [MendOffer({"wider": str(by)}, _WIDER * by) for by in wider]
        own = self.fitting.chosen.design.pitch_mm
        for low, high in _WITHIN:
            span: Lengths = (max(PITCHES_MM[0], low * own), min(PITCHES_MM[1], high * own))
            sized = self.fitting.otherwise(span, Allowed()).nearest()
            if sized is not None and sized.error <= self.ease:
                # So many digits that it still fits.
                texts = (f"{sized.pitch_mm:.{digits}f}" for digits in range(4))
                for text in dict.fromkeys(texts):
                    found.append(MendOffer({"pitch": f"{text}mm"}, _pitch_size(own, float(text)), choice=True))
                break
        if nearest <= EASE.most:
            ease = math.ceil(nearest)
            found.append(MendOffer({"ease": f"{ease}mm"}, _EASE * 10 * ease / min(self.fitting.target)))
        yield from sorted(found, key=lambda each: each.size)

    def _asked(self, options: Options) -> tuple[Fitting, float]:
        fitting, change = self.fitting, self.fitting.change
        pitch = read_option("--pitch", options["pitch"], PITCH) if "pitch" in options else fitting.pitch_mm
        edgings = named_edgings(options["edging"], "--edging") if "edging" in options else change.edgings
        other = fitting.otherwise(pitch, Allowed(edgings, int(options.get("wider", change.wider))))
        return other, read_option("--ease", options["ease"], EASE) if "ease" in options else self.ease


def _pitch_size(own: float, pitch: float) -> float:
    return _PITCH + _RATIO * abs(math.log(pitch / own))


@dataclass(frozen=True)
class OtherFits(Door):
    """fits: the ways in the order of their numbers."""

    fitting: Fitting
    fits: Sequence[Fit]

    def holds(self, options: Options) -> bool:
        """Whether its frame can be made."""
        try:
            self.fitting.made(self.fits[int(options["apply"]) - 1])
        except NoFittingFrame:
            return False
        return True

    def offers(self, chosen: int) -> Iterator[MendOffer]:
        """The other ways, the next ones first."""
        for number in sorted(range(1, len(self.fits) + 1), key=lambda each: (abs(each - chosen), each)):
            if number != chosen:
                yield MendOffer({"apply": str(number)}, abs(number - chosen), choice=True)

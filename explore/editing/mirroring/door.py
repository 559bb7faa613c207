"""The door of `frame`: whether a frame, or a mat round it, is found with other options."""

from __future__ import annotations

import math
from collections.abc import Iterator
from contextlib import closing
from dataclasses import dataclass, replace
from itertools import islice

from constraints.symmetry import SYMMETRIES
from explore.bad_input import BadInput
from explore.editing.mirroring.centres import opening_of
from explore.editing.mirroring.filling import found_mats
from explore.editing.mirroring.making import Frames, NoFrame, Parts
from explore.mending.trying import Door, MendOffer, Options
from explore.search.search import Impossible

# So many jobs of each change are waited for.
_JOBS = 10
# So many other corners and turnovers are offered, and so many repeats more.
_OTHERS, _MORE = 8, 8
# How great a change is: repeats by their ratio, another corner or turnover, another symmetry.
_REPEATS, _PART, _SYMMETRY = 1.0, 1.5, 2.0


@dataclass(frozen=True)
class Framing(Door):
    """parts: as she asked for them. symmetry: of the middle, "" if it is not filled."""

    frames: Frames
    parts: Parts
    symmetry: str
    cores: int | None

    def opens(self, options: Options) -> bool:
        """Whether there is such a frame, square and with room if it is to be filled."""
        parts, symmetry = self._asked(options)
        try:
            form = self.frames.frame_of(parts)
            if form is None:
                return False
            if symmetry:
                opening_of(form)
        except BadInput:
            return False
        return True

    def holds(self, options: Options) -> bool:
        """Whether it is found, filled if that is asked: the same jobs in a longer run find it too."""
        parts, symmetry = self._asked(options)
        try:
            made = self.frames.framed(parts)
            if not symmetry:
                return True
            with closing(found_mats(made, 1, symmetry, self.cores, lambda done, total: None)) as mats:
                return any(mat is not None for mat in islice(mats, _JOBS))
        except (NoFrame, BadInput, Impossible):
            return False

    def offers(self) -> Iterator[MendOffer]:
        """Other repeats, as many across as down; other corners, turnovers and symmetries."""
        own, ran = self.parts.corner, self.frames.repeats(self.parts)
        # Where no size suits such a corner, the smallest is as near as any.
        across, down = ran[-1] if ran else (1, 1)
        found = []
        for each in range(max(across, down) + _MORE):
            if (each, each) not in ran:
                # As many both ways, of those that she has, is the smallest change.
                apart = abs(math.log((each + 0.5) / (across + 0.5))) + abs(math.log((each + 0.5) / (down + 0.5)))
                found.append(MendOffer({"repeats": str(each)}, _REPEATS * apart))
        for each in range(1, len(self.frames.corners) + 1):
            if 0 < abs(each - own) <= _OTHERS:
                found.append(MendOffer({"corner": str(each)}, _PART * abs(each - own), choice=True))
        for each in range(1, 1 + _OTHERS):
            if (each, each) != self.parts.turnovers:
                apart = max(abs(each - turnover) for turnover in self.parts.turnovers)
                found.append(MendOffer({"turnover": str(each)}, _PART * apart, choice=True))
        if self.symmetry:
            names = [each for each in SYMMETRIES if each != self.symmetry]
            for number, name in enumerate(names, 1):
                found.append(MendOffer({"symmetry": name}, _SYMMETRY * number, choice=True))
        yield from sorted(found, key=lambda each: each.size)

    def _asked(self, options: Options) -> tuple[Parts, str]:
        parts = self.parts
        if "corner" in options:
            parts = replace(parts, corner=int(options["corner"]))
        if "turnover" in options:
            parts = replace(parts, turnovers=(int(options["turnover"]),) * 2)
        if "repeats" in options:
            parts = replace(parts, repeats=(int(options["repeats"]),) * 2)
        return parts, options.get("symmetry", self.symmetry)

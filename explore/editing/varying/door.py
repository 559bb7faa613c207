"""The door of `vary`: whether a cousin, or a small step, is found with other options."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from constraints.brief import Brief
from constraints.design import Design
from constraints.stamp import Stamp
from explore.asking import NAMED, read_option
from explore.editing.varying import CHANGE, about
from explore.editing.varying.cousins import cousins
from explore.editing.varying.kept import kept
from explore.editing.varying.steps import steps
from explore.editing.varying.studio import Studio
from explore.mending.trying import WITHOUT, Door, MendOffer, Options
from explore.search.search import Impossible

# How great a change is: another draw, more time, another share by its factor, less that is kept.
_CHANCE, _TIME, _SHARE, _KEPT = 0.5, 2.0, 1.0, 1.5
_FACTORS = (1.5, 2.0, 3.0, 6.0)
_OF_BRIEF = {"seed", "effort"}


@dataclass(frozen=True)
class Varying(Door):
    """What she asked for. keep: each as she wrote it. change: the least and the greatest share. steps: small steps, for
    which these do not matter."""

    design: Design
    brief: Brief
    stamps: tuple[Stamp, ...]
    keep: Sequence[str]
    change: tuple[float, float]
    steps: bool
    cores: int | None

    def opens(self, options: Options) -> bool:
        """Whether enough is left to change."""
        studio = self._studio(options)
        return self.steps or studio.most >= studio.change[0]

    def holds(self, options: Options) -> bool:
        """Whether one is found."""
        studio = self._studio(options)
        if self.steps:
            return any(step.design is not None for step in steps(studio))
        brief = studio.brief.changed(count=1)
        try:
            every = cousins(
                self.design, brief, self.stamps, studio.kept, studio.change, first_number=2, count=1, cores=self.cores
            )
            return any(step.design is not None for step in every)
        except Impossible:
            return False

    def offers(self) -> Iterator[MendOffer]:
        """Other draws and more time, another share of changes, less kept."""
        keep = [f"--keep {each}" for each in dict.fromkeys(self.keep)]
        found = [MendOffer({WITHOUT: each}, _KEPT, choice=True) for each in keep]
        found += [MendOffer({WITHOUT: " ".join(keep)}, _KEPT * len(keep), choice=True)] if len(keep) > 1 else []
        if not self.steps:
            brief, (low, high) = self.brief, self.change
            found += [MendOffer({"seed": str(brief.run.seed + more)}, _CHANCE * more) for more in (1, 2)]
            found.append(MendOffer({"effort": f"{4 * brief.run.effort:g}"}, _TIME))
            found += [MendOffer({"change": text}, _SHARE * size) for text, size in self._shares(low, high)]
        yield from sorted(found, key=lambda each: each.size)

    def _studio(self, options: Options) -> Studio:
        left_out = {each.strip() for each in options.get(WITHOUT, "").split("--keep ")}
        keep = [each for each in self.keep if each not in left_out]
        own = [NAMED[name] for name in options.keys() & _OF_BRIEF]
        keys = {key.name: read_option(key.flag, options[key.name], key.kind) for key in own}
        change = about(read_option("--change", options["change"], CHANGE)) if "change" in options else self.change
        return Studio(self.design, self.brief.changed(**keys), self.stamps, kept(self.design, keep), change)

    def _shares(self, low: float, high: float) -> Iterator[tuple[str, float]]:
        """Smaller shares and wider ranges, as she writes them, each with its factor."""
        most = self._studio({}).most
        ranges = [(most / 2, most, low / max(most, 0.001))] if most < low else []
        ranges += [(low / factor, high, factor) for factor in _FACTORS]
        ranges += [(low / factor, high * factor, factor) for factor in _FACTORS]
        for least, greatest, factor in ranges:
            tenths = max(1, math.floor(1000 * least)), min(900, math.floor(1000 * greatest))
            if tenths[0] < tenths[1]:
                yield f"{tenths[0] / 10:g}-{tenths[1] / 10:g}%", factor

"""What is known of the piece that she chose, found once: its variants, and what the mirror makes of each."""

from __future__ import annotations

from collections.abc import Callable
from functools import cached_property

from constraints.design import Design
from constraints.materials import Materials, materials
from constraints.working.work import work
from explore.bad_input import BadInput
from explore.editing.fitting.variants import Allowed, Variant, variants
from explore.editing.mirroring.offers import Mirrored, Offers
from explore.storage.study import Study


class ChosenPiece:
    """A piece of a study. own: it as it is, the first of its variants."""

    def __init__(self, study: Study, design: Design) -> None:
        self.study, self.design = study, design
        self.own = Variant(design)
        self._variants: dict[Allowed, tuple[Variant, ...]] = {}
        self._mirrors: dict[Variant, Mirrored] = {}
        self._offers: dict[Variant, Offers] = {}

    def variants(self, change: Allowed) -> tuple[Variant, ...]:
        """The piece with what may be changed, the piece itself first. Refused if it keeps its edge."""
        if change not in self._variants:
            _, *others = variants(self.design, change.edgings, change.wider)
            self._variants[change] = (self.own, *others)
        return self._variants[change]

    def mirrored(self, variant: Variant) -> Mirrored:
        """A variant that is a strip, before the mirror."""
        if variant not in self._mirrors:
            self._mirrors[variant] = Mirrored(variant.piece, self.study.brief, None)
        return self._mirrors[variant]

    def offers(self, variant: Variant, watch: Callable[[], None] = lambda: None) -> Offers:
        """The corners of a strip and its turnovers, in the order of their numbers. Refused if the piece as it is has no
        corner. watch: told of every step."""
        if variant not in self._offers:
            offers = self.mirrored(variant).offers(lambda place, offer: watch())
            if not offers.corners and variant is self.own:
                raise BadInput(f"{self.design.number:02d} gives no corner that can be worked")
            self._offers[variant] = offers
        return self._offers[variant]

    @cached_property
    def takes(self) -> tuple[Materials, int]:
        """What the piece takes as it is, and its pinholes."""
        return materials(work(self.design)), len(self.design.piece())

"""The door of `series`: whether squares enough are found for a series with other options."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from constraints.design import Design
from explore.bad_input import BadInput
from explore.editing.series import FEWEST, pool
from explore.editing.series.family import SHARES, family
from explore.editing.series.order import ORDERS
from explore.mending.trying import Door, MendOffer, Options
from explore.storage.study import Study

# How great a change is: fewer squares by their share, another order, another family.
_FEWER, _ORDER, _SHARE = 1.0, 2.0, 3.0


@dataclass
class Hanging(Door):
    """What she asked for. found: how many squares a pool has, by order and share, of those that are known."""

    study: Study
    chosen: Sequence[Design]
    share: str
    order: str
    count: int
    cores: int | None
    found: dict[tuple[str, str], int] = field(default_factory=dict)

    def asked(self, options: Options) -> pool.SeriesRequest:
        """The same with other options. Refused if her squares are not of one such family, or the order does not go
        with it."""
        share, order = options.get("share", self.share), options.get("order", self.order)
        together, count = family(share, self.chosen), int(options.get("squares", self.count))
        study = self.study
        asked = pool.SeriesRequest(study.brief, study.stamps, study.designs, self.chosen, together, order, count)
        pool.variants(asked)
        return asked

    def opens(self, options: Options) -> bool:
        """Whether her squares are of the family, and it goes with the order."""
        try:
            self.asked(options)
        except BadInput:
            return False
        return True

    def holds(self, options: Options) -> bool:
        """Whether the pool has squares enough."""
        asked = self.asked(options)
        key = asked.family.share, asked.order
        if key not in self.found:
            self.found[key] = len(pool.gather(asked, self.cores))
        return self.found[key] >= asked.count

    def offers(self) -> Iterator[MendOffer]:
        """Fewer squares, as many as were found if any were; every other order; every other family."""
        found = self.found.get((self.share, self.order), 0)
        if FEWEST <= found < self.count:
            yield MendOffer({"squares": str(found)}, _FEWER * (1 - found / self.count))
        yield from (MendOffer({"order": order}, _ORDER, choice=True) for order in ORDERS if order != self.order)
        yield from (MendOffer({"share": share}, _SHARE, choice=True) for share in SHARES if share != self.share)

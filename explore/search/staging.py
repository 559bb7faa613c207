"""Kinds of pieces in the order in which a search tries them, each with the placements of the stamp on it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from constraints.brief import AskedStamp
from constraints.stamp import Stamp
from explore.search.laying.placement import Placement

if TYPE_CHECKING:
    from explore.search.form_kind import FormKind

# One placement is large from so much of the largest size on.
_LARGE = 0.85

# A placement on the kind of a number.
PlacedOn = tuple[int, Placement]


@dataclass(eq=False)
class Stages:
    """The numbers of kinds, stage by stage; of a stamp only those that give it room. Placements are worked out when
    they are asked for: most searches end with the first stage."""

    kinds: Sequence[FormKind[Any]]
    stamp: Stamp | None
    asked: AskedStamp
    _placed: dict[int, list[Placement]] = field(default_factory=dict)
    _ranked: dict[tuple[int, ...], list[list[PlacedOn]]] = field(default_factory=dict)

    def places(self, number: int) -> list[Placement]:
        """The placements of the stamp on the kind of this number; none without a stamp."""
        if number not in self._placed:
            self._placed[number] = [] if self.stamp is None else self.kinds[number].placements(self.stamp)
        return self._placed[number]

    def largest(self, numbers: Sequence[int]) -> float:
        """The largest size, pitches, at which the stamp lies on any of them; 0 if nowhere."""
        return max((placement.size for number in numbers for placement in self.places(number)), default=0.0)

    def __iter__(self) -> Iterator[list[int]]:
        for stage in sorted({kind.stage for kind in self.kinds}):
            numbers = [number for number in self._of(stage) if self.stamp is None or self._gives_room(number)]
            if numbers:
                yield numbers

    @property
    def first(self) -> list[int]:
        """Those of the first stage that has any."""
        return next(iter(self), [])

    @property
    def every(self) -> list[int]:
        """Those of all stages."""
        return [number for numbers in self for number in numbers]

    def beside(self, number: int) -> list[int]:
        """Those of the stage of one, itself among them, on which the stamp has a place."""
        return [each for each in self._of(self.kinds[number].stage) if self.stamp is None or self.places(each)]

    def ranks(self, numbers: Sequence[int]) -> list[list[PlacedOn]]:
        """Placements on kinds of these numbers: large and upright, upright, all others. Of sizes or turns that she
        named none comes before another."""
        own = tuple(numbers)
        if own not in self._ranked:
            self._ranked[own] = self._in_ranks([(number, each) for number in own for each in self.places(number)])
        return self._ranked[own]

    def _in_ranks(self, every: Sequence[PlacedOn]) -> list[list[PlacedOn]]:
        upright = [bool(self.asked.turns) or placement.turn == 0.0 for _, placement in every]
        most = max((each[1].size for each, up in zip(every, upright, strict=True) if up), default=0.0)
        ranks: list[list[PlacedOn]] = [[], [], []]
        for each, up in zip(every, upright, strict=True):
            large = self.asked.size is not None or each[1].size >= _LARGE * most
            ranks[(0 if large else 1) if up else 2].append(each)
        return ranks

    def _of(self, stage: int) -> list[int]:
        return [number for number, kind in enumerate(self.kinds) if kind.stage == stage]

    def _gives_room(self, number: int) -> bool:
        """Whether the stamp lies there, and larger than on the same form in earlier stages: a freer symmetry that gives
        no more room shows it no better."""
        own = self.kinds[number]
        earlier = [n for n, kind in enumerate(self.kinds) if kind.stage < own.stage and kind.form == own.form]
        return self.largest([number]) > self.largest(earlier)

"""The frontier: what a budget reaches is the best over all sizes that it affords.

Every size is worked out once. A piece of fewer pairs lies within a larger budget too, so no number falls as pairs
rise.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from enum import IntEnum
from math import exp
from typing import Generic, TypeVar

from constraints.design import Design
from explore.editing.budget.sizes import AffordedSize

_Value = TypeVar("_Value", bound=float)


class Verdict(IntEnum):
    """Whether pieces find room for a figure of a filling, worst first."""

    IMPOSSIBLE = 0  # proven: no piece of these sizes that keeps the brief has one
    NOT_FOUND = 1  # in the effort given: nothing is proven
    ALONE = 2  # in a piece without the stamp
    FOUND = 3  # beside the stamp, if there is one

    @property
    def words(self) -> str:
        return ("impossible", "not found", "without the stamp", "found")[self]


@dataclass(frozen=True)
class Showing:
    """How surely a stamp is known at one size, in the best of the places tried; of several the one known least surely.

    name: of the stamp. score: see `gallery.seeing.knowing.Seen`; known: the verdict, one of KNOWING. size (pitches),
    turn (degrees), symmetry, match: of that print.
    """

    name: str
    score: float
    known: str
    size: float
    turn: float
    symmetry: str
    match: float

    @property
    def eyes(self) -> float:
        """The share of eyes that would name it."""
        return round(1 / (1 + exp(-self.score)), 4)


@dataclass(frozen=True)
class Reached:
    """What was worked out for one size. showing: None without a stamp, or where it finds no place.

    verdicts: on the figures that were tried at it. designs: a sample, not yet numbered. reason: why there is none.
    """

    size: AffordedSize
    showing: Showing | None
    verdicts: Mapping[str, Verdict]
    designs: tuple[Design, ...] = ()
    reason: str = ""


@dataclass(frozen=True)
class Best(Generic[_Value]):
    """A number, or a verdict, and the smallest measure that reaches it."""

    value: _Value
    measure: int


@dataclass(frozen=True)
class Budget:
    """What so many pairs reach. Each is None, or missing, where nothing that the budget affords has it.

    eyes: the greatest share of them that would name a print. verdicts: on each figure of a filling.
    """

    pairs: int
    eyes: Best[float] | None = None
    verdicts: Mapping[str, Best[Verdict]] = field(default_factory=dict)


def frontier(reached: Sequence[Reached], budgets: Sequence[int]) -> tuple[Budget, ...]:
    """The budgets in their order, each with the best over the sizes that it affords."""
    return tuple(_budget([each for each in reached if each.size.pairs <= pairs], pairs) for pairs in budgets)


def _budget(affords: Sequence[Reached], pairs: int) -> Budget:
    shown = [(each.size.measure, each.showing) for each in affords if each.showing is not None]
    names = dict.fromkeys(name for each in affords for name in each.verdicts)
    verdicts = {
        name: _best([(each.verdicts[name], each.size.measure) for each in affords if name in each.verdicts])
        for name in names
    }
    return Budget(
        pairs,
        eyes=_best([(showing.eyes, measure) for measure, showing in shown]),
        verdicts={name: best for name, best in verdicts.items() if best is not None},
    )


def _best(reached: Sequence[tuple[_Value, int]]) -> Best[_Value] | None:
    """The greatest value; of equal ones that of the smallest measure."""
    if not reached:
        return None
    value, measure = min(reached, key=lambda each: (-each[0], each[1]))
    return Best(value, measure)

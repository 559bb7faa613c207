"""Making a series: a pool of the family, the most different choice from it, in an order that reads along the wall."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from constraints.design import Design
from constraints.lattice import FloatArray
from explore.bad_input import BadInput
from explore.editing.series import MOST
from explore.editing.series.contrast import LEAST, differences, ranked
from explore.editing.series.family import Family
from explore.editing.series.order import DENSITY, NAMED, PAIRS, ladders, rungs, solid, some, standing
from explore.editing.series.pool import Member, SeriesRequest, gather
from explore.editing.series.reading import WallReading, reading
from explore.search import dispersion
from explore.search.accepting import JobResult
from explore.search.diversity import Collection
from explore.search.workers import Hands
from explore.storage.study import Study

# A choice that is easy to read must not be less different than the best of so many drawn by chance.
_DRAWN = 1000


@dataclass(frozen=True)
class Series:
    """designs: in their order along the wall, numbered from 1. sources: their numbers in the study, 0 for new ones.

    chosen: the numbers along the wall of those she chose. table: (k, k) their differences. proven: no other choice
    from the pool that is spread so over the order is more different. at_most: no choice from the pool, however it
    is spread, has a larger least difference; None if that is not proven. pool: how many squares it was chosen from.
    """

    family: Family
    order: str
    designs: tuple[Design, ...]
    sources: tuple[int, ...]
    chosen: tuple[int, ...]
    table: FloatArray
    proven: bool
    at_most: float | None
    pool: int

    @property
    def reads(self) -> WallReading:
        """How the wall reads along its order."""
        return reading(self.order, self.designs)

    @property
    def least(self) -> float:
        """The least difference of two of the squares."""
        return float(self.table[np.triu_indices(len(self.table), 1)].min())

    @property
    def alike(self) -> tuple[int, int]:
        """The numbers of the two most alike."""
        first, second = np.triu_indices(len(self.table), 1)
        worst = int(self.table[first, second].argmin())
        return int(first[worst]) + 1, int(second[worst]) + 1


def make(asked: SeriesRequest, cores: Hands, watch: Callable[[JobResult], None]) -> Series:
    """The series asked for. Raises TooFew if the pool has too few squares, BadInput as `gather`."""
    if asked.order == NAMED and len(asked.chosen) == asked.count:
        # All are hers, and where they hang too: there is nothing to choose from.
        members = [Member(design, design.number) for design in asked.chosen]
    else:
        members = gather(asked, cores, watch)
    if len(members) < asked.count:
        raise TooFew(len(members), asked.count)
    return choose(members, len(asked.chosen), asked.family, asked.order, asked.count, asked.brief.run.seed)


def chosen(study: Study, numbers: Sequence[int], count: int) -> list[Design]:
    """Those she chose for a series of so many. Refused if they are more, or doubles."""
    hers = [study.numbered(number) for number in dict.fromkeys(numbers)]
    if len(hers) > count:
        more = f"one of {len(hers)} takes them all" if len(hers) <= MOST else f"at most {MOST} hang in one"
        raise BadInput(f"{len(hers)} squares are chosen for a series of {count}; {more}")
    refuse_doubles(hers)
    return hers


def refuse_doubles(chosen: Sequence[Design]) -> None:
    """Refused if two of hers are one square to the eye: no wall shows a square twice."""
    hers = Collection(LEAST)
    for design in chosen:
        same = hers.like(design)
        if same is not None:
            raise BadInput(
                f"{same.number:02d} and {design.number:02d} are one square to the eye, however their blocks are "
                f"stitched or they are turned; choose one of them"
            )
        hers.takes(design)


class TooFew(Exception):
    """The pool has fewer squares than the series asks for: `found` of them."""

    def __init__(self, found: int, wanted: int) -> None:
        super().__init__(f"{found} of {wanted} different squares")
        self.found = found


def choose(members: Sequence[Member], chosen: int, found: Family, order: str, count: int, seed: int) -> Series:
    """The most different choice of `count` members, the first `chosen` among them, that reads as evenly as it can
    without being less different than a greedy choice or the best of many drawn by chance."""
    pool = [member.design for member in members]
    table = differences(pool)
    rank, given = ranked(pool, table, count) if order == PAIRS else table, range(chosen)
    choice = _spread(order, pool, rank, given, count, _floor(rank, given, count, seed))
    best = dispersion.most_different(table, given, count, dispersion.free(len(pool)))
    assert best is not None, "a pool that is large enough has a choice"
    # What two of hers differ no choice can change.
    hers = float(table[:chosen, :chosen][np.triu_indices(chosen, 1)].min(initial=np.inf))
    along = _along(order, choice.members, pool, chosen)
    return Series(
        family=found,
        order=order,
        designs=tuple(pool[number].numbered(i) for i, number in enumerate(along, 1)),
        sources=tuple(members[number].source for number in along),
        chosen=tuple(i for i, number in enumerate(along, 1) if number < chosen),
        table=table[np.ix_(along, along)],
        proven=choice.proven,
        at_most=min(best.least, hers) if best.proven else None,
        pool=len(pool),
    )


def _along(order: str, members: Sequence[int], pool: Sequence[Design], chosen: int) -> list[int]:
    """The members as they hang."""
    if order != NAMED:
        return sorted(members, key=lambda number: standing(order, pool[number]))
    return sorted(members, key=lambda number: (number, 0) if number < chosen else (chosen, solid(pool[number])))


def _spread(
    order: str, pool: Sequence[Design], rank: FloatArray, given: Sequence[int], count: int, floor: float
) -> dispersion.Selection:
    """The choice: over as many rungs as go together with the least difference asked for."""

    def asked(bounds: dispersion.Bounds) -> dispersion.Selection | None:
        choice = dispersion.most_different(rank, given, count, bounds)
        return choice if choice is not None and choice.least >= floor else None

    if order == NAMED:
        best = dispersion.most_different(rank, given, count, dispersion.free(len(pool)))
        assert best is not None, "a pool that is large enough has a choice"
        return best
    for bounds in ladders(order, pool, given, count):
        choice = asked(bounds)
        if choice is not None:
            return choice
    on = rungs(order, pool)
    needed: list[int] = []
    best = dispersion.most_different(rank, given, count, dispersion.free(len(pool)))
    assert best is not None, "a pool that is large enough has a choice"
    # The first and the last rung before those between.
    for rung in sorted(range(int(on.max()) + 1), key=lambda each: min(each, int(on.max()) - each)):
        choice = asked(some(on, [*needed, rung])) if order != DENSITY else None
        if choice is not None:
            needed, best = [*needed, rung], choice
    return best


def _floor(rank: FloatArray, given: Sequence[int], count: int, seed: int) -> float:
    """The least difference of the better of a greedy choice and many drawn by chance."""
    greedy = dispersion.worth(rank, given, dispersion.farthest(rank, given, count))[0]
    rng = np.random.default_rng([seed, 5])
    others = np.arange(len(given), len(rank))
    drawn = (rng.permutation(others)[: count - len(given)] for _ in range(_DRAWN))
    return max(greedy, *(dispersion.worth(rank, given, [*given, *each.tolist()])[0] for each in drawn))

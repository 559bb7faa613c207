"""The size of a space in the best way that an effort allows: exact, estimated, or at least so many."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from enum import Enum
from fractions import Fraction
from functools import partial
from itertools import islice

from constraints.counting import estimate as estimating
from constraints.counting import tally
from constraints.counting.motions import Group
from constraints.counting.space import Space
from constraints.symmetry import told

# At effort 1: the most states at once in an exact count, and in one run of an estimate or of a least number.
_EXACT_STATES, _RUN_STATES, _RUNS = 400_000, 1_000, 16
# And the bytes that the counts of an exact count may take, about.
_EXACT_BYTES = 4 * 10**9
# An estimate whose standard error is a larger share of it is of no use, and may be too small itself: the
# counts of such runs are so far apart that a few could outweigh all that were seen.
WORST_ERROR = 0.30

# Where it is only asked if there is any layout: so much of it is followed at first, and then.
_FEW = 0.1, 1.0
# After so many runs, a larger error is not going to shrink to the one above.
_TRIAL, _HOPELESS = 4, 2 * WORST_ERROR

Watch = Callable[[str], None]


class Certainty(Enum):
    """What a number is."""

    EXACT = "exact"
    ESTIMATE = "estimate"
    AT_LEAST = "at least"
    NONE_FOUND = "none found"  # in the effort given; nothing is proven


@dataclass(frozen=True)
class LayoutCount:
    """A number of layouts. value: exact, or at least so many. log: natural logarithm, of the estimate too.

    error: standard error of an estimate as a share of it, 0 otherwise.
    """

    kind: Certainty
    value: int | None
    log: float
    error: float = 0.0


@dataclass(frozen=True)
class SpaceSize:
    """layouts: all there are; classes: up to what keeps the way of working, None where the motions are too many for it.

    states: the most states followed at once. visited: states in all. runs: of an estimate, 0 if there is none.
    among: the larger symmetry whose layouts a least number counts, "" if it counts any.
    """

    layouts: LayoutCount
    classes: LayoutCount | None
    states: int
    visited: int
    runs: int
    among: str = ""


class _Count:
    """Counts group by group and keeps account of the effort."""

    def __init__(self, space: Space, effort: float, seed: int, watch: Watch) -> None:
        self._space, self._seed, self._watch = space, seed, watch
        self._exact_states, self._exact_bytes = round(_EXACT_STATES * effort), _EXACT_BYTES * effort
        self._run_states = max(10, round(_RUN_STATES * effort))
        self.states = self.visited = self.runs = 0

    def exact(self, group: Group) -> LayoutCount | None:
        """The exact number, None if it takes more states than the effort allows."""
        self._watch("how far an exact count reaches")
        problem = self._space.problem(group)
        reach = tally.reach(problem, self._exact_states)
        self.visited += reach.visited
        if reach.over or tally.room(problem, reach) > self._exact_bytes:
            return None
        self._watch(f"counting exactly, {reach.states} states at once")
        counted = tally.exact(problem, reach)
        self._account(counted.states, counted.visited)
        return whole(counted.count, Certainty.EXACT)

    def estimated(self, group: Group) -> LayoutCount:
        """An estimate, however large its error."""
        problem, done = self._space.problem(group), []
        for number, run in enumerate(islice(estimating.runs(problem, self._run_states, self._seed), _RUNS), 1):
            done.append(run)
            self._watch(f"estimating, run {number} of {_RUNS}")
            if number == _TRIAL and estimating.estimate(done).error > _HOPELESS:
                break
        found = estimating.estimate(done)
        self.runs = found.runs
        self._account(self._run_states, found.visited)
        return LayoutCount(Certainty.ESTIMATE, None, found.log_mean, found.error)

    def followed(self) -> int:
        """How many one sweep follows to the end."""
        self._watch("counting what can be followed")
        counted = tally.at_least(self._space.problem(self._space.symmetry), 4 * self._run_states, self._seed)
        self._account(counted.states, counted.visited)
        return counted.count

    def at_least(self) -> tuple[LayoutCount, str]:
        """How many there are for certain, and of which larger symmetry these are, "" if of any.

        Some are followed to the end by one sweep. Those of a larger symmetry are fewer, may be counted
        exactly, and are layouts of this space too: the largest number counts.
        """
        best, among = self.followed(), ""
        larger = self._space.larger
        for order in sorted({len(group) for group in larger.values()}, reverse=True):
            reached = False
            for name in (name for name, group in larger.items() if len(group) == order):
                found = self.exact(larger[name])
                reached = reached or found is not None
                if found is not None and (found.value or 0) > best:
                    best, among = found.value or 0, name
            if not reached:
                break
        return _least(best), among

    def _account(self, states: int, visited: int) -> None:
        self.states, self.visited = max(self.states, states), self.visited + visited


def size(space: Space, effort: float, seed: int, watch: Watch = lambda words: None) -> SpaceSize:
    """How many layouts a space has, and how many up to the motions that keep the way of working.

    effort: multiplies the states followed, which costs time and memory in proportion. seed: of an estimate.
    watch: told what is being done. The same on any machine.
    """
    count = _Count(space, effort, seed, watch)
    own = count.exact(space.symmetry)
    exact, among = own is not None, ""
    if own is None:
        own = count.estimated(space.symmetry)
        if not own.error <= WORST_ERROR:
            own, among = count.at_least()
    partial = own.kind in (Certainty.AT_LEAST, Certainty.NONE_FOUND)
    classes = None
    if space.tells_classes:
        classes = _fewest(own, space) if partial else _classes(count, space, own, exact)
    return SpaceSize(
        own, classes, count.states, count.visited, count.runs if own.kind is Certainty.ESTIMATE else 0, among
    )


def by_symmetry(spaces: Mapping[str, Space], effort: float, seed: int, watch: Watch) -> dict[str, LayoutCount]:
    """How many layouts each of several symmetries allows on one form; what is allowed beside them is the same.

    spaces: by the symmetry. effort, seed: as those of `size`, but that all together take as much as one does there.
    What a larger symmetry allows is allowed under each that it holds, so that its numbers serve those.
    """
    found: dict[str, LayoutCount] = {}
    for name, space in sorted(spaces.items(), key=lambda each: -len(each[1].symmetry)):
        count = _Count(space, effort / len(spaces), seed, partial(_watched, watch, told(name)))
        own = count.exact(space.symmetry) or count.estimated(space.symmetry)
        if not own.error <= WORST_ERROR:
            larger = [found[each].value or 0 for each in found if spaces[each].symmetry > space.symmetry]
            own = _least(max(count.followed(), *larger))
        found[name] = own
    return {name: found[name] for name in spaces}


def any_found(space: Space, effort: float, seed: int) -> bool:
    """Whether a layout is found in a small part of what its number takes. effort, seed: as those of `size`."""
    problem = space.problem(space.symmetry)
    few, more = (max(10, round(_RUN_STATES * effort * share)) for share in _FEW)
    if tally.at_least(problem, few, seed).count:
        return True
    reach = tally.reach(problem, round(_EXACT_STATES * effort * _FEW[0]))
    if not reach.over and tally.room(problem, reach) <= _EXACT_BYTES * effort:
        return tally.exact(problem, reach).count > 0
    return tally.at_least(problem, more, seed).count > 0


def _watched(watch: Watch, which: str, words: str) -> None:
    watch(f"{which}: {words}")


def _least(value: int) -> LayoutCount:
    return whole(value, Certainty.AT_LEAST if value else Certainty.NONE_FOUND)


def whole(value: int, kind: Certainty) -> LayoutCount:
    """A number that is known, or a least one."""
    return LayoutCount(kind, value, math.log(value) if value else -math.inf)


def _fewest(own: LayoutCount, space: Space) -> LayoutCount:
    """The layouts found, as if each had all the others that a motion takes it to."""
    assert own.value is not None
    return whole(-(-own.value // space.largest_class), own.kind)


def _classes(count: _Count, space: Space, own: LayoutCount, exact: bool) -> LayoutCount:
    """The sum of the numbers of all larger symmetries, each by its share."""
    numbers: dict[Group, LayoutCount] = {space.same_count(space.symmetry): own}
    parts: list[tuple[Fraction, LayoutCount]] = []
    for group, share in space.shares.items():
        if share:
            key = space.same_count(group)
            if key not in numbers:
                numbers[key] = (count.exact(key) if exact else None) or count.estimated(key)
            parts.append((share, numbers[key]))
    if all(number.kind is Certainty.EXACT for _, number in parts):
        total = sum((share * (number.value or 0) for share, number in parts), Fraction(0))
        assert total.denominator == 1, "classes are whole"
        return whole(int(total), Certainty.EXACT)
    ratios = [(float(share) * math.exp(number.log - own.log), number.error) for share, number in parts]
    total_ratio = sum(ratio for ratio, _ in ratios)
    error = math.sqrt(sum((ratio * error) ** 2 for ratio, error in ratios if ratio)) / total_ratio
    return LayoutCount(Certainty.ESTIMATE, None, own.log + math.log(total_ratio), error)

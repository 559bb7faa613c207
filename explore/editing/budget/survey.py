"""The survey of a range of budgets: every size worked out once, on all cores, then the frontier."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence
from contextlib import suppress
from dataclasses import dataclass, field, replace
from typing import Any, cast

from constraints.brief import KNOWN, UNKNOWN, Brief, BriefValues
from constraints.design import Design
from constraints.stamp import Stamp
from explore.editing.budget.frontier import Budget, Reached, Showing, Verdict, frontier
from explore.editing.budget.showing import showing
from explore.editing.budget.sizes import AffordedSize, affordable, worked_out
from explore.editing.budget.verdicts import figures_of, verdict
from explore.search.diversity import Collection
from explore.search.laying.falls import KEYS, Fall, falls, least_size, suggested
from explore.search.workers import WorkerPool
from explore.search.workshop import LaidPrints, LayingWorkshop
from explore.search.workshops import workshop

Tell = Callable[[str, int, int], None]

# So many designs stand in a row, and so many jobs are tried for them.
WANTED, _JOBS = 4, 12
# So often stamps are laid at one size.
_PLACES = 10
# Whether a figure finds room is asked beside so many of the most telling places.
_KEPT = 2


@dataclass(frozen=True)
class Survey:
    """What a range of budgets reaches. every: the sizes that the greatest of them affords, worked out or not.

    reached: at every size worked out, smallest first. budgets: every one of the range. rows: those told on a sheet and
    in a table. alone: of each stamp the smallest print that is known by itself, None if there is none. left: sizes not
    worked out, if it was stopped; budgets that afford one of them are left out then.
    """

    brief: Brief
    stamps: tuple[Stamp, ...]
    every: tuple[AffordedSize, ...]
    reached: tuple[Reached, ...]
    budgets: tuple[Budget, ...]
    rows: tuple[int, ...]
    alone: tuple[Fall | None, ...] = ()
    left: tuple[AffordedSize, ...] = ()

    @property
    def fillings(self) -> tuple[str, ...]:
        """The figures of the allowed fillings."""
        return figures_of(self.brief.rules.stitches)

    def budget(self, pairs: int) -> Budget:
        return self.budgets[pairs - self.budgets[0].pairs]

    @property
    def unasked(self) -> tuple[str, ...]:
        """The figures of fillings that were not asked for, since the survey was stopped."""
        return tuple(name for name in self.fillings if not any(name in each.verdicts for each in self.reached))

    def best_print(self, budget: Budget) -> Showing | None:
        """How the print shows that a budget's most eyes would name; None if there is no such print."""
        at = {each.size.measure: each.showing for each in self.reached}
        return None if budget.eyes is None else at[budget.eyes.measure]

    @property
    def asked(self) -> str:
        """How surely the print is to be known: as the brief asks, or known at all where it does not."""
        return KNOWN if self.brief.stamp.known == UNKNOWN else self.brief.stamp.known

    def afforded(self, pairs: int) -> tuple[AffordedSize, ...]:
        """Every size that so many pairs can work, worked out or not."""
        return tuple(each for each in self.every if each.pairs <= pairs)

    def shown(self, pairs: int) -> Reached | None:
        """What was reached whose sample stands in the row of a budget: the largest size that has pieces."""
        held = [each for each in self.reached if each.size.pairs <= pairs and each.designs]
        return held[-1] if held else None


def survey(
    brief: Brief,
    stamps: tuple[Stamp, ...],
    budgets: tuple[int, int],
    rows: Sequence[int],
    cores: int | None,
    tell: Tell,
) -> Survey:
    """Work out every size that the budgets afford. Ctrl-C ends it with what is done by then.

    brief: its pairs are the greatest budget. rows: the budgets that have a sample of squares. tell: told what is
    being worked out, how much of it is done, and of how much. The result depends on brief and stamps alone.
    """
    every = affordable(brief, budgets[1])
    done = _Progress(brief, stamps, worked_out(every), rows, tell)
    with suppress(KeyboardInterrupt):
        done.carry_out(cores)
    reached = tuple(
        replace(each, verdicts={name: found[number] for name, found in done.verdicts.items() if number in found})
        for number, each in enumerate(done.reached)
    )
    left = done.sizes[len(reached) :]
    most = min([budgets[1], *(each.pairs - 1 for each in left)])
    return Survey(
        brief,
        stamps,
        every,
        reached,
        frontier(reached, range(budgets[0], most + 1)),
        tuple(pairs for pairs in rows if pairs <= most),
        tuple(map(suggested, done.fallen)),
        left,
    )


Fallen = dict[tuple[Stamp, Brief], list[Fall]]


def has_pieces(brief: Brief, stamps: tuple[Stamp, ...], fallen: Fallen) -> bool:
    """Whether the row of the brief's pairs would have designs: of the largest size that is worked out.

    fallen: how stamps fall, as far as it is known already; it is added to.
    """
    largest = next(reversed(worked_out(affordable(brief, brief.rules.pairs))), None)
    if largest is None:
        return False
    looked_at = _looked_at(brief, stamps)
    for each in looked_at:
        if each not in fallen:
            fallen[each] = list(falls(*each, 1))
    tools = SurveyTools(brief, stamps, _least(brief, [fallen[each] for each in looked_at]))
    return bool(reached_at(tools, 0, (largest, True))[0].designs)


def _looked_at(brief: Brief, stamps: Sequence[Stamp]) -> list[tuple[Stamp, Brief]]:
    """Every stamp with what makes a difference to how it falls, at all sizes, whichever she wants."""
    found = []
    for number, stamp in enumerate(stamps):
        own = brief.alone(number)
        values = cast(BriefValues, {key: own.value(key) for key in KEYS if key != "stamp_size"})
        found.append((stamp, Brief.of(**values)))
    return found


def _least(brief: Brief, fallen: Sequence[Sequence[Fall]]) -> tuple[float, ...]:
    """Of each stamp the pitches from which it may be known."""
    return tuple(least_size(brief.alone(number), some) for number, some in enumerate(fallen))


@dataclass(eq=False)
class _Progress:
    """What is done so far; Ctrl-C may come at any moment."""

    brief: Brief
    stamps: tuple[Stamp, ...]
    sizes: tuple[AffordedSize, ...]
    rows: Sequence[int]
    tell: Tell
    fallen: list[list[Fall]] = field(default_factory=list)
    reached: list[Reached] = field(default_factory=list)
    laid: list[list[LaidPrints]] = field(default_factory=list)
    verdicts: dict[str, dict[int, Verdict]] = field(default_factory=dict)

    def carry_out(self, cores: int | None) -> None:
        for stamp, brief in _looked_at(self.brief, self.stamps):
            self.tell(f"{stamp.name} alone", 0, 1)
            self.fallen.append(list(falls(stamp, brief, cores)))
        sampled = {each for pairs in self.rows for each in [o for o in self.sizes if o.pairs <= pairs][-1:]}
        least = _least(self.brief, self.fallen)
        with WorkerPool(SurveyTools, (self.brief, self.stamps, least), cores) as workers:
            for number, (reached, laid) in workers.in_order(
                reached_at, ((n, (each, each in sampled)) for n, each in enumerate(self.sizes))
            ):
                self.reached.append(reached)
                self.laid.append(laid)
                self.tell("sizes", number + 1, len(self.sizes))
            names = figures_of(self.brief.rules.stitches)
            task = list(zip(self.sizes, self.laid, strict=True))
            for number, found in workers.in_order(_verdicts, ((n, (name, task)) for n, name in enumerate(names))):
                self.verdicts[names[number]] = found
                self.tell("fillings", number + 1, len(names))


def tools_for(brief: Brief, stamps: tuple[Stamp, ...], fallen: Sequence[Sequence[Fall]]) -> SurveyTools:
    """What works out sizes. fallen: how each stamp falls, at all sizes."""
    return SurveyTools(brief, stamps, _least(brief, fallen))


@dataclass(frozen=True)
class SurveyTools:
    """least: of each stamp the pitches from which it may be known."""

    brief: Brief
    stamps: tuple[Stamp, ...]
    least: tuple[float, ...]

    def workshop(self, size: AffordedSize) -> LayingWorkshop[Any]:
        """A workshop for pieces of that size alone."""
        return workshop(size.brief, *self.stamps)


def reached_at(tools: SurveyTools, number: int, task: tuple[AffordedSize, bool]) -> tuple[Reached, list[LaidPrints]]:
    size, with_sample = task
    own = tools.workshop(size)
    laid = own.best_laid(tools.least, _PLACES) if tools.stamps else []
    there = own.chosen(laid)
    designs, reason = _sample(own, there) if with_sample else ((), "")
    return Reached(size, showing(own.grounds, laid), {}, designs, reason), there[:_KEPT]


def _sample(own: LayingWorkshop[Any], there: Sequence[Any]) -> tuple[tuple[Design, ...], str]:
    """Up to four pieces that differ, and what stood most in the way if there is none.

    there: the stamps where a piece may use them; without stamps there is none.
    """
    if own.stamps and not there:
        return (), ""
    collection = Collection(own.brief.run.apart)
    notes: Counter[str] = Counter()
    for job in range(_JOBS):
        design, note = own.run(job, there[job % len(there)] if there else None)
        if design is None:
            notes[note] += 1
        elif collection.takes(design) and len(collection.designs) == WANTED:
            break
    reason = "" if collection.designs or not notes else notes.most_common(1)[0][0]
    return tuple(collection.designs), reason


def _verdicts(
    tools: SurveyTools, number: int, task: tuple[str, list[tuple[AffordedSize, list[LaidPrints]]]]
) -> dict[int, Verdict]:
    """Of one figure at sizes from the smallest, up to the first where there is nothing left to ask."""
    figure, sizes = task
    found: dict[int, Verdict] = {}
    for place, (size, laid) in enumerate(sizes):
        if any(answer is Verdict.ALONE for answer in found.values()) and not laid:
            continue  # it cannot tell more than is known
        found[place] = verdict(tools.workshop(size).grounds, figure, laid, bool(tools.stamps))
        if found[place] is Verdict.FOUND:
            break
    return found

"""The survey of a range of budgets: every half-size worked out once, on all cores, then the frontier."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence
from contextlib import suppress
from dataclasses import dataclass, field, replace

from constraints.brief import KNOWN, UNKNOWN, Brief
from constraints.design import Design
from constraints.stamp import Stamp
from explore.editing.budget.frontier import Budget, Reached, Showing, Verdict, frontier
from explore.editing.budget.showing import lay_out, showing
from explore.editing.budget.sizes import AffordedSize, affordable, worked_out
from explore.editing.budget.verdicts import figures_of, verdict
from explore.search.diversity import Collection
from explore.search.laying.falls import Fall, falls, least_size, suggested
from explore.search.squares import suited
from explore.search.squares.suited import LaidThere
from explore.search.squares.workshop import SquareWorkshop
from explore.search.workers import WorkerPool

Tell = Callable[[str, int, int], None]

# So many squares stand in a row, and so many jobs are tried for them.
WANTED, _JOBS = 4, 12
# Whether a figure finds room is asked beside so many of the most telling places.
_KEPT = 2


@dataclass(frozen=True)
class Survey:
    """What a range of budgets reaches. reached: at every half-size worked out, smallest first.

    budgets: every one of the range. rows: those told on a sheet and in a table. alone: the smallest print that is
    known by itself, None if there is none or no stamp. left: sizes not worked out, if it was stopped; budgets that
    afford one of them are left out then.
    """

    brief: Brief
    stamp: Stamp | None
    reached: tuple[Reached, ...]
    budgets: tuple[Budget, ...]
    rows: tuple[int, ...]
    alone: Fall | None = None
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
        at = {each.size.half_size: each.showing for each in self.reached}
        return None if budget.eyes is None else at[budget.eyes.half_size]

    @property
    def asked(self) -> str:
        """How surely the print is to be known: as the brief asks, or known at all where it does not."""
        return KNOWN if self.brief.stamp.known == UNKNOWN else self.brief.stamp.known

    def afforded(self, pairs: int) -> tuple[AffordedSize, ...]:
        """Every size that so many pairs can work, worked out or not."""
        return affordable(self.brief, pairs)

    def shown(self, pairs: int) -> Reached | None:
        """What was reached whose sample stands in the row of a budget: the largest half-size that has squares."""
        held = [each for each in self.reached if each.size.pairs <= pairs and each.designs]
        return held[-1] if held else None


def survey(
    brief: Brief, stamp: Stamp | None, budgets: tuple[int, int], rows: Sequence[int], cores: int | None, tell: Tell
) -> Survey:
    """Work out every half-size that the budgets afford. Ctrl-C ends it with what is done by then.

    brief: its pairs are the greatest budget. rows: the budgets that have a sample of squares. tell: told what is
    being worked out, how much of it is done, and of how much. The result depends on brief and stamp alone.
    """
    done = _Progress(brief, stamp, worked_out(affordable(brief, budgets[1])), rows, tell)
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
        stamp,
        reached,
        frontier(reached, range(budgets[0], most + 1)),
        tuple(pairs for pairs in rows if pairs <= most),
        suggested(done.fallen),
        left,
    )


def has_squares(brief: Brief, stamp: Stamp | None) -> bool:
    """Whether the row of the brief's pairs would have designs: of the largest half-size that is worked out."""
    largest = next(reversed(worked_out(affordable(brief, brief.rules.pairs))), None)
    if largest is None:
        return False
    fallen = [] if stamp is None else list(falls(stamp, brief.changed(stamp_size=None), 1))
    tools = _SurveyTools(brief, stamp, least_size(brief, fallen))
    return bool(_reached(tools, 0, (largest, True))[0].designs)


@dataclass(eq=False)
class _Progress:
    """What is done so far; Ctrl-C may come at any moment."""

    brief: Brief
    stamp: Stamp | None
    sizes: tuple[AffordedSize, ...]
    rows: Sequence[int]
    tell: Tell
    fallen: list[Fall] = field(default_factory=list)
    reached: list[Reached] = field(default_factory=list)
    laid: list[list[LaidThere]] = field(default_factory=list)
    verdicts: dict[str, dict[int, Verdict]] = field(default_factory=dict)

    def carry_out(self, cores: int | None) -> None:
        if self.stamp is not None:
            self.tell("the stamp alone", 0, 1)
            # At all sizes, whichever she wants.
            self.fallen = list(falls(self.stamp, self.brief.changed(stamp_size=None), cores))
        sampled = {each for pairs in self.rows for each in [o for o in self.sizes if o.pairs <= pairs][-1:]}
        least = least_size(self.brief, self.fallen)
        with WorkerPool(_SurveyTools, (self.brief, self.stamp, least), cores) as workers:
            for number, (reached, laid) in workers.in_order(
                _reached, ((n, (each, each in sampled)) for n, each in enumerate(self.sizes))
            ):
                self.reached.append(reached)
                self.laid.append(laid)
                self.tell("half-sizes", number + 1, len(self.sizes))
            names = figures_of(self.brief.rules.stitches)
            task = list(zip(self.sizes, self.laid, strict=True))
            for number, found in workers.in_order(_verdicts, ((n, (name, task)) for n, name in enumerate(names))):
                self.verdicts[names[number]] = found
                self.tell("fillings", number + 1, len(names))


@dataclass(frozen=True)
class _SurveyTools:
    """least: pitches from which the print may be known."""

    brief: Brief
    stamp: Stamp | None
    least: float

    def workshop(self, size: AffordedSize) -> SquareWorkshop:
        """A workshop for squares of that size alone."""
        return SquareWorkshop(size.brief(self.brief), () if self.stamp is None else (self.stamp,))


def _reached(tools: _SurveyTools, number: int, task: tuple[AffordedSize, bool]) -> tuple[Reached, list[LaidThere]]:
    size, with_sample = task
    workshop = tools.workshop(size)
    laid = lay_out(workshop.placings, tools.least) if tools.stamp is not None else []
    there = suited.chosen(workshop.placings, laid, workshop.brief)
    designs, reason = _sample(workshop, there) if with_sample else ((), "")
    return Reached(size, showing(workshop.placings, laid), {}, designs, reason), there[:_KEPT]


def _sample(workshop: SquareWorkshop, there: Sequence[LaidThere]) -> tuple[tuple[Design, ...], str]:
    """Up to four squares that differ, and what stood most in the way if there is none.

    there: the stamp where a square may use it; without a stamp there is none.
    """
    if workshop.stamp is not None and not there:
        return (), ""
    collection = Collection(workshop.brief.run.apart)
    notes: Counter[str] = Counter()
    for job in range(_JOBS):
        design, note = workshop.run(job, there[job % len(there)] if there else None)
        if design is None:
            notes[note] += 1
        elif collection.takes(design) and len(collection.designs) == WANTED:
            break
    reason = "" if collection.designs or not notes else notes.most_common(1)[0][0]
    return tuple(collection.designs), reason


def _verdicts(
    tools: _SurveyTools, number: int, task: tuple[str, list[tuple[AffordedSize, list[LaidThere]]]]
) -> dict[int, Verdict]:
    """Of one figure at half-sizes from the smallest, up to the first where there is nothing left to ask."""
    figure, sizes = task
    found: dict[int, Verdict] = {}
    for place, (size, laid) in enumerate(sizes):
        if any(answer is Verdict.ALONE for answer in found.values()) and not laid:
            continue  # it cannot tell more than is known
        found[place] = verdict(tools.workshop(size).placings, figure, laid)
        if found[place] is Verdict.FOUND:
            break
    return found

"""The survey of a range of budgets: every half-size worked out once, on all cores, then the frontier."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence
from contextlib import suppress
from dataclasses import dataclass, field, replace
from math import inf

from constraints.brief import Brief
from constraints.design import Design
from constraints.stamp import Stamp
from explore.editing.budget.frontier import Budget, Reached, Showing, Verdict, frontier
from explore.editing.budget.showing import lay_out, showing
from explore.editing.budget.sizes import AffordedSize, affordable, worked_out
from explore.editing.budget.verdicts import figures_of, verdict
from explore.search.diversity import Collection
from explore.search.laying.falls import Fall, falls, suggested
from explore.search.laying.laid import PlaceLaid, usable
from explore.search.squares.suited import LaidThere
from explore.search.squares.workshop import SquareWorkshop
from explore.search.workers import WorkerPool

Tell = Callable[[str, int, int], None]

# So many squares stand in a row, and so many jobs are tried for them.
WANTED, _JOBS = 4, 12
# They take turns with so many of the best places of the stamp.
_PLACES = 4
# Whether a figure finds room is asked beside so many of the most telling places.
_KEPT = 2


@dataclass(frozen=True)
class Survey:
    """What a range of budgets reaches. reached: at every half-size worked out, smallest first.

    budgets: every one of the range. rows: those told on a sheet and in a table. readable: the smallest print that
    keeps the stamp's character, None if there is none or no stamp. left: sizes not worked out, if it was stopped;
    budgets that afford one of them are left out then.
    """

    brief: Brief
    stamp: Stamp | None
    reached: tuple[Reached, ...]
    budgets: tuple[Budget, ...]
    rows: tuple[int, ...]
    readable: Fall | None = None
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
        """How the print shows that a budget's best match is of; None if there is no such print."""
        at = {each.size.half_size: each.showing for each in self.reached}
        return None if budget.match is None else at[budget.match.half_size]

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
    return largest is not None and bool(_reached(_SurveyTools(brief, stamp, 0.0, inf), 0, (largest, True))[0].designs)


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
    laid: list[list[PlaceLaid]] = field(default_factory=list)
    verdicts: dict[str, dict[int, Verdict]] = field(default_factory=dict)

    def carry_out(self, cores: int | None) -> None:
        if self.stamp is not None:
            self.tell("the stamp alone", 0, 1)
            # At all sizes, whichever she wants: a small print is held against the most that any shows.
            self.fallen = list(falls(self.stamp, self.brief.changed(stamp_size=None), cores))
        most_detail = max((fall.detail for fall in self.fallen), default=0.0)
        sampled = {each for pairs in self.rows for each in [o for o in self.sizes if o.pairs <= pairs][-1:]}
        choice = suggested(self.fallen)
        least_size = inf if choice is None else choice.size
        with WorkerPool(_SurveyTools, (self.brief, self.stamp, most_detail, least_size), cores) as workers:
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
    brief: Brief
    stamp: Stamp | None
    most_detail: float
    least_size: float

    def workshop(self, size: AffordedSize) -> SquareWorkshop:
        """A workshop for squares of that size alone."""
        return SquareWorkshop(size.brief(self.brief), self.stamp)


def _reached(tools: _SurveyTools, number: int, task: tuple[AffordedSize, bool]) -> tuple[Reached, list[PlaceLaid]]:
    size, with_sample = task
    workshop = tools.workshop(size)
    placing = workshop.placings[0]
    laid = lay_out(placing) if tools.stamp is not None else []
    shown = showing(laid, placing.brief, tools.most_detail, tools.least_size)
    good = [each for each in laid if usable(each, placing.brief)]
    designs, reason = _sample(workshop, placing.brief, good) if with_sample else ((), "")
    return Reached(size, shown, {}, designs, reason), good[:_KEPT]


def _sample(workshop: SquareWorkshop, brief: Brief, laid: Sequence[PlaceLaid]) -> tuple[tuple[Design, ...], str]:
    """Up to four squares that differ, and what stood most in the way if there is none.

    laid: the stamp where a square may use it, the most telling first; without a stamp there is none.
    """
    if workshop.stamp is not None and not laid:
        return (), ""
    collection = Collection(brief.run.apart)
    notes: Counter[str] = Counter()
    for job in range(_JOBS):
        place = LaidThere(0, laid[job % min(len(laid), _PLACES)]) if laid else None
        design, note = workshop.run(job, place)
        if design is None:
            notes[note] += 1
        elif collection.takes(design) and len(collection.designs) == WANTED:
            break
    reason = "" if collection.designs or not notes else notes.most_common(1)[0][0]
    return tuple(collection.designs), reason


def _verdicts(
    tools: _SurveyTools, number: int, task: tuple[str, list[tuple[AffordedSize, list[PlaceLaid]]]]
) -> dict[int, Verdict]:
    """Of one figure at half-sizes from the smallest, up to the first where there is nothing left to ask."""
    figure, sizes = task
    found: dict[int, Verdict] = {}
    for place, (size, laid) in enumerate(sizes):
        if any(answer is Verdict.ALONE for answer in found.values()) and not laid:
            continue  # it cannot tell more than is known
        found[place] = verdict(tools.workshop(size).placings[0], figure, laid)
        if found[place] is Verdict.FOUND:
            break
    return found

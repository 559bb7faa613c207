"""Jobs with several stamps in one piece, or with one that has its spot: each laid where it is known, clear of the
others, parts composed round all of them."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import islice
from math import ceil
from typing import Any

import numpy as np

from constraints.brief import UNKNOWN, Brief
from constraints.forms import FORMS
from constraints.lattice import BoolArray
from constraints.symmetry import SUITS
from constraints.wording import shown, shown_apart
from explore.search.form_kind import FormKind
from explore.search.kinds import in_rounds
from explore.search.laying.falls import SIZES, Fall, known_from, least_size, look, looks, sizes_known
from explore.search.laying.placement import USED, Laid, Placement, amid, depends_on, in_turns, laid_before, lay, usable
from explore.search.laying.spots import spot_of
from explore.search.laying.together import Group, LaidTogether, PlacedTogether, Single, grouped, single, together
from explore.search.sizing import SIZING
from explore.search.workers import WorkerPool
from explore.search.workshop import CLOSER, NEARLY, Composed, Laying, LayingWorkshop, NoPlace, canvas_round

# So many groups are laid. Room is offered for so many larger sizes of a print that is not known.
_TRIED, _FURTHER = 16, 2


@dataclass(eq=False)
class SeveralWorkshop(LayingWorkshop[LaidTogether]):
    """Pieces of every measure and symmetry that the brief allows. every_kind: the pieces that one of them allows."""

    every_kind: Callable[[Brief], list[FormKind[Any]]]

    called = "job of several stamps"

    @cached_property
    def briefs(self) -> list[Brief]:
        """Of each stamp the brief for it alone."""
        return [self.brief.alone(number) for number in range(len(self.stamps))]

    @cached_property
    def kinds(self) -> list[list[FormKind[Any]]]:
        """Of each stamp every kind of piece: the same ones in the same order, each with its own brief."""
        return [self.every_kind(brief) for brief in self.briefs]

    def tasks(
        self, workers: WorkerPool[Any], jobs: range, laying: Laying, hasty: bool = False
    ) -> Iterator[tuple[int, LaidTogether] | None]:
        """They take turns with the groups in which every print is known. Raises NoPlace."""
        fallen: list[list[Fall]] = [[] for _ in self.stamps]
        asked = [
            (number, (stamp, brief, size))
            for number, (stamp, brief) in enumerate(zip(self.stamps, self.briefs, strict=True))
            for size in self._looked_at(brief)
        ]
        for number, found in looks(workers, _look, asked):
            fallen[number] += [found] if found is not None else []
            yield None
        least = [
            known_from(some, self.least) or least_size(brief, some)
            for brief, some in zip(self.briefs, fallen, strict=True)
        ]
        every: list[PlacedTogether] = []
        for number, groups in workers.in_order(_placed, [(kind, least) for kind in range(len(self.kinds[0]))]):
            every += [PlacedTogether(number, room, group) for room, group in groups]
            yield None
        placed = self._roomiest(every, _TRIED)
        if not placed:
            raise NoPlace(lambda: self._no_room(fallen, least))
        laid = self._laid(workers, placed, laying)
        there = self.chosen(laid)
        if not there:
            raise NoPlace(lambda: self._unknown(laid, fallen, least))
        yield from ((job, there[job % len(there)]) for job in jobs)

    def _roomiest(self, every: Sequence[PlacedTogether], count: int) -> list[PlacedTogether]:
        """Those with the most room, symmetries mixed."""
        ranked = sorted(every, key=lambda each: -each.room)
        return in_rounds(ranked, lambda each: self.kinds[0][each.number].symmetry)[:count]

    @property
    def grounds(self) -> dict[int, FormKind[Any]]:
        return dict(enumerate(self.kinds[0]))

    @property
    def nowhere(self) -> str:
        if len(self.stamps) == 1:
            return f"{self.brief.called} finds no place at its spot ({self.brief.stamp.spot})"
        return f"{self.brief.called} find no place clear of each other"

    def best_laid(self, least: Sequence[float], count: int) -> list[LaidTogether]:
        numbers = range(len(self.kinds[0]))
        tried = (
            [
                PlacedTogether(number, *found)
                for number in numbers
                for found in self.groups(number, [share * x for x in least])
            ]
            for share in (1.0, NEARLY)
        )
        placed = self._roomiest(next(filter(None, tried), []), count)
        return grouped(placed, {each: _lay(self, 0, each) for each in single(placed)})

    def _laid(self, workers: WorkerPool[Any], placed: Sequence[PlacedTogether], laying: Laying) -> list[LaidTogether]:
        """The groups laid, but for those in which blocks show one of the prints nowhere."""
        found: dict[Single, Laid | None] = {}
        keys = single(placed)
        on = [self.kinds[stamp][kind].context for kind, stamp, _ in keys]
        whole = [depends_on(self.briefs[key[1]], each, key[2], CLOSER) for key, each in zip(keys, on, strict=True)]
        for number, laid in laid_before.in_order(workers, _lay, list(enumerate(keys)), whole):
            found[keys[number]] = laid
            laying(len(found), len(keys))
        return grouped(placed, found)

    def chosen(self, laid: Sequence[LaidTogether]) -> list[LaidTogether]:
        """Those in which every print is known as surely as is asked, symmetries mixed, the most surely first."""
        ranked = sorted(filter(self._fits, laid), key=lambda each: -each.weakest.score)
        mixed = in_rounds(ranked, lambda each: self.kinds[0][each.number].symmetry)
        return in_turns(mixed[:USED], lambda each: each.weakest)

    def _fits(self, laid: LaidTogether) -> bool:
        """Whether a piece may be made with them."""
        known = all(usable(each, self.brief) and each.known_as(self.least) for each in laid.prints)
        return known and laid.share <= self.brief.rules.solid[1]

    def groups(self, number: int, least: Sequence[float]) -> list[tuple[float, Group]]:
        """Groups of placements on the kind of this number, see `together`."""
        choices = [self._choices(number, stamp, size) for stamp, size in enumerate(least)]
        return together(choices, least, self.kinds[0][number].context.piece)

    def _choices(self, number: int, stamp: int, least: float) -> list[Placement]:
        """Every way to lay the stamp of a number at its spot on the kind of another."""
        kind = self.kinds[stamp][number]
        every = kind.choices(self.stamps[stamp], least)
        return [each for each in every if kind.brief.stamp.spot in (SUITS, spot_of(each, kind.form))]

    def has_place(self) -> bool:
        return self._has_room([0.0] * len(self.stamps))

    def _has_room(self, least: Sequence[float]) -> bool:
        kinds = self.kinds[0]
        # Where a piece without a symmetry is allowed, it has the most room.
        free = [number for number, kind in enumerate(kinds) if kind.symmetry == "none"] or range(len(kinds))
        return any(self.groups(number, least) for number in free)

    def _roomier(self, least: Sequence[float]) -> list[Brief]:
        """The brief with so much more room, along each measure that gives it, that prints so large find a place."""
        every = [
            (each for each in wider if replace(self, brief=each)._has_room(least))
            for wider in SIZING[self.brief.piece.form].wider(self.brief)
        ]
        return [each for some in every for each in islice(some, 1)]

    def _looked_at(self, brief: Brief) -> list[float]:
        """The sizes at which a stamp is looked at alone; none where it is not asked how surely it is known."""
        if self.least == UNKNOWN:
            return []
        return sorted(set(map(float, SIZES if brief.stamp.size is None else brief.stamp.size)))

    def _no_room(self, fallen: Sequence[Sequence[Fall]], least: Sequence[float]) -> tuple[str, tuple[Brief, ...]]:
        """That the prints find no place beside each other, and briefs with more room for them."""
        asked = self.least
        for number, stamp in enumerate(self.stamps):
            if not any(self._choices(kind, number, least[number]) for kind in range(len(self.kinds[0]))):
                where = (
                    ""
                    if self.briefs[number].stamp.spot == SUITS
                    else f" at its spot ({self.briefs[number].stamp.spot})"
                )
                return (
                    f"{stamp.name} finds no place{where} in any {FORMS[self.brief.piece.form].composed} of this size",
                    (),
                )
        words = self.nowhere
        if asked != UNKNOWN:
            sizes = [known_from(some, asked) for some in fallen]
            told = [
                f"{stamp.name} is {asked} {'nowhere' if size is None else f'from {shown(size)} pitches'}"
                for stamp, size in zip(self.stamps, sizes, strict=True)
            ]
            words += f" where each is {asked}; {', '.join(told)}"
        return words, tuple(self._roomier(least))

    def _unknown(
        self, laid: Sequence[LaidTogether], fallen: Sequence[Sequence[Fall]], least: Sequence[float]
    ) -> tuple[str, tuple[Brief, ...]]:
        """That one of the prints is not known in any group laid, and what comes nearest."""
        if not laid:
            return f"no blocks were found that show {self.brief.called} side by side in the effort given", ()
        known = [each for each in laid if all(one.known_as(self.least) for one in each.prints)]
        if known and min(each.share for each in known) > self.brief.rules.solid[1]:
            least_share, most = min(each.share for each in known), self.brief.rules.solid[1]
            takes, allowed = shown_apart(100 * least_share, 100 * most)
            roomier = self.brief.changed(solid=(self.brief.rules.solid[0], min(1.0, ceil(20 * least_share + 1) / 20)))
            words = f"{self.brief.called} together take {takes}% of the pinholes at the least, solid allows {allowed}%"
            return words, (roomier,)
        nearest = max(laid, key=lambda each: each.weakest.score).weakest
        if nearest.seen is None or not usable(nearest, self.brief):
            return f"{nearest.placement.stamp} matches too little in each of {len(laid)} places tried", ()
        words = (
            f"{nearest.placement.stamp} is not {self.least} beside the others in any of {len(laid)} places tried; what "
            f"comes nearest has {shown(nearest.placement.size)} pitches ({nearest.seen.known})"
        )
        near = [self.brief.changed(known=nearest.seen.known)]
        # At the smallest size it may be known by chance alone: room for the next ones is offered.
        number = [each.name for each in self.stamps].index(nearest.placement.stamp)
        larger = [size for size in sizes_known(fallen[number], self.least) if size > least[number]]
        for size in larger[:_FURTHER]:
            near += self._roomier([size if each == number else own for each, own in enumerate(least)])
        return words, tuple(near)

    def compose(self, job: int, task: LaidTogether | None, rng: np.random.Generator) -> Composed:
        """A kind with the stamps laid on it, and parts composed round them."""
        assert task is not None
        kind = self.kinds[0][task.number]
        # Only the prints split more often than the brief allows everywhere, and they do so already.
        ground = kind.context.allowing(sum(each.splits for each in task.prints))
        keep_off: BoolArray = np.any([amid(each, ground.piece) for each in task.prints], axis=0)
        name, canvas = kind.compose(canvas_round(ground, task.prints, keep_off=keep_off), rng)
        return Composed(ground, task.prints, canvas, name, kind.pitch_mm)


def _look(workshop: SeveralWorkshop, number: int, size: float) -> Fall | None:
    return look(workshop.stamps[number], workshop.briefs[number], size)


def _placed(workshop: SeveralWorkshop, number: int, least: Sequence[float]) -> list[tuple[float, Group]]:
    return workshop.groups(number, least)


def _lay(workshop: SeveralWorkshop, _: int, task: Single) -> Laid | None:
    number, stamp, placement = task
    return lay(workshop.briefs[stamp], workshop.kinds[stamp][number].context, placement, CLOSER)

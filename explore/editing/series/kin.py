"""New squares that have a part in common with a chosen one, pinhole for pinhole.

Each is composed afresh round the part: the part is fixed in the formula, the print of the stamp is laid clear
of it (or as in the chosen square), then everything goes its usual way. A job depends on the brief, the stamp,
the chosen square and its own number alone, so cores change nothing but the time.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property, partial
from typing import Any

import numpy as np

from constraints.brief import Brief
from constraints.design import Design
from constraints.lattice import BoolArray, IntArray, Point
from constraints.layout import as_points, locate
from constraints.places import PLAIN
from constraints.square_sizes import sizes
from constraints.stamp import Stamp
from constraints.stitches import NUMBERS
from constraints.targets import target
from explore.editing.series.family import Family
from explore.editing.series.fixing import hint, keep
from explore.editing.series.prints import own_prints
from explore.search.accepting import most_jobs
from explore.search.context import Context
from explore.search.diversity import Collection
from explore.search.laying.laid import PlaceLaid, fittest
from explore.search.laying.placement import USED
from explore.search.laying.sectors import Place
from explore.search.search import tried
from explore.search.squares.composing import planned
from explore.search.squares.placing import Placing
from explore.search.workers import Hands, WorkerPool
from explore.search.workshop import Composed, Laying, Workshop, canvas_round
from gallery.seeing.knowing import seen_if_any, surely

# Jobs tried for each square wanted, and at the least.
_JOBS = 5, 12
# Members of a pool are at least this share of the brief's apart from each other.
_APART = 0.25
# New prints are this much smaller or larger than the old one; places are drawn in so many rounds.
_SMALLER, _LARGER, _ROUNDS = 0.7, 1.25, 6
# Every so many jobs lay the print as in the chosen square, if there are other places.
_OWN = 3


def kin(
    brief: Brief,
    stamps: tuple[Stamp, ...],
    found: Family,
    exemplar: Design,
    held: Sequence[Design],
    wanted: int,
    cores: Hands = None,
) -> Iterator[Design | None]:
    """What every job came to, in job order, until `wanted` squares have been found or the effort is spent.

    brief: allows one size. The squares keep the part and differ from each other and those held, the model among
    them, as the brief asks; what is shared cannot differ, so if too few do, some come at the end that differ less.
    Nothing comes if the size has no room for the part.
    """
    if not _has_room(brief, found):
        return
    apart, near = Collection(brief.run.apart, held), Collection(_APART * brief.run.apart, held)
    others: list[Design] = []
    jobs = range(most_jobs(wanted, brief.run.effort, *_JOBS))
    for _, each in tried(KinWorkshop, (brief, stamps, found, exemplar), jobs, cores):
        design = next(iter(each.designs), None)
        if design is not None and not apart.takes(design):
            others.append(design)
            design = None
        elif design is not None:
            near.takes(design)
            wanted -= 1
        yield design
        if wanted == 0:
            return
    for design in others:
        if wanted > 0 and near.takes(design):
            wanted -= 1
            yield design


def _has_room(brief: Brief, found: Family) -> bool:
    """Whether the blocks of the part keep the margin of the one size, and all of it lies on the piece."""
    allowed = sizes(brief)
    if not allowed:
        return False
    reach = allowed[0].half_size - np.where(found.part.in_block, brief.rules.margin, 0)
    return bool((np.abs(found.part.pinholes).max(axis=1, initial=0) <= reach).all())


class _Keeping(dict[int, Context]):
    """By the number of further splits the context that keeps the part."""

    def __init__(self, own: Context, found: Family) -> None:
        super().__init__()
        self._own, self._found = own, found

    def __missing__(self, splits: int) -> Context:
        own = self._own.allowing(splits)
        more = (partial(keep, part=self._found.part),)
        self[splits] = Context(own.form, own.worked, own.symmetry, own.rules, more)
        return self[splits]


@dataclass(eq=False)
class KinWorkshop(Workshop[None]):
    """What the jobs of one brief, which allows one size, share."""

    found: Family
    exemplar: Design

    # More than a free square takes.
    effort = 1.5
    called = "kin"
    stream = (3,)

    @cached_property
    def placing(self) -> Placing:
        return Placing(self.brief, self.stamp, sizes(self.brief)[0])

    @cached_property
    def context(self) -> Context:
        """The piece under the rules of the brief and told to keep the part."""
        return self._keeping[0]

    @cached_property
    def _keeping(self) -> _Keeping:
        return _Keeping(self.placing.context, self.found)

    @cached_property
    def part(self) -> BoolArray:
        return self.found.part.mask(self.context.piece)

    @cached_property
    def base(self) -> IntArray:
        """(n,) the stitch of the part's blocks, as far as they reach beyond it in the chosen square too; else PLAIN."""
        piece, part = self.context.piece, self.found.part
        stitches = np.full(len(piece), PLAIN)
        stitches[part.on(piece)[part.in_block]] = part.numbers[part.in_block]
        for block in self.exemplar.blocks:
            places = locate(piece, as_points(block.pinholes))
            fits = (places >= 0).all() and (piece.depth[places] >= self.brief.rules.margin).all()
            if fits and (stitches[places] != PLAIN).any():
                stitches[places] = NUMBERS[block.stitch]
        return stitches

    @cached_property
    def _eyes(self) -> tuple[Point, ...]:
        """The eyes of the part."""
        places = set(map(tuple, self.found.part.pinholes.tolist()))
        return tuple(eye for eye in self.exemplar.eyes if eye in places)

    @cached_property
    def laid(self) -> list[tuple[PlaceLaid, ...]]:
        """The places of the prints that leave the part as it is, the chosen square's own first if they do; of a single
        print others too in which it is known as surely as there or as the brief asks, the most surely known first."""
        if self.stamp is None:
            return []
        own = own_prints(self.placing, self.exemplar)
        laid = [each for each in map(self.placing.lay, self._clear_places) if self._clear(each)]
        fresh = fittest([each for each in laid if each.known_as(self.least)], self.brief, self.context.piece, USED)
        fresh.sort(key=lambda each: -each.score)
        return ([own] if own and all(map(self._clear, own)) else []) + [(each,) for each in fresh]

    @cached_property
    def _clear_places(self) -> list[Place]:
        """Places of prints of about the old size that leave the part alone, drawn in as many rounds as it takes."""
        brief = self.brief
        found: list[Place] = []
        if len(self.stamps) > 1:
            return found  # one of them alone would come into the way of the others
        if brief.stamp.size is None and self.exemplar.prints:
            size = self.exemplar.prints[0].size
            brief = brief.changed(stamp_size=(max(1.0, round(_SMALLER * size)), max(1.0, round(_LARGER * size))))
        for further in range(_ROUNDS):
            drawn = Placing(brief.changed(seed=brief.run.seed + further), self.stamp, sizes(brief)[0]).places
            found += [place for place in drawn if place not in found and self._off_part(place)]
            if len(found) >= USED:
                break
        return found[:USED]

    def _off_part(self, place: Place) -> bool:
        assert self.stamp is not None
        aim = target(self.context.piece, self.stamp.placed(place.size, place.turn, place.centre), place.reverse)
        return not (self._closed[aim.inside].any() or self._closed[aim.near].any())

    @cached_property
    def _closed(self) -> BoolArray:
        """(n,) what the part and its blocks take."""
        closed: BoolArray = self.part | (self.base != PLAIN)
        return closed

    def _clear(self, laid: PlaceLaid) -> bool:
        if laid.blocking is None:
            return False
        touched = laid.blocking.block | laid.target.touched(len(self._closed))
        return bool((laid.blocking.block == (self.base != PLAIN))[self._closed & touched].all())

    @property
    def least(self) -> str:
        """As surely as the brief asks, or as in the chosen square if it is less known there."""
        seen, asked = seen_if_any(self.exemplar), self.brief.stamp.known
        return asked if seen is None or surely(seen.known, asked) else seen.known

    def has_place(self) -> bool:
        return self.stamp is None or bool(self.laid)

    def tasks(
        self, workers: WorkerPool[Any], jobs: range, laying: Laying, hasty: bool = False
    ) -> Iterator[tuple[int, None]]:
        return ((job, None) for job in jobs)

    def compose(self, job: int, task: None, rng: np.random.Generator) -> Composed | str:
        """A composition round the part and the print."""
        if not self.has_place():
            return "the print has no place beside the part"
        own: tuple[PlaceLaid, ...] = self.laid[0] if self.laid else ()
        if len(self.laid) > 1 and job % _OWN:
            own = self.laid[1 + (job - job // _OWN - 1) % (len(self.laid) - 1)]
        part = self.base != PLAIN
        # Only the print splits more often than the brief allows everywhere, and it does so already.
        splits = sum(each.splits for each in own)
        canvas = canvas_round(self.placing.context.allowing(splits), own, part, self.part & ~part)
        planned(self.placing, canvas, max(0, self.placing.room_for_border(canvas.block)), job, rng)
        name = f"round a shared {self.found.share}"
        return Composed(self._keeping[splits], own, canvas, name, self.placing.size.pitch_mm, self._eyes)

    def values(self, composed: Composed, rng: np.random.Generator) -> BoolArray:
        """With the part laid into them."""
        values = super().values(composed, rng)
        hint(composed.context.model, self.found.part, self.base, values)
        return values

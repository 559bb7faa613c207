"""How a stamp falls on the grid: blocked alone at each sensible size and turn, and the size to take."""

from __future__ import annotations

from collections.abc import Callable, Generator, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Any

import numpy as np
from shapely.geometry import MultiPolygon, Polygon

from constraints import rulebook
from constraints.brief import KNOWN, Brief
from constraints.character import character
from constraints.design import Design, Print
from constraints.forms import Square
from constraints.layout import blocks_of
from constraints.piece import ROUND
from constraints.rules.one_worker import splits
from constraints.ruleset import Rules
from constraints.stamp import Stamp, outlines, shape_of
from constraints.stitches import CLOTH, NUMBERS
from constraints.targets import target
from explore.search.laying.blocking import best_blocking
from explore.search.laying.mirror import own_mirror
from explore.search.laying.noticed import noticed
from explore.search.laying.sectors import Place, Sector, upright_turn
from explore.search.laying.simplified import Simplified, lost, simplified, whereabouts
from explore.search.memory import Memory
from explore.search.workers import Hands, WorkerPool
from gallery.seeing.knowing import Seen, least_score, seen_in, surely

# Pitches. Below the first nothing is left of a shape; the last fills a square of 28 pairs.
SIZES = (6, 8, 10, 12, 14, 16, 20, 24)
# The keys of a brief that make a difference to it.
KEYS = {"stamp_size", "turns", "effort", "narrowest", "narrowest_ground", "margin", "widest", "splits", "own_splits"}
# Deterministic time for one size and turn: the effort the table speaks of.
EFFORT = 0.4
# The same for the stamp alone, to see from which size it is known.
LOOK = 0.1
# A print falls by so much, of its score, better in one place than in another (measured: 8 shifts of 8 prints differ by
# 0.4 on the mean). Sizes tried where it is known at none: from such a share of the largest.
_CHANCE, LARGE = 0.3, 0.75
_Key = tuple[Stamp, Rules, float, int, float, float, int, float]
# A stamp, the brief for it alone, and a size, pitches.
Look = tuple[Stamp, Brief, float]


@dataclass(frozen=True)
class Fall:
    """The stamp at one size and turn. design: its blocks on the smallest square that holds them.

    plain: what of the print was asked for. lost:
    the parts of it that no block shows. worth, most: of its blocks to the eye, and the most there is, as is proven.
    pairs: the fewest that such a square takes.
    """

    size: float
    turn: float
    design: Design
    plain: Simplified
    lost: tuple[Polygon, ...]
    worth: int
    most: int

    @property
    def print(self) -> Print:
        return self.design.prints[0]

    @property
    def shape(self) -> MultiPolygon:
        """The whole print on its square."""
        return shape_of(self.print.outlines)

    @property
    def lost_at(self) -> list[str]:
        """Where in the print its lost parts lie, the largest first, each place once."""
        return list(dict.fromkeys(whereabouts(part, self.plain.kept) for part in self.lost))

    @property
    def match(self) -> float:
        return self.print.match

    @cached_property
    def seen(self) -> Seen:
        """How surely the print is known."""
        return seen_in(self.design)

    @property
    def pairs(self) -> int:
        return self.design.pairs

    def pairs_worked(self, worked: str) -> int:
        """The fewest pairs of a square with this one print, worked in that way."""
        return self.design.form.pairs(worked, self.design.passives)


_fallen: Memory[_Key, Fall | None] = Memory(kept=256)


def falls(
    stamp: Stamp, brief: Brief, cores: Hands = None, watch: Callable[[int, int], None] = lambda done, of: None
) -> Generator[Fall]:
    """The stamp blocked at each size and turn, symmetry none, worked round, sizes first.

    Upright, unless turns are asked for. Where its own blocks may split, first without splits, then with as many as are
    allowed, if it splits. Sizes at which nothing is found in the effort are left out. watch: told how many are worked
    out, of how many.
    """
    chosen = brief.stamp.turns or (upright_turn(character(stamp)),)
    wanted: tuple[int, ...] = SIZES
    if brief.stamp.size is not None:
        least, most = brief.stamp.size
        wanted = tuple(range(int(np.ceil(least)), int(most) + 1)) or (round(least),)
    briefs = [brief.changed(own_splits=splits) for splits in dict.fromkeys((0, brief.stamp.own_splits))]
    tasks = list(enumerate((float(s), t, each) for s in wanted for t in chosen for each in briefs))
    keys = [_key(stamp, each, size, turn, number + 1) for number, (size, turn, each) in tasks]
    with WorkerPool(_FallTask, (stamp,), cores) as workers:
        for number, found in _fallen.in_order(workers, _fall, tasks, keys):
            watch(number + 1, len(tasks))
            if found is not None and (found.design.splits or not tasks[number][1][2].stamp.own_splits):
                yield found


def suggested(found: Sequence[Fall]) -> Fall | None:
    """The smallest size at which the print is known, and of that the one that is known most surely; None if at none."""
    fit = [each for each in found if surely(each.seen.known, KNOWN)]
    return min(fit, key=lambda each: (each.size, -each.seen.score), default=None)


def known_from(found: Sequence[Fall], known: str) -> float | None:
    """The smallest size, pitches, from which the print is known at least so surely, one of KNOWING; None if at none."""
    return next(iter(sizes_known(found, known)), None)


def sizes_known(found: Sequence[Fall], known: str) -> list[float]:
    """The sizes, pitches, at which the print is known at least so surely, one of KNOWING, the smallest first."""
    return sorted({each.size for each in found if surely(each.seen.known, known)})


def sizes_looked_at(brief: Brief, largest: float) -> tuple[list[float], list[float]]:
    """The sizes at which the print alone is looked at, those that fit and larger ones: which she names, or some.

    largest: at which it lies anywhere, pitches; 0 if at none.
    """
    if brief.stamp.size is not None:
        return sorted(set(brief.stamp.size)), []
    every = [float(size) for size in SIZES]
    return [size for size in every if size <= largest], [size for size in every if size > largest]


def least_size(brief: Brief, fallen: Sequence[Fall]) -> float:
    """The smallest size worth laying, pitches: at which it may be known, or where it may at none a large one. 0 without
    a print."""
    size = may_be_known_from(brief, fallen)
    return LARGE * max((each.size for each in fallen), default=0.0) if size is None else size


def may_be_known_from(brief: Brief, fallen: Sequence[Fall]) -> float | None:
    """The smallest size, pitches, at which the print may be known: as it falls by chance it may be a little less so
    than in a better place. None if at none."""
    least = least_score(brief.stamp.known) - _CHANCE
    return min((each.size for each in fallen if each.seen.score >= least), default=None)


def lost_below(found: Sequence[Fall]) -> dict[str, float]:
    """Of the print in the first turn of the table: where parts are lost, splits or not, and the size from which they
    are shown; 0 where no size shows them."""
    sizes = sorted({each.size for each in found})
    below: dict[str, float] = {}
    for size, larger in zip(sizes, [*sizes[1:], 0.0], strict=True):
        here = [each.lost_at for each in found if (each.size, each.turn) == (size, found[0].turn)]
        for place in here[0] if here else ():
            if all(place in each for each in here):
                below[place] = larger
    return below


def looks(
    workers: WorkerPool[Any], work: Callable[[Any, int, float], Fall | None], asked: Sequence[tuple[int, Look]]
) -> Iterator[tuple[int, Fall | None]]:
    """Stamps looked at alone for as long as `LOOK`, with the numbers given; what was looked at before is not again.
    work: does so in the workers, told that number and the size."""
    keys = [_key(stamp, brief, size, upright_turn(character(stamp)), effort=LOOK) for _, (stamp, brief, size) in asked]
    return _fallen.in_order(workers, work, [(number, size) for number, (_, _, size) in asked], keys)


def look(stamp: Stamp, brief: Brief, size: float) -> Fall | None:
    """One of `looks`."""
    return fall(stamp, brief, size, upright_turn(character(stamp)), effort=LOOK)


def _key(stamp: Stamp, brief: Brief, size: float, turn: float, number: int = 1, effort: float = EFFORT) -> _Key:
    """All that the fall of a stamp depends on."""
    piece = brief.piece
    return stamp, _rules(brief), piece.pitch_mm[0], piece.passives, size, turn, number, effort * brief.run.effort


def _rules(brief: Brief) -> Rules:
    """What the blocks of a stamp alone must keep: cloth with as many splits as the brief allows. Corner lines are
    crossed as usual: no print lies on one yet."""
    splits = max(brief.rules.splits, brief.stamp.own_splits)
    return replace(brief.rules.of_blocks, corners=Rules().corners, splits=splits, match=Rules().match)


@dataclass(frozen=True)
class _FallTask:
    stamp: Stamp


def _fall(task: _FallTask, number: int, at: tuple[float, float, Brief]) -> Fall | None:
    size, turn, brief = at
    return fall(task.stamp, brief, size, turn, number + 1)


def fall(stamp: Stamp, brief: Brief, size: float, turn: float, number: int = 1, effort: float = EFFORT) -> Fall | None:
    """The stamp blocked at one size and turn; None if nothing is found in the effort, which the brief's multiplies.
    number: of its design."""
    rings = outlines(stamp.placed(size, turn, (0.0, 0.0)))
    shape = shape_of(rings)
    reach = max(abs(value) for value in shape.bounds)
    rules = _rules(brief)
    piece = Square(int(np.ceil(reach)) + rules.margin).piece(ROUND)
    model = rulebook.build(piece, rules, rulebook.BLOCK_RULES)
    aim = target(piece, shape)
    if not len(aim.inside):
        return None
    place = Place(Sector("alone", 0.0, 180.0), size, turn, (0.0, 0.0))
    plain = simplified(shape, rules)
    worth = noticed(piece, aim, plain)
    blocking = best_blocking(model, aim, worth, effort * brief.run.effort, own_mirror(piece, stamp, place))
    if blocking is None or not blocking.block.any():
        return None
    form = Square(int(np.abs(piece.pinholes[blocking.block]).max()) + rules.margin)
    design = Design(
        number=number,
        form=form,
        pitch_mm=brief.piece.pitch_mm[0],
        worked=ROUND,
        symmetry="none",
        passives=brief.piece.passives,
        pairs=form.pairs(ROUND, brief.piece.passives),
        splits=splits(piece, blocking.block, rules.corners),
        blocks=blocks_of(piece, np.where(blocking.block, NUMBERS[CLOTH], -1)),
        fillings=(),
        prints=(Print(stamp.name, size, turn, rings, round(blocking.match, 4)),),
        seed=0,
        brief={"corners": rules.corners},
    )
    blocks = piece.pinholes[blocking.block]
    return Fall(size, turn, design, plain, lost(shape, blocks), blocking.worth, blocking.most)

"""The pool a series is chosen from: squares of the study that belong to the family, and many new ones."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import count, pairwise

from constraints.brief import Brief
from constraints.design import Design
from constraints.fillings import ALLOWED, FILLINGS
from constraints.square_sizes import largest_half_size
from constraints.stamp import Stamp
from constraints.stitches import STITCHES
from explore.bad_input import BadInput
from explore.editing.series.contrast import LEAST
from explore.editing.series.family import BORDER, STAMP, Family
from explore.editing.series.kin import kin
from explore.editing.series.order import DENSITY, FILLING, LOOSENING, PAIRS, SYMMETRY
from explore.editing.varying.cousins import cousins
from explore.editing.varying.kept import Kept
from explore.search.accepting import JobResult
from explore.search.diversity import Collection
from explore.search.search import Impossible, search

# Where few squares can be composed round a part, cousins of the chosen one make up for them; so much of them differs.
_CHANGE = (0.08, 0.6)
# New squares that are tried for, all variants together, and of each variant at the least.
WANTED, _AT_LEAST = 72, 8
# So many shares of solid are tried, and about so many sizes, the largest first, until so many on end give nothing.
_BANDS, _SIZES, _BARREN = 4, 24, 2


@dataclass(frozen=True)
class SeriesRequest:
    """What is asked for: `count` squares of the family, the chosen ones of the study among them, in an order."""

    brief: Brief
    stamps: tuple[Stamp, ...]
    study: Sequence[Design]
    chosen: Sequence[Design]
    family: Family
    order: str
    count: int


@dataclass(frozen=True)
class Member:
    """A square of the pool. source: the number it bears in the study, 0 for a new one."""

    design: Design
    source: int = 0


@dataclass(frozen=True)
class PoolBrief:
    """A brief under which members are looked for, and how many. name: what sets it apart."""

    name: str
    brief: Brief
    wanted: int


def gather(
    asked: SeriesRequest, cores: int | None = None, watch: Callable[[JobResult], None] = lambda step: None
) -> list[Member]:
    """The chosen squares, the others of the study that belong, then the new ones, in a fixed order; no doubles.

    watch: told of every job done, counted through all variants. Refused if the order and the family cannot go
    together.
    """
    numbers = {design.number for design in asked.chosen}
    pool = Collection(LEAST, asked.chosen)
    for each in asked.study:
        if each.number not in numbers and asked.family.holds(each):
            pool.takes(each)
    theirs, jobs, barren = len(pool.designs), count(), 0

    def new(designs: Iterator[Design | None]) -> int:
        """How many of these the pool takes."""
        before = len(pool.designs)
        for design in designs:
            taken = design if design is not None and pool.takes(design) else None
            watch(JobResult(next(jobs), taken))
        return len(pool.designs) - before

    for variant in variants(asked):
        if barren == _BARREN:
            break
        taken = new(_made(variant, asked, pool.designs, cores))
        # Smaller sizes have even less room.
        barren = barren + 1 if asked.order == PAIRS and not taken else 0
    missing = WANTED // 2 - (len(pool.designs) - theirs)
    if asked.family.share != STAMP and missing > 0:
        new(_cousins(asked, pool.designs, missing, cores))
    return [Member(design, design.number if i < theirs else 0) for i, design in enumerate(pool.designs)]


def wanted(asked: SeriesRequest) -> int:
    """How many new squares `gather` looks for. Refused as there."""
    return sum(variant.wanted for variant in variants(asked))


def _made(
    variant: PoolBrief, asked: SeriesRequest, pool: Sequence[Design], cores: int | None
) -> Iterator[Design | None]:
    """What every job of a variant came to that differs from the pool; nothing if its brief is proven impossible."""
    found = asked.family
    if found.share != STAMP:
        yield from kin(variant.brief, asked.stamps, found, asked.chosen[0], pool, variant.wanted, cores)
        return
    try:
        for step in search(variant.brief, *asked.stamps, kept=tuple(pool), count=variant.wanted, cores=cores):
            yield step.design if step.design is not None and found.holds(step.design) else None
    except Impossible:
        return


def _cousins(asked: SeriesRequest, pool: Sequence[Design], wanted: int, cores: int | None) -> Iterator[Design | None]:
    """What every job came to that changes the chosen square round the part.

    Nothing if the part leaves too little to change, or if that square does not keep the brief, as where she has changed
    it since: the others of the pool do without.
    """
    exemplar, found, held = asked.chosen[0], asked.family, tuple(pool)
    brief, part = _pinned(asked.brief, exemplar, found), Kept.whole(found.part.mask(exemplar.piece()))
    try:
        for step in cousins(exemplar, brief, asked.stamps, part, _CHANGE, kept_before=held, count=wanted, cores=cores):
            yield step.design if step.design is not None and found.holds(step.design) else None
    except (Impossible, BadInput):
        return


def variants(asked: SeriesRequest) -> list[PoolBrief]:
    """The briefs under which the pool is made, each with its share of the squares wanted."""
    base = _pinned(asked.brief, asked.chosen[0], asked.family)
    made = {
        PAIRS: lambda: _sizes(base, asked),
        DENSITY: lambda: _densities(base),
        SYMMETRY: lambda: _symmetries(base, asked.family),
        FILLING: lambda: _fillings(base, asked.family),
    }[asked.order]()
    share = max(_AT_LEAST, math.ceil(WANTED / len(made)))
    return [PoolBrief(name, each, share) for name, each in made.items()]


def _pinned(brief: Brief, exemplar: Design, found: Family) -> Brief:
    """Her brief for the size and the symmetry of a chosen square, and for its print if that is shared."""
    pinned = brief.changed(
        half_size=(exemplar.half_size, exemplar.half_size),
        width_mm=None,
        pitch_mm=(exemplar.pitch_mm, exemplar.pitch_mm),
        symmetry=exemplar.symmetry,
        worked=exemplar.worked,
    )
    if found.share != STAMP:
        return pinned
    shown = zip(pinned.stamps or (pinned.stamp,), exemplar.prints, strict=True)
    stamps = (replace(asked, size=(own.size, own.size), turns=(own.turn_degrees,)) for asked, own in shown)
    return replace(pinned, stamps=tuple(stamps))


def _sizes(base: Brief, asked: SeriesRequest) -> dict[str, Brief]:
    if asked.family.share == BORDER:
        raise BadInput("--order pairs needs squares of several sizes, and a border lies elsewhere in each of them")
    most = largest_half_size(base.rules.pairs, base.piece.first_way, base.piece.edge_passives)
    own = {design.half_size for design in asked.chosen}
    step = max(1, most // _SIZES)
    sizes = sorted({*own, *range(most, 2, -step)}, reverse=True)
    return {f"half-size {n}": base.changed(half_size=(n, n)) for n in sizes}


def _densities(base: Brief) -> dict[str, Brief]:
    low, high = base.rules.solid
    ends = [round(low + (high - low) * i / _BANDS, 4) for i in range(_BANDS + 1)]
    return {f"solid {a:g}-{b:g}": base.changed(solid=(a, b)) for a, b in pairwise(ends)}


def _symmetries(base: Brief, found: Family) -> dict[str, Brief]:
    return {name: base.changed(symmetry=name) for name in LOOSENING if found.part.kept_by(name)}


def _fillings(base: Brief, found: Family) -> dict[str, Brief]:
    """Her stitches with no filling, with each of them, with all; what she wants a least number of stays."""
    hers = [name for name in FILLINGS if name in base.rules.stitches]
    needed = {name for name in hers if base.rules.least.get(name) or name in found.part.fillings}
    kinds = {name: {name} | needed for name in hers}
    kinds = {"plain ground": set(needed), **kinds, "mixed": set(hers)}
    made: dict[str, Brief] = {}
    for name, kept in kinds.items():
        stitches = tuple(each for each in ALLOWED if each in kept or (each in STITCHES and each in base.rules.stitches))
        brief = base.changed(stitches=stitches)
        if brief not in made.values():
            made[name] = brief
    return made

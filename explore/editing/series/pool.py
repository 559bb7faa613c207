"""The pool a series is chosen from: squares of the study that belong to the family, and many new ones."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import count, pairwise

from constraints.brief import Brief
from constraints.design import Design
from constraints.fillings import ALLOWED, FILLINGS
from constraints.forms import Form, Square
from constraints.stamp import Stamp
from constraints.stitches import STITCHES
from explore.asking.designs import measured_as
from explore.bad_input import BadInput
from explore.editing.series.contrast import LEAST
from explore.editing.series.family import BORDER, STAMP, Family
from explore.editing.series.kin import kin
from explore.editing.series.order import DENSITY, FILLING, LOOSENING, NAMED, PAIRS, SYMMETRY
from explore.editing.varying.cousins import cousins
from explore.search.accepting import JobResult
from explore.search.diversity import Collection
from explore.search.search import Impossible, search
from explore.search.sizing import SIZING
from explore.search.workers import Hands

# Where few squares can be composed round a part, cousins of the chosen one make up for them; so much of them differs.
_CHANGE = (0.08, 0.6)
# New squares that are tried for, all variants together, and of each variant at the least.
WANTED, _AT_LEAST = 72, 8
# So many shares of solid are tried, and about so many sizes, the largest first, until so many on end give nothing.
_BANDS, _SIZES, _BARREN = 4, 24, 2
# Narrower pieces, in units, hold no block.
_LEAST_WIDTH = 6
# Forms that are composed afresh round a shared part; of others cousins alone have it.
_ROUND_PART = (Square.name,)


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
    asked: SeriesRequest, cores: Hands = None, watch: Callable[[JobResult], None] = lambda step: None
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
    share = 2 if asked.chosen[0].form.name in _ROUND_PART else 1
    missing = WANTED // share - (len(pool.designs) - theirs)
    if asked.family.share != STAMP and missing > 0:
        new(_cousins(asked, pool.designs, missing, cores))
    return [Member(design, design.number if i < theirs else 0) for i, design in enumerate(pool.designs)]


def wanted(asked: SeriesRequest) -> int:
    """How many new squares `gather` looks for. Refused as there."""
    return sum(variant.wanted for variant in variants(asked))


def _made(variant: PoolBrief, asked: SeriesRequest, pool: Sequence[Design], cores: Hands) -> Iterator[Design | None]:
    """What every job of a variant came to that differs from the pool; nothing if its brief is proven impossible."""
    found = asked.family
    if found.share != STAMP:
        if asked.chosen[0].form.name not in _ROUND_PART:
            return  # cousins alone have the part
        yield from kin(variant.brief, asked.stamps, found, asked.chosen[0], pool, variant.wanted, cores)
        return
    try:
        for step in search(variant.brief, *asked.stamps, kept=tuple(pool), count=variant.wanted, cores=cores):
            yield step.design if step.design is not None and found.holds(step.design) else None
    except Impossible:
        return


def _cousins(asked: SeriesRequest, pool: Sequence[Design], wanted: int, cores: Hands) -> Iterator[Design | None]:
    """What every job came to that changes the chosen square round the part.

    Nothing if the part leaves too little to change, or if that square does not keep the brief, as where she has changed
    it since: the others of the pool do without.
    """
    exemplar, found, held = asked.chosen[0], asked.family, tuple(pool)
    piece = exemplar.form.once(exemplar.worked, exemplar.symmetry)
    part, own = found.part.kept(piece), _pinned(asked.brief, exemplar, found)
    briefs = [own.changed(symmetry=name) for name in _looser(own, asked)] if asked.order == SYMMETRY else [own]
    for brief in briefs:
        many = math.ceil(wanted / len(briefs))
        try:
            for step in cousins(
                exemplar, brief, asked.stamps, part, _CHANGE, kept_before=held, count=many, cores=cores
            ):
                yield step.design if step.design is not None and found.holds(step.design) else None
        except (Impossible, BadInput):
            continue


def _looser(own: Brief, asked: SeriesRequest) -> list[str]:
    """The symmetries that cousins of the chosen one can have: its own, and where no part of them is composed afresh
    those that ask for less."""
    exemplar = asked.chosen[0]
    if exemplar.form.name in _ROUND_PART:
        return [own.piece.symmetry]
    return [name for name in _symmetries(own, asked) if _within(exemplar, name)]


def _within(exemplar: Design, symmetry: str) -> bool:
    """Whether every transformation of a symmetry is one of the design's own."""
    form, worked = exemplar.form, exemplar.worked
    own = {image.tobytes() for image in form.once(worked, exemplar.symmetry).images}
    return own >= {image.tobytes() for image in form.once(worked, symmetry).images}


def variants(asked: SeriesRequest) -> list[PoolBrief]:
    """The briefs under which the pool is made, each with its share of the squares wanted."""
    base = _pinned(asked.brief, asked.chosen[0], asked.family)
    made = {
        PAIRS: lambda: _sizes(base, asked),
        DENSITY: lambda: _densities(base),
        NAMED: lambda: _densities(base),
        SYMMETRY: lambda: _symmetries(base, asked),
        FILLING: lambda: _fillings(base, asked.family),
    }[asked.order]()
    share = max(_AT_LEAST, math.ceil(WANTED / len(made)))
    return [PoolBrief(name, each, share) for name, each in made.items()]


def _pinned(brief: Brief, exemplar: Design, found: Family) -> Brief:
    """Her brief for the size and the symmetry of a chosen square, and for its print if that is shared."""
    pinned = measured_as(brief, exemplar.form).changed(
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
    form, share = asked.chosen[0].form, asked.family.share
    if share == BORDER or asked.family.form is not None:
        raise BadInput(
            f"order pairs needs {form.name}s of several sizes, and a {share} lies elsewhere in each of them", of="order"
        )
    edge = form.headside and replace(form.headside, first=0)
    grown = [form.grown(units, edge) for units in range(base.rules.pairs, _LEAST_WIDTH - form.width - 1, -1)]
    briefs = {each: measured_as(base, each) for each in grown if each is not None and each.width >= _LEAST_WIDTH}
    sizing = SIZING[form.name]
    fits = [each for each, brief in briefs.items() if _pairs(each, brief) <= base.rules.pairs]
    fits = [each for each in fits if sizing.conflict(briefs[each]) is None]
    own = {_pairs(design.form, base) for design in asked.chosen}
    step = max(1, fits[0].deep // _SIZES) if fits else 1
    chosen = [each for n, each in enumerate(fits) if n % step == 0 or _pairs(each, briefs[each]) in own]
    return {f"{_pairs(each, briefs[each])} pairs": briefs[each] for each in chosen}


def _pairs(form: Form, brief: Brief) -> int:
    return form.pairs(brief.piece.first_way, brief.piece.passives)


def _densities(base: Brief) -> dict[str, Brief]:
    low, high = base.rules.solid
    ends = [round(low + (high - low) * i / _BANDS, 4) for i in range(_BANDS + 1)]
    return {f"solid {a:g}-{b:g}": base.changed(solid=(a, b)) for a, b in pairwise(ends)}


def _symmetries(base: Brief, asked: SeriesRequest) -> dict[str, Brief]:
    form, worked, part = asked.chosen[0].form, asked.chosen[0].worked, asked.family.part
    allowed = form.symmetries_allowed(worked)
    names = [name for name in LOOSENING if name in allowed and part.kept_by(form.once(worked, name))]
    return {name: base.changed(symmetry=name) for name in names}


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

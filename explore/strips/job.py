"""One job: one attempt at one strip, a pure function of the brief, the stamp and the job's number.

Frames and rectangles are searched in the same way, with a bench of their own.
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from dataclasses import dataclass, field
from functools import cached_property

import numpy as np

from constraints import rulebook
from constraints.brief import Brief, limits
from constraints.check import check
from constraints.design import Design, Print
from constraints.forms import FORMS, Form, Strip
from constraints.formula import truth
from constraints.lattice import BoolArray
from constraints.piece import Piece
from constraints.repeats import unrolled
from constraints.rules.match import match
from constraints.solver import Solver
from constraints.stamp import Stamp
from constraints.symmetry import told
from constraints.variables import Model
from explore.compose.canvas import Canvas
from explore.compose.stitching import stitched
from explore.finish import finish
from explore.job import Fault
from explore.models import block_rules, settled
from explore.strips.composing import compose
from explore.strips.laying import Berth, Laid, berths, laid
from explore.strips.measures import ANY, forms_of, symmetries

# Of each rank of berths so many are tried, and a berth is large from so much of the largest size on.
_TRIES, _LARGE = 3, 0.85


@dataclass(eq=False)
class FormBench(ABC):
    """Everything about pieces of one form and one symmetry that no single piece changes."""

    brief: Brief
    symmetry: str

    @property
    @abstractmethod
    def form(self) -> Form: ...

    @property
    @abstractmethod
    def piece(self) -> Piece:
        """What is composed: of a strip one repeat."""

    @abstractmethod
    def berths(self, stamp: Stamp) -> list[Berth]:
        """Every way to lay the stamp."""

    @abstractmethod
    def compose(self, canvas: Canvas, rng: np.random.Generator) -> tuple[str, Canvas]:
        """Lay parts round the stamp on a canvas; the name of what leads."""

    def whole(self, made: Design) -> Design:
        """What is saved, from what was composed."""
        return made

    @cached_property
    def model(self) -> Model:
        return rulebook.build(self.piece, self.brief)

    @cached_property
    def blocks(self) -> Model:
        """The block rules alone, in one stitch: for composing."""
        return block_rules(self.piece, self.brief)

    @cached_property
    def solver(self) -> Solver:
        return Solver(self.model.formula)


@dataclass(eq=False)
class StripBench(FormBench):
    """Strips of one repeat and one symmetry."""

    strip: Strip

    @property
    def form(self) -> Strip:
        return self.strip

    @cached_property
    def piece(self) -> Piece:
        return self.strip.repeat(self.symmetry)

    def berths(self, stamp: Stamp) -> list[Berth]:
        return berths(self.brief, stamp, self.piece, self.room)

    def compose(self, canvas: Canvas, rng: np.random.Generator) -> tuple[str, Canvas]:
        return compose(canvas, rng, self.room, self.brief.solid), canvas

    def whole(self, made: Design) -> Design:
        return unrolled(made, self.strip)

    @property
    def room(self) -> tuple[int, int]:
        """The first and the last column in which a block may lie all along the strip."""
        headside = self.form.headside
        fan = 0 if headside is None else headside.depth + 1
        margin = self.brief.margin
        left = fan if self.form.both else margin
        return max(left, margin), self.form.columns - 1 - max(fan, margin)


@dataclass(eq=False)
class FormWorkshop(ABC):
    """What the jobs of one brief share."""

    brief: Brief
    stamp: Stamp | None
    _laid: dict[tuple[int, Berth], Laid | None] = field(default_factory=dict)

    @abstractmethod
    def benches(self) -> list[FormBench]:
        """One for every form and symmetry that the brief allows."""

    @cached_property
    def kinds(self) -> list[tuple[FormBench, list[Berth]]]:
        """Every bench with the berths of the stamp on it; of a stamp only those that have one."""
        stamp = self.stamp
        if stamp is None:
            return [(bench, []) for bench in self.benches()]
        kinds = [(bench, bench.berths(stamp)) for bench in self.benches()]
        return [(bench, places) for bench, places in kinds if places]

    def run(self, job: int) -> tuple[Design | None, str]:
        """The piece of this job, or None and why not. Raises Fault if the second check disagrees."""
        rng = np.random.default_rng([self.brief.seed, job])
        if not self.kinds:
            return None, no_place(self.brief)
        number, chosen = int(rng.integers(len(self.kinds))), None
        if self.stamp is not None:
            number, chosen = self._laid_first(rng)
            if chosen is None:
                return None, f"no blocks match the stamp by {self.brief.least_match:g} there"
        bench = self.kinds[number][0]
        name, canvas = bench.compose(_canvas(bench, chosen), rng)
        values = stitched(bench.model, canvas, rng)
        extra = None if chosen is None else match(bench.model, chosen.target, self.brief.least_match)
        found, note = settled(bench.model, bench.solver, values, extra)
        if found is None:
            return None, note
        design = self._square(bench, chosen, found, name)
        findings = check(design)
        if findings:
            raise Fault(f"job {job} with seed {self.brief.seed}: {findings[0]}")
        return design, ""

    def _laid_first(self, rng: np.random.Generator) -> tuple[int, Laid | None]:
        """The bench and the stamp on it, laid in the first of a few berths of each rank that blocks can show."""
        number = 0
        for rank in self._ranks:
            for place in rng.permutation(len(rank))[:_TRIES]:
                number, berth = rank[place]
                found = self._place(number, berth)
                if found is not None:
                    return number, found
        return number, None

    @cached_property
    def _ranks(self) -> list[list[tuple[int, Berth]]]:
        """Berths with the number of their bench: large and upright, upright, all others. Of sizes or turns that she
        named none comes before another."""
        every = [(number, berth) for number, (_, places) in enumerate(self.kinds) for berth in places]
        upright = [each for each in every if self.brief.turns or each[1].turn == 0.0]
        most = max((berth.size for _, berth in upright), default=0.0)
        large = [each for each in upright if self.brief.stamp_size or each[1].size >= _LARGE * most]
        return [large, [each for each in upright if each not in large], [each for each in every if each not in upright]]

    def _place(self, number: int, berth: Berth) -> Laid | None:
        if (number, berth) not in self._laid:
            self._laid[number, berth] = laid(self.brief, self.kinds[number][0].blocks, berth)
        return self._laid[number, berth]

    def _square(self, bench: FormBench, chosen: Laid | None, values: BoolArray, composition: str) -> Design:
        stamp = None
        if chosen is not None and self.stamp is not None:
            stamp = Print(
                name=self.stamp.name,
                size=chosen.size,
                turn_degrees=chosen.turn,
                outlines=chosen.rings,
                match=round(chosen.target.match(truth(values, bench.model.block)), 4),
            )
        made = finish(
            bench.model,
            values,
            pitch_mm=round(sum(self.brief.pitch_mm) / 2, 2),
            pairs=bench.form.pairs(self.brief.worked, self.brief.passives),
            stamp=stamp,
            brief=limits(self.brief),
            composition=composition,
            form=bench.form,
        )
        return bench.whole(made)


def no_place(brief: Brief) -> str:
    """What is told where no form of the brief has room for the stamp."""
    return f"{brief.stamp} finds no place in any {FORMS[brief.form].composed} of this size{_with_symmetry(brief)}"


def _with_symmetry(brief: Brief) -> str:
    """The symmetry of a brief for a sentence; "" where the search may take any."""
    return "" if brief.symmetry == ANY else f" with {told(brief.symmetry)}"


def _canvas(bench: FormBench, chosen: Laid | None) -> Canvas:
    block = bench.piece.fan.copy()
    keep_off = np.zeros(len(block), dtype=np.bool_)
    if chosen is not None:
        block |= chosen.block
        keep_off[chosen.target.inside] = keep_off[chosen.target.near] = True
    return Canvas(bench.blocks, block, keep_off & ~bench.piece.fan)


class StripWorkshop(FormWorkshop):
    """Strips of every repeat and symmetry that the brief allows."""

    def benches(self) -> list[FormBench]:
        return [
            StripBench(self.brief, name, form)
            for form in forms_of(self.brief)
            for name in symmetries(self.brief, form)
        ]

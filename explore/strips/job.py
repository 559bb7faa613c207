"""One job: one attempt at one strip, a pure function of the brief, the stamp and the job's number."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from functools import cached_property

import numpy as np

from constraints import model
from constraints.brief import Brief, limits
from constraints.check import check
from constraints.forms import Strip, pairs_needed
from constraints.formula import Linear, truth
from constraints.lattice import BoolArray
from constraints.piece import ACROSS, Piece
from constraints.repeats import unrolled
from constraints.rules.match import match
from constraints.solver import Solver
from constraints.square import Print, Square
from constraints.stamp import Stamp
from constraints.variables import Lace
from explore.compose.canvas import Canvas
from explore.compose.stitching import stitched
from explore.finish import finish
from explore.job import Fault
from explore.strips.composing import compose
from explore.strips.laying import Berth, Laid, berths, laid
from explore.strips.measures import forms_of, symmetries

_SOLVE_EFFORT = 0.5


@dataclass(eq=False)
class StripBench:
    """Everything about strips of one repeat and one symmetry that no single strip changes."""

    brief: Brief
    form: Strip
    symmetry: str

    @cached_property
    def piece(self) -> Piece:
        return self.form.repeat(self.symmetry)

    @cached_property
    def lace(self) -> Lace:
        return model.lace(self.piece, self.brief)

    @cached_property
    def blocks(self) -> Lace:
        """The block rules alone, in one stitch: for composing."""
        stitch = next(name for name in ("cloth", "half", "whole") if name in self.brief.stitches)
        plain = replace(self.brief, stitches=(stitch,), least={}, solid=(0.0, 1.0))
        return model.lace(self.piece, plain, model.BLOCK_RULES)

    @cached_property
    def solver(self) -> Solver:
        return Solver(self.lace.formula)

    @property
    def room(self) -> tuple[int, int]:
        """The first and the last column in which a block may lie all along the strip."""
        headside = self.form.headside
        fan = 0 if headside is None else headside.depth + 1
        margin = self.brief.margin
        left = fan if self.form.both else margin
        return max(left, margin), self.form.columns - 1 - max(fan, margin)


@dataclass(eq=False)
class StripWorkshop:
    """What the jobs of one brief share."""

    brief: Brief
    stamp: Stamp | None
    _laid: dict[tuple[int, str, Berth], Laid | None] = field(default_factory=dict)

    @cached_property
    def _kinds(self) -> list[tuple[StripBench, list[Berth]]]:
        """Every repeat with every symmetry that the brief allows, and the berths of the stamp in it."""
        found = []
        for form in forms_of(self.brief):
            for name in symmetries(self.brief, form):
                bench = StripBench(self.brief, form, name)
                places = [] if self.stamp is None else berths(self.brief, self.stamp, bench.piece, bench.room)
                if places or self.stamp is None:
                    found.append((bench, places))
        return found

    def run(self, job: int) -> tuple[Square | None, str]:
        """The strip of this job, or None and why not. Raises Fault if the second check disagrees."""
        rng = np.random.default_rng([self.brief.seed, job])
        if not self._kinds:
            return None, "the stamp finds no place in any repeat"
        bench, places = self._kinds[int(rng.integers(len(self._kinds)))]
        chosen = None
        if places:
            chosen = self._place(bench, places[int(rng.integers(len(places)))])
            if chosen is None:
                return None, f"no blocks match the stamp by {self.brief.least_match:g} there"
        block = bench.piece.fan.copy()
        keep_off = np.zeros(len(block), dtype=np.bool_)
        if chosen is not None:
            block |= chosen.block
            keep_off[chosen.target.inside] = keep_off[chosen.target.near] = True
        canvas = Canvas(bench.blocks, block, keep_off & ~bench.piece.fan)
        name = compose(canvas, rng, bench.room, self.brief.solid)
        values = stitched(bench.lace, canvas, rng)
        extra = None if chosen is None else match(bench.lace, chosen.target, self.brief.least_match)
        found, note = self._settle(bench, values, extra)
        if found is None:
            return None, note
        square = self._square(bench, chosen, found, name)
        findings = check(square)
        if findings:
            raise Fault(f"job {job} with seed {self.brief.seed}: {findings[0]}")
        return square, ""

    def _place(self, bench: StripBench, berth: Berth) -> Laid | None:
        key = (bench.form.rows, bench.symmetry, berth)
        if key not in self._laid:
            self._laid[key] = laid(self.brief, bench.blocks, berth)
        return self._laid[key]

    def _settle(self, bench: StripBench, values: BoolArray, extra: Linear | None) -> tuple[BoolArray | None, str]:
        """The composition itself if it keeps every rule, else the solution that the solver reaches from it."""
        formula = bench.lace.formula
        values = formula.complete(values)
        matched = extra is None or extra.least <= int(extra.weights @ values[extra.variables])
        if matched and not formula.broken(values):
            return values, ""
        answer = bench.solver.solve(values, _SOLVE_EFFORT * self.brief.effort, extra)
        return answer.values, answer.status.value

    def _square(self, bench: StripBench, chosen: Laid | None, values: BoolArray, composition: str) -> Square:
        stamp = None
        if chosen is not None and self.stamp is not None:
            stamp = Print(
                name=self.stamp.name,
                size=chosen.size,
                turn_degrees=chosen.turn,
                outlines=chosen.rings,
                match=round(chosen.target.match(truth(values, bench.lace.block)), 4),
            )
        repeat = finish(
            bench.lace,
            values,
            pitch_mm=round(sum(self.brief.pitch_mm) / 2, 2),
            pairs=pairs_needed(bench.form, ACROSS, self.brief.passives),
            stamp=stamp,
            brief=limits(self.brief),
            composition=composition,
            form=bench.form,
        )
        return unrolled(repeat, bench.form)

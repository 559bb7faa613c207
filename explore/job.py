"""One job: one attempt at one square, a pure function of the brief, the stamp and the job's number."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

from constraints.brief import Brief, limits, sizes
from constraints.check import check
from constraints.design import Design, Print
from constraints.formula import truth
from constraints.lattice import BoolArray, IntArray
from constraints.rules.match import match
from constraints.stamp import Stamp
from explore.bench import Bench
from explore.compose.canvas import Canvas
from explore.compose.plans import Plan, compose, draw_plan, top_up
from explore.compose.stitching import stitched
from explore.finish import finish
from explore.laying.laid import Laid
from explore.models import settled

# What the figures of a composition would cost it, as a share of solid, if they took up all of its corner lines.
_OVER_LINES = 1.0


class Fault(RuntimeError):
    """The second check refuses a square that the model allowed: a defect of the program, never of the brief."""


@dataclass(eq=False)
class Workshop:
    """What the jobs of one brief share: a bench for every size the brief allows."""

    brief: Brief
    stamp: Stamp | None
    _benches: dict[int, Bench] = field(default_factory=dict)

    def bench(self, number: int) -> Bench:
        allowed = sizes(self.brief)
        chosen = number % len(allowed)
        if chosen not in self._benches:
            self._benches[chosen] = Bench(self.brief, self.stamp, allowed[chosen], len(allowed))
        return self._benches[chosen]

    def run(self, job: int, laid: Laid | None) -> tuple[Design | None, str]:
        """The square of this job round a laid stamp, or None and why not.

        Raises Fault if the second check disagrees.
        """
        rng = np.random.default_rng([self.brief.seed, job])
        bench = self.bench(job)
        plan, canvas = _composed(bench, laid, job, rng)
        values = stitched(bench.model, canvas, rng)
        extra = None if laid is None else match(bench.model, laid.target, self.brief.least_match)
        found, note = settled(bench.model, bench.solver, values, extra)
        if found is None:
            return None, note
        design = self._square(bench, laid, found, plan.name)
        findings = check(design)
        if findings:
            raise Fault(f"job {job} with seed {self.brief.seed}: {findings[0]}")
        return design, ""

    def _square(self, bench: Bench, laid: Laid | None, values: BoolArray, composition: str) -> Design:
        stamp = None
        if laid is not None and self.stamp is not None:
            block = truth(values, bench.model.block)
            stamp = Print(
                name=self.stamp.name,
                size=laid.place.size,
                turn_degrees=laid.place.turn,
                outlines=laid.rings,
                match=round(laid.target.match(block), 4),
                reverse=laid.target.reverse,
            )
        return finish(
            bench.model,
            values,
            pitch_mm=bench.size.pitch_mm,
            pairs=bench.size.pairs,
            stamp=stamp,
            brief=limits(self.brief),
            composition=composition,
            form=bench.form,
        )


def _composed(bench: Bench, laid: Laid | None, job: int, rng: np.random.Generator) -> tuple[Plan, Canvas]:
    """The best of a few compositions round the stamp."""
    best: tuple[float, Plan, Canvas] | None = None
    for _ in range(3):
        canvas = _canvas(bench, laid)
        half, margin = bench.inner, bench.brief.margin
        own = (canvas.block | canvas.keep_off) & ~bench.piece.fan
        taken = np.abs(bench.piece.pinholes[own]).max(initial=0)
        plan = draw_plan(
            rng, job, half, bench.brief.symmetry, bench.brief.narrowest, bench.brief.solid, half - margin - int(taken)
        )
        compose(canvas, plan, rng)
        top_up(canvas, plan, rng)
        score = _order(canvas, plan) - _OVER_LINES * _over_lines(canvas, bench.links)
        if best is None or score > best[0]:
            best = (score, plan, canvas)
    assert best is not None
    return best[1], best[2]


def _canvas(bench: Bench, laid: Laid | None) -> Canvas:
    block = bench.piece.fan.copy()
    keep_off = np.zeros(len(block), dtype=bool)
    if laid is not None and laid.blocking is not None:
        block |= laid.blocking.block
        keep_off[laid.target.inside] = keep_off[laid.target.near] = True
    return Canvas(bench.blocks, block, keep_off)


def _over_lines(canvas: Canvas, links: IntArray) -> float:
    """The share of the corner lines that blocks laid round the stamp go over."""
    return float((canvas.part[links] > 0).all(axis=1).mean()) if len(links) else 0.0


def _order(canvas: Canvas, plan: Plan) -> float:
    """How well a composition is filled: near its share of solid, no field left too wide to be worth filling."""
    short = max(0.0, plan.least_solid - canvas.solid)
    empty = 0.01 * float(canvas.room().max()) / plan.manner.size
    return -10 * short - abs(canvas.solid - plan.manner.most_solid) - empty

"""What goes round the stamps of a square: figures that the solver chooses, or ornaments where none of them fit."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from constraints.brief import Brief
from constraints.lattice import IntArray
from explore.search.compose.canvas import Canvas
from explore.search.compose.plans import Plan, compose, draw_plan, top_up
from explore.search.composing.candidates import figures
from explore.search.composing.choosing import chosen
from explore.search.composing.manners import MANNERS
from explore.search.squares.placing import Placing

# What the figures of a composition would cost it, as a share of solid, if they took up all of its corner lines.
_OVER_LINES = 1.0
# Compositions of ornaments that a job tries.
_TRIES = 3
# Share of all pinholes that figures add to a print, and that they take alone.
_ADDED, _ALONE = (0.06, 0.2), (0.26, 0.42)
_ABOUT = 0.03


def composed(placing: Placing, fresh: Callable[[], Canvas], job: int, rng: np.random.Generator) -> tuple[str, Canvas]:
    """A composition, and what leads in it. fresh: a canvas that holds the stamps alone."""
    canvas = fresh()
    manner = _chosen(canvas, job, placing.brief, rng)
    if manner:
        return manner, canvas
    plan, canvas = _drawn(placing, fresh, job, rng)
    return plan.name, canvas


def _drawn(placing: Placing, fresh: Callable[[], Canvas], job: int, rng: np.random.Generator) -> tuple[Plan, Canvas]:
    """The best of a few compositions of ornaments, with its plan."""
    best: tuple[float, Plan, Canvas] | None = None
    for _ in range(_TRIES):
        canvas = fresh()
        own = (canvas.block | canvas.keep_off) & ~canvas.piece.fan
        plan = planned(placing, canvas, placing.room_for_border(own), job, rng)
        score = _order(canvas, plan) - _OVER_LINES * _over_lines(canvas, placing.links)
        if best is None or score > best[0]:
            best = (score, plan, canvas)
    assert best is not None
    return best[1], best[2]


def _chosen(canvas: Canvas, job: int, brief: Brief, rng: np.random.Generator) -> str:
    """Lay the figures that look best together on a canvas that holds the stamps alone; the name of their manner, "" if
    none of them fit."""
    names = list(MANNERS)
    name = names[job % len(names)]
    least, most = brief.rules.solid
    after = canvas.solid + float(rng.uniform(*_ADDED)) if canvas.solid else float(rng.uniform(*_ALONE))
    after = min(max(after, least), most)
    every = figures(canvas, MANNERS[name], rng)
    # Where nothing is about as solid as it is after, whatever the brief allows.
    for span in ((max(least, after - _ABOUT), min(most, after + _ABOUT)), (least, most)):
        found = chosen(canvas, every, MANNERS[name], span, brief.run.effort, rng)
        if found:
            break
    canvas.lay([("trail" if each.running else "figure", each.places) for each in found])
    return name if found else ""


def planned(placing: Placing, canvas: Canvas, free: int, job: int, rng: np.random.Generator) -> Plan:
    """The plan after which a composition was laid on the canvas. free: units for a border."""
    brief = placing.brief
    plan = draw_plan(rng, job, placing.inner, brief.piece.symmetry, brief.rules.narrowest, brief.rules.solid, free)
    compose(canvas, plan, rng)
    top_up(canvas, plan, rng)
    return plan


def _over_lines(canvas: Canvas, links: IntArray) -> float:
    """The share of the corner lines that blocks laid round the stamp go over."""
    return float((canvas.part[links] > 0).all(axis=1).mean()) if len(links) else 0.0


def _order(canvas: Canvas, plan: Plan) -> float:
    """How well a composition is filled: near its share of solid, no field left too wide to be worth filling."""
    short = max(0.0, plan.least_solid - canvas.solid)
    empty = 0.01 * float(canvas.clearance().max()) / plan.manner.size
    return -10 * short - abs(canvas.solid - plan.manner.most_solid) - empty

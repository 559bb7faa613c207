"""What goes round the stamps of a square: figures that the solver chooses, or ornaments where none of them fit."""

from __future__ import annotations

from collections.abc import Callable, Collection

import numpy as np

from constraints.brief import Brief
from constraints.lattice import IntArray
from explore.search.compose.canvas import Canvas
from explore.search.compose.plans import Plan, compose, draw_plan, top_up
from explore.search.composing.candidates import desk_of, offered, repertory
from explore.search.composing.choosing import chosen
from explore.search.composing.families import FAMILIES
from explore.search.composing.manners import MANNERS
from explore.search.squares.placing import Placing

# What the figures of a composition would cost it, as a share of solid, if they took up all of its corner lines.
_OVER_LINES = 1.0
# A print that stands on its own, on a ground.
ALONE = "alone"
# Units from the centre within which something of such a print lies.
_MIDDLE = 4
# Compositions of ornaments that a job tries.
_TRIES = 3
# Share of all pinholes that figures add to a print, and that they take alone.
_ADDED, _ALONE = (0.06, 0.2), (0.26, 0.42)
_ABOUT = 0.05
# Where so few figures have room, only the first jobs choose among them, or all squares would be the same; on larger
# squares than small ones other prints and places make the difference.
_FEW, _FEW_LARGER = 60, 10
# So many manners a job tries, of those for which there is room.
_MANNERS_TRIED = 3


def composed(placing: Placing, fresh: Callable[[], Canvas], job: int, rng: np.random.Generator) -> tuple[str, Canvas]:
    """A composition, and what leads in it. fresh: a canvas that holds the stamps alone."""
    canvas = fresh()
    manner = _chosen(canvas, job, placing.brief, rng)
    if not manner and not canvas.small and _print_enough(canvas, placing.brief):
        # What is drawn where no figure has room would be crumbs about the print.
        manner = ALONE
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
    in none something that leads it fits."""
    least, most = brief.rules.solid
    after = canvas.solid + float(rng.uniform(*_ADDED)) if canvas.solid else float(rng.uniform(*_ALONE))
    after = min(max(after, least), most)
    every = repertory(canvas)
    if len(every) < (_FEW if canvas.small else _FEW_LARGER) and job:
        return ""
    fit = _fitting({each.family for each in every}, beside_print=canvas.solid > 0)
    # Jobs come back to a place after a dozen: then it is the next manner's turn.
    turn = job + job // len(MANNERS)
    desk = desk_of(canvas)
    if _print_enough(canvas, brief) and (desk.print & (desk.away <= _MIDDLE)).any():
        fit.append(ALONE)
    for name in (fit[(turn + more) % len(fit)] for more in range(min(_MANNERS_TRIED, len(fit)))):
        if name == ALONE:
            return name
        some = offered(every, MANNERS[name], rng)
        # Where nothing is about as solid as it is after, whatever the brief allows.
        for span in ((max(least, after - _ABOUT), min(most, after + _ABOUT)), (least, most)):
            found = chosen(canvas, some, MANNERS[name], span, brief.run.effort, rng)
            if any(each.family in MANNERS[name].lead for each in found):
                canvas.lay([("trail" if each.running else "figure", each.places) for each in found])
                return name
    return ""


def _print_enough(canvas: Canvas, brief: Brief) -> bool:
    """Whether a canvas holds a print, and as much of it as is to be solid."""
    return canvas.solid > 0 and canvas.solid >= brief.rules.solid[0]


def _fitting(families: Collection[str], beside_print: bool) -> list[str]:
    """The manners of which something that leads is among families of figures. What closes round a print becomes it
    more than what stands beside it, and that more than what only stops there."""
    fit = [name for name, manner in MANNERS.items() if any(each in families for each in manner.lead)]
    if not beside_print:
        return fit
    closed = [name for name in fit if all(not FAMILIES[each].ends for each in MANNERS[name].lead)]
    running = [name for name in fit if any(FAMILIES[each].running for each in MANNERS[name].lead)]
    return [*closed, *running] or fit


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

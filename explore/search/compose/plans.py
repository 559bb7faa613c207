"""Whole compositions: which border and ornaments, in which order, with what proportions.

A plan says how deep its border is, so that the stamp keeps the room it needs; then its parts are laid round
the stamp. Every part is kept only if all block rules hold.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from explore.search.compose.borders import Border, draw_border, lay_border
from explore.search.compose.canvas import Canvas
from explore.search.compose.ornaments import INNER, Proportions, sprigs
from explore.search.compose.parts import Random


@dataclass(frozen=True)
class Plan:
    """A composition: its border, the names of its ornaments in the order of laying, and their manner.

    least_solid: share of solid that it must reach.
    """

    name: str
    border: Border
    inner: tuple[str, ...]
    manner: Proportions
    least_solid: float


# name: borders it may take, then the inner parts in the order of laying.
PLANS: dict[str, tuple[tuple[str, ...], tuple[str, ...]]] = {
    "border trail": (("trail", "double trail"), ("medallion", "sprigs")),
    "zigzag trail": (("zigzag",), ("sprigs", "medallion")),
    "nested squares": (("trail", "diamonds"), ("nested", "medallion")),
    "corner angles": (("angles",), ("rungs", "medallion", "sprigs")),
    "radiating bars": (("trail", "zigzag", "diamonds"), ("rays", "medallion", "sprigs")),
    "rows of diamonds": (("diamonds",), ("bar frame", "medallion", "sprigs")),
    "chevrons": (("trail", "diamonds", "open"), ("chevrons", "rungs", "medallion")),
    "pinwheel": (("trail", "zigzag"), ("pinwheel", "medallion", "sprigs")),
    "stamp on open ground": (("trail", "zigzag", "diamonds"), ()),
    "bar frame": (("trail", "angles", "open"), ("bar frame", "medallion", "sprigs")),
}


# By so much a square may pass its least share of solid when it is topped up.
_TOLERANCE = 0.04


def draw_plan(
    rng: Random, job: int, half_size: int, symmetry: str, narrowest: int, solid: tuple[float, float], most_border: int
) -> Plan:
    """Choose a composition and its proportions; its border leaves the stamp the room it needs.

    Jobs take the plans in turn, so that a sheet shows them all.
    """
    names = [name for name in PLANS if name != "pinwheel" or symmetry in ("quarter-turn", "half-turn", "none")]
    name = names[(job + int(rng.integers(0, 2))) % len(names)]
    borders, inner = PLANS[name]
    low, high = solid
    return Plan(
        name=name,
        border=draw_border(rng, half_size, narrowest, borders, most_border),
        inner=inner,
        manner=Proportions(
            size=max(narrowest, int(rng.integers(2, 5))),
            alike=bool(rng.random() < 0.75),
            most_solid=low + (high - low) * float(rng.uniform(0.25, 0.75)),
        ),
        least_solid=low,
    )


def compose(canvas: Canvas, plan: Plan, rng: Random) -> None:
    """Lay the border and the inner parts of a plan on a canvas that holds the stamp."""
    lay_border(canvas, plan.border, rng, plan.manner)
    for name in plan.inner:
        INNER[name](canvas, rng, plan.manner)


def top_up(canvas: Canvas, plan: Plan, rng: Random) -> None:
    """Lay further ornaments until the least share of solid is reached, or nothing more fits."""
    fuller = replace(plan.manner, most_solid=max(plan.manner.most_solid, plan.least_solid + _TOLERANCE))
    for name in ("bar frame", "medallion", "rungs", "sprigs"):
        if canvas.solid >= plan.least_solid:
            return
        INNER[name](canvas, rng, fuller)
    for size in (plan.manner.size, plan.manner.size + 1, canvas.model.rules.narrowest):
        # Under the square's own symmetry alone more places are free.
        sprigs(canvas, rng, replace(fuller, size=size, alike=False), plan.least_solid)

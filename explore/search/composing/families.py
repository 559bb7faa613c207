"""The families of figures. One table."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from constraints.lattice import BoolArray
from explore.search.compose.canvas import ORDERLY
from explore.search.compose.parts import Random
from explore.search.composing import courses, motifs, rings, rows
from explore.search.composing.desk import Desk

# Symmetries of what has an above and a below; of what leans.
UPRIGHT = ("upright-mirror",)
TURNING = ("quarter-turn", "half-turn")
# Pinholes that any figure is wide at the most.
WIDEST = 12


@dataclass(frozen=True)
class FigureFamily:
    """draw: one of its figures at random, with one of its images at least; None if the square has none. running:
    whether it goes all round, and is not taken for a part of a print. ends: whether it stops amid the ground, as a bar
    does and a diamond does not. row: whether its pieces stand in a row along a side. orders: the symmetries that it may
    take, the fullest first."""

    draw: Callable[[Desk, Random], BoolArray | None]
    running: bool = False
    ends: bool = False
    row: bool = False
    orders: tuple[str, ...] = ORDERLY


FAMILIES: dict[str, FigureFamily] = {
    "square": FigureFamily(rings.square, True),
    "diamond ring": FigureFamily(rings.diamond, True),
    "octagon": FigureFamily(rings.octagon, True),
    "bastion": FigureFamily(rings.bastion, True),
    "star": FigureFamily(rings.star, True),
    "zigzag": FigureFamily(rings.zigzag, True),
    "dentil": FigureFamily(rings.dentil, True),
    "contour": FigureFamily(rings.contour, True),
    "outline": FigureFamily(courses.outline, True, orders=UPRIGHT),
    "shield": FigureFamily(courses.shield, True, orders=UPRIGHT),
    "diamond": FigureFamily(motifs.diamond),
    "bar": FigureFamily(motifs.bar, ends=True),
    "frame": FigureFamily(motifs.frame),
    "vee": FigureFamily(motifs.vee, ends=True),
    "corner": FigureFamily(motifs.corner, ends=True),
    "rungs": FigureFamily(motifs.rungs, ends=True),
    "rosette": FigureFamily(motifs.rosette),
    "chequer": FigureFamily(motifs.chequer),
    "pinwheel": FigureFamily(motifs.pinwheel, ends=True, orders=TURNING),
    "diamonds": FigureFamily(rows.diamonds, row=True),
    "chain": FigureFamily(rows.chain, row=True),
    "herringbone": FigureFamily(rows.herringbone, ends=True, row=True),
}

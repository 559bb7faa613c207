"""How surely a print is known in the blocks that show it: what an eye weighs, and the verdict.

One copy is looked at, upright, as `picture` shows it. What the eye weighs is fitted to what eyes said: prints of
signs, blocked at 6 to 24 pitches, were named blind from a list of 72; the weights come from half of the signs. On the
others, what is called known or known at once nine eyes of ten name, what is called not known three of four do not, and
of what is called hardly known about half is named (the tests hold every answer). Two eyes agree on 82 cards of 100.
From which score a print is called known was set where it holds among other figures too, in whole squares.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
import shapely

from constraints.brief import AT_ONCE, HARDLY, KNOWING, KNOWN, UNKNOWN
from constraints.design import Design, Print, Ring
from constraints.lattice import FloatArray, IntArray
from constraints.stitches import HALF
from gallery.seeing.picture import BLUR, SIDE, PrintBox, blurred, drawn, laced
from gallery.seeing.signs import signs

# Samples a side of a pixel of blocks.
_SAMPLES = 3
# Directions of bounds are counted in so many cells a side, in so many bins of a whole turn; before it the picture is
# blurred by so many pixels.
_CELLS, _BINS, _SOFT, _SPREAD = 8, 6, 2.0, 0.7
_WORST = 0.15
# Fitted to the eyes' answers on half of the signs, by logistic regression; from which score which verdict holds.
_WEIGHTS = np.array([-3.73, 2.76, 3.43, 0.32, 0.04])
_LEAST = ((AT_ONCE, 1.1), (KNOWN, 0.6), (HARDLY, -0.6), (UNKNOWN, -np.inf))
# What lies farther from a print's convex hull, lattice units, is no part of it to the eye.
_ROUND = 2.0
# Shapes that have more than this in common with the print are no others: nobody could tell them apart.
_TWIN = 0.85
# Half stitch covers so much of what cloth covers: two threads in three pass (judged by eye, no source).
_DENSITY = {HALF: 0.7}
# What is left of a cell of cloth that is an eye: its hole is about half as wide and as high (judged by eye, no source).
_EYE = 0.6
# Outlines are saved to thousandths of a unit.
_ROUNDED = 0.01


# The verdicts in words.
KNOWN_AS = {AT_ONCE: "known at once", KNOWN: "known", HARDLY: "hardly known", UNKNOWN: "not known"}


@dataclass(frozen=True)
class Seen:
    """What an eye sees of a print.

    overlap: of the blurred pictures, 0 to 1. outline: how well it is kept where it is kept worst, 0 to 1. margin: by
    how much the print is nearer than the nearest sign, in likeness. size: pitches.
    """

    overlap: float
    outline: float
    margin: float
    size: float

    @property
    def score(self) -> float:
        """How surely it is known: the logarithm of the odds that an eye names it."""
        return float(_WEIGHTS @ (1.0, self.overlap, self.outline, self.margin, np.log(self.size)))

    @property
    def known(self) -> str:
        """The verdict, one of KNOWING."""
        return next(name for name, least in _LEAST if self.score >= least)


def seen(printed: Print, pinholes: IntArray, density: FloatArray) -> Seen:
    """What is seen of a print in blocks: their pinholes, (k, 2) lattice units, each with its density, (k,) 0 to 1."""
    turn = _turn(printed.turn_degrees)
    wanted = _wanted(tuple(tuple(map(tuple, np.array(ring) @ turn)) for ring in one_copy(printed)))
    box = wanted.box
    lace = laced(pinholes, density, box.points(_SAMPLES) @ turn.T)
    if printed.reverse:
        lace = 1.0 - lace
    lace = lace * wanted.about
    deviation = 2 * BLUR / box.pixel
    soft = blurred(lace, _SOFT)
    shown = direction(bounds(soft, _CELLS))
    return Seen(
        round(overlap(blurred(wanted.picture, deviation), blurred(lace, deviation)), 4),
        round(kept_at_worst(wanted.fine, bounds(soft, 2 * _CELLS)), 4),
        round(float(wanted.faces @ shown) - float((wanted.others @ shown).max()), 4),
        round(box.reach, 2),
    )


@dataclass(frozen=True, eq=False)
class _Wanted:
    """What an eye knows of a print whatever shows it. picture, about: of it and of what lies about it, without any
    blur. fine: its bounds in cells of half the side. faces: the direction of its bounds; others: (k, n) those of the
    signs that it could be taken for."""

    box: PrintBox
    picture: FloatArray
    about: FloatArray
    fine: FloatArray
    faces: FloatArray
    others: FloatArray


@lru_cache(maxsize=64)
def _wanted(upright: tuple[Ring, ...]) -> _Wanted:
    """The same print is looked at in one placement after another, and in each in many blocks."""
    box = PrintBox.round(upright)
    picture = drawn(upright, box)
    own = blurred(picture, _SOFT)
    others = np.array([each for other, each in every_sign() if overlap(own, other) <= _TWIN])
    faces = direction(bounds(own, _CELLS))
    return _Wanted(box, picture, drawn(_about(upright), box), bounds(own, 2 * _CELLS), faces, others)


def each_seen(design: Design) -> list[Seen]:
    """The same of each print in a design."""
    pinholes = np.array([place for block in design.blocks for place in block.pinholes], dtype=np.int64).reshape(-1, 2)
    eyes = set(design.eyes)
    density = np.array(
        [
            _EYE if place in eyes else _DENSITY.get(block.stitch, 1.0)
            for block in design.blocks
            for place in block.pinholes
        ]
    )
    return [seen(each, pinholes, density) for each in design.prints]


def seen_in(design: Design) -> Seen:
    """The same of the print in a design that is known least surely."""
    return min(each_seen(design), key=lambda each: each.score)


def seen_if_any(design: Design) -> Seen | None:
    """The same; None without a print, or without its outlines in the file."""
    return seen_in(design) if design.prints and all(each.outlines for each in design.prints) else None


def known_as(design: Design) -> str:
    """How surely the prints in a design are known, in words: of several each, unless all are as surely; "" where none
    is seen."""
    if seen_if_any(design) is None:
        return ""
    return design.of_each([KNOWN_AS[each.known] for each in each_seen(design)])


def least_score(known: str) -> float:
    """From which score a verdict holds, one of KNOWING."""
    return dict(_LEAST)[known]


def surely(known: str, least: str) -> bool:
    """Whether one verdict is at least as sure as another."""
    return KNOWING.index(known) >= KNOWING.index(least)


def one_copy(printed: Print) -> tuple[Ring, ...]:
    """The rings of the first copy of a print: as many as its size holds."""
    points = np.empty((0, 2))
    for number, ring in enumerate(printed.outlines):
        points = np.concatenate([points, ring])
        if np.ptp(points, axis=0).max() > 2 * printed.size + _ROUNDED:
            return printed.outlines[:number]
    return printed.outlines


def _about(rings: Sequence[Ring]) -> list[Ring]:
    """The ring round outlines within which things seem to be part of them."""
    hull = shapely.MultiPoint([point for ring in rings for point in ring]).convex_hull.buffer(_ROUND)
    return [tuple((float(x), float(y)) for x, y in hull.exterior.coords[:-1])]


def _turn(degrees: float) -> FloatArray:
    """Turns points clockwise on the page, y down."""
    angle = np.radians(degrees)
    return np.array([[np.cos(angle), -np.sin(angle)], [np.sin(angle), np.cos(angle)]])


@lru_cache(maxsize=1)
def every_sign() -> list[tuple[FloatArray, FloatArray]]:
    """Of every sign its picture, blurred, and its bounds."""
    soft = [blurred(drawn(rings, PrintBox.round(rings)), _SOFT) for rings in signs().values()]
    return [(each, direction(bounds(each, _CELLS))) for each in soft]


def overlap(one: FloatArray, other: FloatArray) -> float:
    """What two pictures have in common, as a share of what either has."""
    return float(np.minimum(one, other).sum() / max(np.maximum(one, other).sum(), 1e-9))


def bounds(picture: FloatArray, cells: int) -> FloatArray:
    """Where a picture has bounds and which way they face, (cells, cells, _BINS): a histogram of gradients.

    After Navneet Dalal and Bill Triggs, Histograms of Oriented Gradients for Human Detection, 2005 (from memory).
    """
    down, right = np.gradient(picture)
    strength = np.hypot(right, down)
    bins = np.arctan2(down, right) % (2 * np.pi) / (2 * np.pi) * _BINS
    first = np.floor(bins).astype(int)
    share = bins - first
    step = SIDE // cells
    counted = np.zeros((cells, cells, _BINS))
    for number in range(_BINS):
        here = strength * ((first % _BINS == number) * (1 - share) + ((first + 1) % _BINS == number) * share)
        counted[:, :, number] = here.reshape(cells, step, cells, step).sum(axis=(1, 3))
    # A bound that lies in the next cell is not lost.
    away = np.arange(cells)[:, None] - np.arange(cells)
    spread = np.exp(-0.5 * (away / _SPREAD) ** 2)
    spread /= spread.sum(axis=1, keepdims=True)
    # Down the columns, then along the rows.
    down_spread = (spread @ counted.reshape(cells, -1)).reshape(counted.shape)
    soft: FloatArray = spread @ down_spread
    return soft


def direction(histogram: FloatArray) -> FloatArray:
    """A histogram as a vector of length 1, of the square roots of its counts.

    After Relja Arandjelovic and Andrew Zisserman, Three things everyone should know to improve object retrieval, 2012
    (from memory).
    """
    root = np.sqrt(histogram).ravel()
    unit: FloatArray = root / max(float(np.linalg.norm(root)), 1e-9)
    return unit


def kept_at_worst(wanted: FloatArray, shown: FloatArray) -> float:
    """How well bounds are kept where they are kept worst: in the _WORST part of the cells with the strongest bounds of
    either, what both have as a share of what either has. The more of an outline goes wrong in one place, the less
    helps all the rest."""
    either = np.maximum(wanted, shown).sum(axis=2)
    strong = either > np.median(either[either > 0]) if (either > 0).any() else either > 0
    if not strong.any():
        return 0.0
    return float(np.quantile(np.minimum(wanted, shown).sum(axis=2)[strong] / either[strong], _WORST))

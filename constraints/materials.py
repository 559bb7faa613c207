"""What a piece takes: bobbins, pins, thread for each bobbin, card and pillow, hours."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from constraints.design import Design
from constraints.lattice import BoolArray, FloatArray
from constraints.thread import wraps_per_cm
from constraints.working.threads import play, thread_lengths
from constraints.working.work import Work


@dataclass(frozen=True)
class Allowances:
    """What is added to the thread that lies in the lace, and how fast she works. Defaults: common practice, no source.

    take_up: share that crossing and twisting uses up beyond the straight way. reserve: share kept in hand for
    knots and mistakes. handling_mm: length for each thread that only holds the bobbin. crossings_an_hour:
    slowest and fastest. border_mm: card and pillow beyond the lace on each side.
    """

    take_up: float = 0.15
    reserve: float = 0.10
    handling_mm: float = 400.0
    crossings_an_hour: tuple[float, float] = (120.0, 300.0)
    card_border_mm: float = 20.0
    pillow_border_mm: float = 120.0


@dataclass(frozen=True)
class ThreadGroup:
    """Lengths of a few bobbins that have something in common, mm a bobbin, allowances included.

    count: bobbins. A pair is wound as one thread on two bobbins, so half of them is the number of windings.
    """

    name: str
    count: int
    shortest: float
    mean: float
    longest: float


@dataclass(frozen=True)
class Materials:
    """What one square takes. thread: of all bobbins, then passives, workers and others apart, those there are. gimp:
    of the bobbins of gimp pairs, which are counted with none of these; None without a gimp.
    total_m: all thread, metres. card_mm: width and height of the card, all of the lace on it. pillow_mm: least width
    of a pillow on which it is worked; a strip moves up on it. hours: least and most.
    """

    design: Design
    pairs: int
    bobbins: int
    pins: int
    crossings: int
    wraps_per_cm: float
    thread: tuple[ThreadGroup, ...]
    gimp: ThreadGroup | None
    total_m: float
    card_mm: tuple[float, float]
    pillow_mm: float
    hours: tuple[float, float]


def materials(work: Work, allowances: Allowances | None = None) -> Materials:
    """Add up what a worked square takes."""
    added = allowances or Allowances()
    design = work.design
    found = thread_lengths(work, play(work))
    lying = found.units * design.pitch_mm / 2
    bobbin = lying * (1 + added.take_up) * (1 + added.reserve) + added.handling_mm
    others = ~(found.worker | found.passive)
    groups = [
        ("all", np.ones(len(bobbin), dtype=np.bool_)),
        (f"passives of the {'footside' if design.form.headside is None else 'edges'}", found.passive),
        ("workers of blocks", found.worker & ~found.passive),
        ("others", others),
    ]
    slow, fast = added.crossings_an_hour
    count = len(work.crossings)
    return Materials(
        design=design,
        pairs=work.pairs,
        bobbins=2 * work.pairs,
        pins=len(work.pins),
        crossings=count,
        wraps_per_cm=wraps_per_cm(design.pitch_mm),
        thread=tuple(_of(name, bobbin, which) for name, which in groups if which.any()),
        gimp=_gimp(work, added),
        total_m=float(bobbin.sum()) / 1000,
        card_mm=(design.width_mm + 2 * added.card_border_mm, design.height_mm + 2 * added.card_border_mm),
        pillow_mm=_across(design) + 2 * added.pillow_border_mm,
        hours=(count / fast, count / slow),
    )


def _across(design: Design) -> float:
    """The side of a piece for which a pillow must have room, mm: a strip needs not lie on it in its whole length."""
    return design.width_mm if design.form.repeating else max(design.width_mm, design.height_mm)


def _of(name: str, bobbin: FloatArray, which: BoolArray) -> ThreadGroup:
    chosen = bobbin[which]
    return ThreadGroup(name, len(chosen), float(chosen.min()), float(chosen.mean()), float(chosen.max()))


def _gimp(work: Work, added: Allowances) -> ThreadGroup | None:
    """The bobbins of gimp pairs: each runs from hole to hole past every pair, and back past three at its end."""
    passed = np.array([len(side) + 3 for gimp in work.gimps for side in (gimp.left, gimp.right)], dtype=np.float64)
    if not len(passed):
        return None
    lying = passed * np.sqrt(2.0) * work.design.pitch_mm / 2
    bobbin = lying * (1 + added.reserve) + added.handling_mm
    return _of("gimp", bobbin, np.ones(len(bobbin), dtype=np.bool_))

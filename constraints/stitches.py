"""Stitches and fillings as data.

A block is worked in one stitch. A filling works the open ground of a field: some fillings gather pinholes
into units (a rose, a spider), others only change how each pinhole is worked.

Sources: rose and spider figures from the teaching pages of Jo Edkins (spiders of 8, 12 and 16 legs take
4, 6 and 8 pairs, the pin of 8 and 16 off the grid; a rose has 4 pins and 4 pairs). The moves are common
practice: cloth CTC, half CT, whole CTCT.
"""

from __future__ import annotations

from dataclasses import dataclass

CLOTH, HALF, WHOLE = "cloth", "half", "whole"
ROSE, SPIDER, DOUBLE = "rose", "spider", "double-ground"

GROUND = "torchon ground"


@dataclass(frozen=True)
class Stitch:
    """A stitch that fills a block. `moves` as crosses (C, left over right) and twists (T, right over left)."""

    name: str
    words: str
    moves: str


@dataclass(frozen=True)
class Unit:
    """A figure of a filling that takes size x size pinholes of a lattice square.

    kind: what "the same kind of unit" compares when two squares are told apart.
    pin_in_hole: the figure is centred on a hole (even sizes), else on a pinhole.
    ring_free: no pinhole beside the figure may belong to another figure with a free ring.
    pins: real pins the figure needs.
    """

    name: str
    kind: str
    size: int
    pairs: int
    pins: int
    legs: int = 0
    ring_free: bool = False
    aligned: bool = False

    @property
    def pin_in_hole(self) -> bool:
        return self.size % 2 == 0


@dataclass(frozen=True)
class Filling:
    """A filling of a field: `name` as a brief says it, `words` as a saved square says it."""

    name: str
    words: str
    units: tuple[Unit, ...] = ()


STITCHES = {
    CLOTH: Stitch(CLOTH, "cloth stitch", "CTC"),
    HALF: Stitch(HALF, "half stitch", "CT"),
    WHOLE: Stitch(WHOLE, "whole stitch", "CTCT"),
}

ROSE_UNIT = Unit("rose", ROSE, size=2, pairs=4, pins=4, aligned=True)
SPIDERS = (
    Unit("spider-8", SPIDER, size=2, pairs=4, pins=1, legs=8, ring_free=True),
    Unit("spider-12", SPIDER, size=3, pairs=6, pins=1, legs=12, ring_free=True),
    Unit("spider-16", SPIDER, size=4, pairs=8, pins=1, legs=16, ring_free=True),
)

FILLINGS = {
    ROSE: Filling(ROSE, "rose ground", (ROSE_UNIT,)),
    SPIDER: Filling(SPIDER, "spider", SPIDERS),
    DOUBLE: Filling(DOUBLE, "double torchon ground"),
}

UNITS = {unit.name: unit for filling in FILLINGS.values() for unit in filling.units}

# Everything a brief may allow, in the order in which it is named.
ALLOWED = (*STITCHES, *FILLINGS)

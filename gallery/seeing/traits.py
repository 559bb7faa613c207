"""What a designer would say of a finished piece: a few traits, each a number, and the words for more or less of it.

Traits are measured in how far a piece lies from a usual one, so that a taste is a weight for each of them.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from math import log2

import numpy as np

from constraints.design import Design
from constraints.lattice import BoolArray, FloatArray, IntArray
from constraints.layout import Layout, lay
from constraints.piece import Piece
from constraints.repeats import repeat_of
from constraints.rules.corners import over_lines
from constraints.stitches import HALF
from constraints.stitches import NUMBERS as STITCH_NUMBERS

# Ground so many neighbour steps from all blocks and figures is empty.
_EMPTY = 4
# The outermost share of the depth is the edge, the innermost the middle.
_EDGE, _MIDDLE = 0.25, 0.6
# A trait further from the usual is not told as more.
_MOST = 3.0
# So far from the usual a trait is worth a word.
_TOLD = 1.0


@dataclass(frozen=True, eq=False)
class Looked:
    """A finished piece, or one repeat of a strip, as its traits are measured."""

    layout: Layout

    @staticmethod
    def at(design: Design) -> Looked:
        return Looked(repeat_of(design) if design.form.repeating else lay(design))

    @property
    def piece(self) -> Piece:
        return self.layout.piece

    @cached_property
    def blocks(self) -> BoolArray:
        """(n,) what lies in blocks, a headside's aside."""
        return self.layout.inside & ~self.piece.fan

    @cached_property
    def worked(self) -> BoolArray:
        """(n,) what lies in blocks, in figures or in another ground than the plain one."""
        layout = self.layout
        worked: BoolArray = self.blocks | (layout.unit_of >= 0) | (layout.ground >= 0)
        return worked

    @cached_property
    def pieces(self) -> Sequence[BoolArray]:
        """(n,) of each block, headsides aside, where it lies."""
        numbers = np.unique(self.layout.block[self.blocks])
        return [self.blocks & (self.layout.block == number) for number in numbers.tolist()]

    @cached_property
    def bared(self) -> IntArray:
        """(n,) of each place in a block how many of its four neighbours lie in none."""
        beside = self.piece.neighbours
        return np.where(self.blocks, (~self.blocks[beside] | (beside < 0)).sum(axis=1), 0)

    def share(self, of: BoolArray, among: BoolArray) -> float:
        """The share of some places that are of a kind; 0 of none."""
        return float(of[among].mean()) if among.any() else 0.0

    def taken_by(self, filling: str) -> float:
        """The share of all pinholes that figures of a filling take."""
        first, taken = 0, 0
        for placed in self.layout.units:
            first += len(placed.places)
            taken += placed.places.size if placed.unit.filling == filling else 0
        return taken / len(self.piece)


def _closed(looked: Looked) -> float:
    """The share of what lies in blocks that goes round an opening: by Euler's count, places less steps plus holes."""
    beside, holes, found = looked.piece.neighbours[:, :2], looked.piece.holes, np.zeros_like(looked.blocks)
    for own in looked.pieces:
        steps = (own[beside] & (beside >= 0) & own[:, None]).sum()
        if own.sum() - steps + own[holes].all(axis=1).sum() < 1:
            found |= own
    return looked.share(found, looked.blocks)


def _print(looked: Looked) -> float:
    design = looked.layout.design
    largest = max((each.size for each in design.prints), default=0.0)
    return largest * design.pitch_mm / min(design.width_mm, design.height_mm)


def _empty(looked: Looked) -> float:
    near = looked.piece.widened(looked.worked, _EMPTY)
    return float((~near & (looked.piece.depth > 0)).mean())


def _belt(looked: Looked, inner: bool) -> float:
    """How much more of the middle, or of the edge, lies in blocks than of the whole."""
    depth = looked.piece.depth / max(1, int(looked.piece.depth.max()))
    where = depth >= _MIDDLE if inner else depth < _EDGE
    return looked.share(looked.blocks, where) - float(looked.blocks.mean())


def _order(looked: Looked) -> float:
    """Of all turns and reflections that the piece could have the share that leave its blocks as they are."""
    piece = looked.piece
    every = next(name for name in ("full", "upright-mirrors", "half-turn", "none") if piece.closed_under(name))
    images = piece.images_under(every)
    return float((looked.blocks[images] == looked.blocks).all(axis=1).mean())


def _kinds(looked: Looked) -> float:
    layout = looked.layout
    stitches = {each.stitch for each in layout.design.blocks}
    return float(
        len(stitches) + len({each.unit.filling for each in layout.units if len(each.places)}) + len(layout.grounds)
    )


def _touching(looked: Looked) -> float:
    """Holes over which two blocks touch point to point, for each block."""
    top, right, bottom, left = looked.blocks[looked.piece.holes].T
    touch = (top & bottom & ~right & ~left) | (right & left & ~top & ~bottom)
    return float(touch.sum()) / max(1, len(looked.pieces))


def _uneven(looked: Looked) -> float:
    sizes = [int(each.sum()) for each in looked.pieces]
    return float(np.std(np.log2(sizes))) if sizes else 0.0


def _toothed(looked: Looked) -> float:
    return looked.share(looked.bared > 1, looked.bared > 0)


def _half(looked: Looked) -> float:
    return looked.share(looked.layout.stitch == STITCH_NUMBERS[HALF], looked.blocks)


def _seams(looked: Looked) -> float:
    over = over_lines(looked.piece)
    return float(looked.blocks[over].all(axis=1).sum() / np.sqrt(len(looked.piece)))


@dataclass(frozen=True)
class Trait:
    """measure: of a piece. more, less: words where it has much or little of it. usual, spread: mean and standard
    deviation over the squares of tests/bench/traits.py."""

    measure: Callable[[Looked], float]
    more: str
    less: str
    usual: float
    spread: float


TRAITS: Mapping[str, Trait] = {
    "blocks": Trait(lambda it: float(it.blocks.mean()), "much in blocks", "open ground", 0.33, 0.06),
    "filled": Trait(lambda it: it.share(it.worked, ~it.blocks), "filled fields", "plain ground", 0.10, 0.14),
    "roses": Trait(lambda it: it.taken_by("rose"), "rose ground", "no rose ground", 0.06, 0.09),
    "spiders": Trait(lambda it: it.taken_by("spider"), "spiders", "no spiders", 0.01, 0.03),
    "half": Trait(_half, "much half stitch", "little half stitch", 0.31, 0.25),
    "kinds": Trait(_kinds, "many stitches", "few stitches", 2.35, 0.70),
    "closed": Trait(_closed, "trails that close", "nothing that closes", 0.51, 0.35),
    "pieces": Trait(lambda it: log2(1 + len(it.pieces)), "many pieces", "few pieces", 3.52, 0.85),
    "uneven": Trait(_uneven, "pieces of many sizes", "pieces of one size", 1.24, 0.65),
    "touching": Trait(_touching, "points that touch", "pieces that keep apart", 0.33, 0.35),
    "slender": Trait(lambda it: it.share(it.bared > 0, it.blocks), "slender lines", "massive blocks", 0.59, 0.10),
    "toothed": Trait(
        lambda it: it.share(it.bared > 1, it.bared > 0), "toothed outlines", "slanting outlines", 0.42, 0.15
    ),
    "print": Trait(_print, "a large print", "a small print", 0.47, 0.23),
    "empty": Trait(_empty, "room to rest", "no empty ground", 0.05, 0.07),
    "middle": Trait(lambda it: _belt(it, True), "a heavy middle", "a light middle", 0.14, 0.15),
    "edge": Trait(lambda it: _belt(it, False), "a strong edge", "a light edge", -0.11, 0.09),
    "order": Trait(_order, "the same on all sides", "few sides alike", 0.54, 0.36),
    "seams": Trait(_seams, "blocks over the corner lines", "free corner lines", 0.77, 0.34),
}


def measured(design: Design) -> FloatArray:
    """(traits,) how far each trait of a finished piece is from the usual, in standard deviations, within _MOST."""
    looked = Looked.at(design)
    far = [(each.measure(looked) - each.usual) / each.spread for each in TRAITS.values()]
    clipped: FloatArray = np.clip(np.array(far), -_MOST, _MOST)
    return clipped


def outstanding(design: Design, most: int = 3) -> list[str]:
    """What is to be said of a finished piece in words: its most unusual traits, the most unusual first."""
    far = measured(design)
    first = np.argsort(-np.abs(far), kind="stable")[:most].tolist()
    every = list(TRAITS.values())
    return [every[n].more if far[n] > 0 else every[n].less for n in first if abs(far[n]) >= _TOLD]

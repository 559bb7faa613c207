"""Other blocks for a design: some of its parts taken out, others laid in the trade's manner round the rest."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from constraints.lattice import BoolArray, IntArray
from constraints.variables import Model
from explore.editing.varying.families import parts
from explore.editing.varying.reshaping import reshaped
from explore.editing.varying.strewing import moved, strewn
from explore.search.compose.adding import Ornament
from explore.search.compose.canvas import Canvas
from explore.search.compose.ornaments import Proportions
from explore.search.compose.parts import Random

# What jobs do in turn: take parts out and lay others, only add, change widths, or leave the blocks alone.
_MANNERS = ("redraw", "add", "redraw", "reshape", "redraw", "add", "redraw", "fields")
# The share of solid may always grow by so much beyond that of the chosen square, and may fall by twice as much.
_FULLER = 0.03
# So often a motif is laid elsewhere; so many small ones are strewn where no ornament finds room.
_MOVED, _STREWN = 0.4, 2


@dataclass(frozen=True, eq=False)
class Old:
    """The blocks of the chosen square. stitch: (n,) number of the stitch of each place among `names`, -1 where open.

    fixed: (n,) pinholes whose block or openness must stay.
    """

    names: tuple[str, ...]
    stitch: IntArray
    fixed: BoolArray

    @property
    def block(self) -> BoolArray:
        """(n,) the places of its blocks."""
        places: BoolArray = self.stitch >= 0
        return places


def redraw(
    blocks: Model, ornament: Ornament, old: Old, turn: int, goal: float, most: float, loose: bool, rng: Random
) -> IntArray:
    """(n,) the stitch of each place of a square whose blocks differ from the old ones in about a share `goal`.

    blocks: the block rules. ornament: what may be laid. turn: which of the manners and ornaments has its turn. most:
    the greatest share that may differ. loose: the ornament may lose its order.
    """
    if old.fixed.all():
        return old.stitch
    how = _MANNERS[turn % len(_MANNERS)]
    if how == "fields":
        return old.stitch
    whole = bool(rng.random() < (0.4 if loose else 0.8))
    there = parts(blocks.piece, old.block, old.stitch, old.fixed, whole)
    if how == "reshape":
        return reshaped(blocks, old.stitch, old.fixed, there, goal, rng)
    out = _taken_out(there, goal, most, len(old.stitch), rng) if how == "redraw" else []
    block = old.block.copy()
    for places in out:
        block[places] = False
    canvas = Canvas(blocks, block, old.fixed & ~old.block)
    _lay(canvas, ornament, old, out, turn, goal, loose, rng)
    return _stitched(canvas, old, rng)


def _taken_out(there: list[IntArray], goal: float, most: float, total: int, rng: Random) -> list[IntArray]:
    """Parts in a random order, as many as make half of the goal."""
    out: list[IntArray] = []
    room = goal * total * float(rng.uniform(0.4, 0.7))
    for number in rng.permutation(len(there)).tolist():
        size = len(there[number])
        if size <= room or (not out and size <= 0.8 * most * total):
            out.append(there[number])
            room -= size
        if room <= 0:
            break
    return out


def _lay(
    canvas: Canvas,
    ornament: Ornament,
    old: Old,
    out: list[IntArray],
    turn: int,
    goal: float,
    loose: bool,
    rng: Random,
) -> None:
    """Lay a border if there is none, then ornaments, until the blocks differ enough."""
    rules = canvas.model.rules
    solid = float(old.block.mean())
    fuller = float(rng.uniform(_FULLER, max(_FULLER, goal)))
    manner = Proportions(
        size=max(rules.narrowest, int(rng.integers(2, 5))),
        alike=bool(rng.random() < (0.5 if loose else 0.9)),
        most_solid=min(rules.solid[1], max(rules.solid[0] + 2 * _FULLER, solid + fuller)),
    )
    ornament.border(canvas, out, rng, manner)
    if rng.random() < _MOVED:
        moved(canvas, out, manner, rng)
    for part in ornament.parts(canvas, turn, len(_MANNERS), rng):
        if float((canvas.block != old.block).mean()) >= 0.8 * goal:
            break
        part(canvas, rng, manner)
    for _ in range(_STREWN):
        if canvas.solid >= rules.solid[0] and float((canvas.block != old.block).mean()) >= 0.5 * goal:
            break
        strewn(canvas, manner, rng)
    if canvas.solid < max(rules.solid[0], solid - 2 * _FULLER):
        ornament.fill(canvas, rng, manner, max(rules.solid[0], solid - 2 * _FULLER))


def _stitched(canvas: Canvas, old: Old, rng: Random) -> IntArray:
    """What was there keeps its stitch; new parts take one that the square has, or now and then another."""
    used = np.unique(old.stitch[old.stitch >= 0]).tolist() or [0]
    chosen: dict[str, int] = {}
    stitch = np.where(canvas.block, old.stitch, -1)
    for number, name in enumerate(canvas.names[1:], 1):
        if name not in chosen:
            choice = used if rng.random() < 0.75 else range(len(old.names))
            chosen[name] = int(rng.choice(np.array(choice)))
        stitch[canvas.block & (canvas.part == number)] = chosen[name]
    return stitch

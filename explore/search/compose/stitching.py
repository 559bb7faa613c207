"""Choosing the stitches of a composed design: one for every part, a filling for every field."""

from __future__ import annotations

import numpy as np

from constraints.encoding import set_true
from constraints.lattice import BoolArray
from constraints.rules.least import NAME as MINIMUM
from constraints.stitches import CLOTH, HALF, WHOLE
from constraints.variables import Model
from explore.search.compose.canvas import Canvas
from explore.search.compose.fillings import Filler
from explore.search.compose.liking import PLAIN, RESTING, draw_liking
from explore.search.compose.parts import Random

# Choices tried until the least numbers of the brief are reached.
_TRIES = 5
_DENSEST = (CLOTH, WHOLE, HALF)
# What runs all round is not taken for a part of a print, in whatever stitch it is.
_RUNNING = frozenset({"border", "corner", "nested", "trail", "zigzag"})


def stitched(model: Model, canvas: Canvas, rng: Random) -> BoolArray:
    """The values of a formula, (size,), for a composition: its stitches and fillings."""
    values = _choice(model, canvas, rng)
    for _ in range(_TRIES - 1):
        if not model.rules.least or not model.formula.broken(model.formula.complete(values), [MINIMUM]):
            break
        values = _choice(model, canvas, rng)
    return values


def _choice(model: Model, canvas: Canvas, rng: Random) -> BoolArray:
    values = np.zeros(model.formula.size, dtype=bool)
    stitches = _stitches(model, canvas, rng)
    for number, name in enumerate(canvas.names):
        set_true(values, model.stitch[stitches[name]][canvas.block & (canvas.part == number)])
    filler = Filler(model, canvas.block, canvas.round_stamp | canvas.keep_off, values)
    # A print alone on its ground is all that there is to see.
    alone = len(canvas.names) == 1
    filler.fill(draw_liking(rng, model.rules, 0.0 if alone else PLAIN), rng, 0.0 if alone else RESTING)
    return values


def _stitches(model: Model, canvas: Canvas, rng: Random) -> dict[str, str]:
    """A stitch for the parts of each name. A stamp is in the densest that is allowed and what stands loose about it in
    others, so that it is known."""
    names = list(model.stitch)
    densest = min(names, key=_DENSEST.index)
    chosen = {"stamp": densest}
    others = [name for name in names if name != densest] or names
    beside_a_stamp = bool(((canvas.part == 0) & ~canvas.piece.fan).any())
    for name in canvas.names:
        loose = beside_a_stamp and name not in _RUNNING
        chosen.setdefault(name, str(rng.choice(others if loose else names)))
    places = dict.fromkeys(chosen, 0)
    for number, name in enumerate(canvas.names):
        places[name] += int((canvas.part == number).sum())
    # Where the brief asks for more of a stitch, the largest parts change to it, the stamp last.
    order = sorted(chosen, key=lambda name: (name == "stamp", -places[name]))
    for stitch in (name for name in names if model.rules.least.get(name)):
        for name in order:
            if sum(places[n] for n in chosen if chosen[n] == stitch) >= model.rules.least[stitch]:
                break
            if not model.rules.least.get(chosen[name]):
                chosen[name] = stitch
    return chosen

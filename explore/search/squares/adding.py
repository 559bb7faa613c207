"""What is laid about the centre of a square beside blocks that stay: a border, ornaments."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from constraints.lattice import IntArray
from constraints.piece import Piece
from explore.search.compose.adding import Ornament, Part
from explore.search.compose.borders import Border, draw_border, lay_border
from explore.search.compose.canvas import Canvas
from explore.search.compose.ornaments import INNER, Proportions, sprigs
from explore.search.compose.parts import Random
from explore.search.compose.plans import Plan, top_up

_BORDERS = ("trail", "double trail", "zigzag", "diamonds", "angles")
# So many ornaments are tried, and a square without a border gets one so often.
_FIGURES, _BORDERED = 4, 0.5


class AboutCentre(Ornament):
    """The parts of squares."""

    def border(self, canvas: Canvas, out: Sequence[IntArray], rng: Random, manner: Proportions) -> None:
        piece, rules = canvas.piece, canvas.model.rules
        outer = int(np.abs(piece.pinholes).max()) - rules.margin
        bare = _reach(piece, np.flatnonzero(canvas.block)) < outer - 4
        lost = max((_reach(piece, places) for places in out), default=0) >= outer - 4
        if bare and (lost or rng.random() < _BORDERED):
            inner = _reach(piece, np.flatnonzero(canvas.block | canvas.keep_off & (piece.depth >= rules.margin)))
            drawn = draw_border(rng, outer + rules.margin, rules.narrowest, _BORDERS, outer - inner)
            lay_border(canvas, drawn, rng, manner)

    def parts(self, canvas: Canvas, turn: int, turns: int, rng: Random) -> list[Part]:
        mirrored = canvas.piece.symmetry not in ("quarter-turn", "half-turn", "none")
        names = [name for name in INNER if not (mirrored and name == "pinwheel")]
        first = names[(turn + turn // turns) % len(names)]
        others = [str(name) for name in rng.permutation([name for name in names if name != first])]
        return [INNER[name] for name in [first, *others][:_FIGURES]]

    def fill(self, canvas: Canvas, rng: Random, manner: Proportions, least: float) -> None:
        rules = canvas.model.rules
        if canvas.solid < rules.solid[0]:
            top_up(canvas, Plan("", Border("open", 0), (), manner, rules.solid[0]), rng)
        else:
            sprigs(canvas, rng, manner)


def _reach(piece: Piece, places: IntArray) -> int:
    """Units from the centre to the outermost of these pinholes, 0 if there are none."""
    return int(np.abs(piece.pinholes[places]).max(initial=0))

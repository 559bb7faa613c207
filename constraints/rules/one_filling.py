"""One filling per field: open holes that share two pinholes are worked alike.

A field is a set of open holes joined through shared pairs of pinholes. Holes beside the edge belong to no
field, so that the ground along the edge does not tie all fields together.

Common practice, no source.
"""

from __future__ import annotations

import numpy as np

from constraints.lattice import DOWN_LEFT, DOWN_RIGHT, BoolArray, IntArray
from constraints.variables import Lace

NAME = "one filling per field"


def one_filling(lace: Lace) -> None:
    """The label of a field spreads over its holes, the alignment of a rose field with it."""
    labels, beside = lace.labels, lace.piece.hole_neighbours
    table = np.concatenate([labels.bits, labels.even_u[None], labels.even_v[None]])
    for bit in table:
        lace.formula.clause(NAME, ~bit, lace.open_hole)  # a hole outside every field has no label
    for step in (DOWN_RIGHT, DOWN_LEFT):
        here = np.flatnonzero((beside[:, step] >= 0) & lace.field_hole)
        here = here[lace.field_hole[beside[here, step]]]
        there = beside[here, step]
        for number, bit in enumerate(table):
            after = bit[there]
            if number >= len(labels.bits):
                after = np.where(_turned(lace, here, there), ~after, after)
            lace.formula.clause(NAME, ~bit[here], ~lace.open_hole[there], after)
            lace.formula.clause(NAME, ~after, ~lace.open_hole[here], bit[here])
    _known_codes(lace)
    fixed = lace.swap_fixed()
    if len(fixed):
        lace.formula.clause(NAME, ~labels.even_u[fixed], labels.even_v[fixed])
        lace.formula.clause(NAME, labels.even_u[fixed], ~labels.even_v[fixed])


def _turned(lace: Lace, here: IntArray, there: IntArray) -> BoolArray:
    """Whether a step between holes goes over the seam of a repeat that moves both alignments by an odd number."""
    rows = lace.piece.setting.wrap.rows
    down = lace.piece.hole_centres[there, 1] - lace.piece.hole_centres[here, 1]
    turned: BoolArray = (np.abs(down) > 1) & (rows // 2 % 2 == 1)
    return turned


def _known_codes(lace: Lace) -> None:
    """No label beyond the last kind."""
    labels = lace.labels
    everywhere = np.flatnonzero(lace.field_hole)
    for code in range(len(labels.codes) + 1, 1 << len(labels.bits)):
        columns = [~bit[everywhere] if code >> b & 1 else bit[everywhere] for b, bit in enumerate(labels.bits)]
        lace.formula.clause(NAME, np.stack(columns, axis=1))

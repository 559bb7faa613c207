"""One filling per field: open holes that share two pinholes are worked alike.

A field is a set of open holes joined through shared pairs of pinholes. Holes beside the edge belong to no
field, so that the ground along the edge does not tie all fields together.

Common practice, no source.
"""

from __future__ import annotations

import numpy as np

from constraints.alignment import diagonals, turned
from constraints.formula import FALSE
from constraints.lattice import DOWN_LEFT, DOWN_RIGHT, BoolArray, IntArray
from constraints.variables import Model

NAME = "one filling per field"


def one_filling(lace: Model) -> None:
    """The label of a field spreads over its holes, the alignment of a rose field with it."""
    formula, labels = lace.formula, lace.labels
    evens = (labels.even_u, labels.even_v) if lace.aligned else ()
    for bit in (*labels.bits, *map(_variable, evens)):
        formula.clause(NAME, ~bit, lace.open_hole)  # a hole outside every field has no label
    for step in (DOWN_RIGHT, DOWN_LEFT):
        here, there = _side_by_side(lace, step)
        over = turned(lace.piece, here, step)
        for bit in labels.bits:
            _spread(lace, here, bit[here], there, bit[there])
        for number, even in enumerate(evens):
            one, other, differ = _compared(even[here], even[there], over[:, number])
            _spread(lace, here[~differ], one[~differ], there[~differ], other[~differ])
            _unlike_among_roses(lace, here[differ], one[differ], there[differ], other[differ])
    _known_codes(lace)
    fixed = lace.swap_fixed()
    if lace.aligned and len(fixed):
        u, v = diagonals(lace.piece.hole_centres[fixed]).T
        one, other, differ = _compared(labels.even_u[fixed], labels.even_v[fixed], (u - v) % 2 == 1)
        formula.clause(NAME, ~one[~differ], other[~differ])
        formula.clause(NAME, one[~differ], ~other[~differ])
        _unlike_among_roses(lace, fixed[differ], one[differ], fixed[differ], other[differ])


def _side_by_side(lace: Model, step: int) -> tuple[IntArray, IntArray]:
    """Holes and those beside them in this direction, where both can belong to a field."""
    beside = lace.piece.hole_neighbours[:, step]
    here = np.flatnonzero((beside >= 0) & lace.field_hole)
    here = here[lace.field_hole[beside[here]]]
    return here, beside[here]


def _spread(lace: Model, here: IntArray, one: IntArray, there: IntArray, other: IntArray) -> None:
    """What is true of an open hole is true of an open hole beside it. Literals (k,) that are false of other holes."""
    lace.formula.clause(NAME, ~one, ~lace.open_hole[there], other)
    lace.formula.clause(NAME, ~other, ~lace.open_hole[here], one)


def _compared(one: IntArray, other: IntArray, unlike: BoolArray) -> tuple[IntArray, IntArray, BoolArray]:
    """The variables of two literals, and where these must differ, if the literals must where they are `unlike`."""
    return _variable(one), _variable(other), ((one < 0) != (other < 0)) ^ unlike


def _variable(literals: IntArray) -> IntArray:
    """Literals without their sign, but FALSE as it is."""
    return np.where((literals < 0) & (literals != FALSE), ~literals, literals)


def _unlike_among_roses(lace: Model, here: IntArray, one: IntArray, there: IntArray, other: IntArray) -> None:
    """Of two open holes of a field of roses, side by side or the same one, just one of the two is true.

    A field may come back to itself out of line, round a repeat or by way of the symmetry. Then no rose stands in it,
    and any other filling may. That variables are the same can be asked of every field: all may be false.
    """
    for kind in lace.aligned:
        elsewhere = ~lace.labels.literals(kind, here)
        lace.formula.clause(NAME, elsewhere, ~lace.open_hole[there], ~one, ~other)
        lace.formula.clause(NAME, elsewhere, ~lace.open_hole[there], one, other)


def _known_codes(lace: Model) -> None:
    """No label beyond the last kind."""
    labels = lace.labels
    everywhere = np.flatnonzero(lace.field_hole)
    for code in range(len(labels.codes) + 1, 1 << len(labels.bits)):
        columns = [~bit[everywhere] if code >> b & 1 else bit[everywhere] for b, bit in enumerate(labels.bits)]
        lace.formula.clause(NAME, np.stack(columns, axis=1))

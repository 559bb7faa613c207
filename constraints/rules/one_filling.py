"""One filling per field: open holes that share two pinholes are worked alike.

A field is a set of open holes joined through shared pairs of pinholes. Holes beside the edge belong to no
field, so that the ground along the edge does not tie all fields together.

Common practice, no source.
"""

from __future__ import annotations

import numpy as np

from constraints.alignment import turned
from constraints.formula import FALSE
from constraints.lattice import DOWN_LEFT, DOWN_RIGHT, BoolArray, IntArray, diagonals
from constraints.variables import Model

NAME = "one filling per field"


def one_filling(model: Model) -> None:
    """The label of a field spreads over its holes, and where its figures stand in line with it."""
    formula, labels = model.formula, model.labels
    evens = (labels.even_u, labels.even_v) if model.aligned else ()
    for bit in (*labels.bits, *map(_variable, evens)):
        formula.clause(NAME, ~bit, model.open_hole)  # a hole outside every field has no label
    for step in (DOWN_RIGHT, DOWN_LEFT):
        here, there = _side_by_side(model, step)
        over = turned(model.piece, here, step)
        for bit in labels.bits:
            _spread(model, here, bit[here], there, bit[there])
        for number, even in enumerate(evens):
            one, other, differ = _compared(even[here], even[there], over[:, number])
            _spread(model, here[~differ], one[~differ], there[~differ], other[~differ])
            _unlike_among_figures(model, here[differ], one[differ], there[differ], other[differ])
    _known_codes(model)
    fixed = model.swap_fixed()
    if model.aligned and len(fixed):
        u, v = diagonals(model.piece.hole_centres[fixed]).T
        one, other, differ = _compared(labels.even_u[fixed], labels.even_v[fixed], (u - v) % 2 == 1)
        formula.clause(NAME, ~one[~differ], other[~differ])
        formula.clause(NAME, one[~differ], ~other[~differ])
        _unlike_among_figures(model, fixed[differ], one[differ], fixed[differ], other[differ])


def _side_by_side(model: Model, step: int) -> tuple[IntArray, IntArray]:
    """Holes and those beside them in this direction, where both can belong to a field."""
    beside = model.piece.hole_neighbours[:, step]
    here = np.flatnonzero((beside >= 0) & model.field_hole)
    here = here[model.field_hole[beside[here]]]
    return here, beside[here]


def _spread(model: Model, here: IntArray, one: IntArray, there: IntArray, other: IntArray) -> None:
    """What is true of an open hole is true of an open hole beside it. Literals (k,) that are false of other holes."""
    model.formula.clause(NAME, ~one, ~model.open_hole[there], other)
    model.formula.clause(NAME, ~other, ~model.open_hole[here], one)


def _compared(one: IntArray, other: IntArray, unlike: BoolArray) -> tuple[IntArray, IntArray, BoolArray]:
    """The variables of two literals, and where these must differ, if the literals must where they are `unlike`."""
    return _variable(one), _variable(other), ((one < 0) != (other < 0)) ^ unlike


def _variable(literals: IntArray) -> IntArray:
    """Literals without their sign, but FALSE as it is."""
    return np.where((literals < 0) & (literals != FALSE), ~literals, literals)


def _unlike_among_figures(model: Model, here: IntArray, one: IntArray, there: IntArray, other: IntArray) -> None:
    """Of two open holes of a field of figures in line, side by side or the same one, just one of the two is true.

    A field may come back to itself out of line, round a repeat or by way of the symmetry. Then no such figure stands in
    it, and any other filling may. That variables are the same can be asked of every field: all may be false.
    """
    for kind in model.aligned:
        elsewhere = ~model.labels.literals(kind, here)
        model.formula.clause(NAME, elsewhere, ~model.open_hole[there], ~one, ~other)
        model.formula.clause(NAME, elsewhere, ~model.open_hole[there], one, other)


def _known_codes(model: Model) -> None:
    """No label beyond the last kind."""
    labels = model.labels
    everywhere = np.flatnonzero(model.field_hole)
    for code in range(len(labels.codes) + 1, 1 << len(labels.bits)):
        columns = [~bit[everywhere] if code >> b & 1 else bit[everywhere] for b, bit in enumerate(labels.bits)]
        model.formula.clause(NAME, np.stack(columns, axis=1))

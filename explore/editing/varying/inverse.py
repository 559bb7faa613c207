"""From a finished square back to the values of a formula: the inverse of `explore.search.finish`."""

from __future__ import annotations

from constraints.design import Design
from constraints.encoding import Unfitting, encode
from constraints.lattice import BoolArray
from constraints.variables import Model
from explore.bad_input import BadInput


def values_of(model: Model, design: Design) -> BoolArray:
    """The values, (size,), of the formula that describe the square; all defined variables are worked out.

    The model lies on the same piece under the square's symmetry or a looser one. BadInput, with the rule, if the
    square does not keep the brief of the model.
    """
    try:
        values = model.formula.complete(encode(model, design))
    except Unfitting as error:
        raise BadInput(f"square {design.number:02d} {error}") from None
    broken = model.formula.broken(values)
    if broken:
        raise BadInput(f"square {design.number:02d} does not keep its brief: {', '.join(broken)}")
    return values

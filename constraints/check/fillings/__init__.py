"""Rules on the fillings of the open fields: those on all alike in `every`, and of each filling its own.

They are written from the trade anew, and share nothing with the clauses that a filling writes for the model.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from constraints.check.fillings.double_ground import double_ground
from constraints.check.fillings.every import one_filling, one_unit, quarter
from constraints.check.fillings.half_stitch_rose import half_stitch_rose
from constraints.check.fillings.rose import rose
from constraints.check.fillings.spider import spider
from constraints.check.fillings.twisted_ground import twisted_ground
from constraints.check.limits import Limits
from constraints.check.listing import Fault
from constraints.layout import Layout

FillingRule = Callable[[Layout, Limits], Iterator[Fault]]

# By the name of the filling. In line: asked of a piece as it is worked, for figures stand in line to a strip's end.
IN_LINE: dict[str, FillingRule] = {"rose": rose, "half-stitch-rose": half_stitch_rose}
# Of a strip these are asked on one repeat.
FIGURES: dict[str, FillingRule] = {"spider": spider}
GROUNDS: dict[str, FillingRule] = {"double-ground": double_ground, "twisted-ground": twisted_ground}

__all__ = ["FIGURES", "GROUNDS", "IN_LINE", "FillingRule", "one_filling", "one_unit", "quarter"]

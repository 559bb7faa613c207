"""The solver-free check: can this design be worked, and is it what its brief asked for?

It shares no rule with the model that finds designs: how a design is worked, such as the order in which pairs run
through trails at corner lines, is shared, whether it may be is not. Every rule is a function of a design laid on its
piece and of the limits in its brief; what it finds carries the rule's name and the pinholes.

`limits` reads the brief; `listing` judges what a file lists, `shape` and `corners` its blocks, `eyes` small
holes in them, `fillings` its fields,
`coverage` the match, `totals` what is counted, `repeats` what repeats itself. The rules are common practice, no source,
where a function names none.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass

from constraints.check import corners, eyes, fillings, listing, repeats, shape, totals
from constraints.check.limits import Limits, read
from constraints.check.listing import Fault
from constraints.design import Design
from constraints.fillings import FILLINGS
from constraints.lattice import Point
from constraints.layout import Layout, lay
from constraints.repeats import repeat_of

VALUES, REPEAT = "values", "repeat"

Check = Callable[[Layout, Limits], Iterator[Fault]]


def _own(rules: Mapping[str, Check]) -> dict[str, Check]:
    """The rules of fillings under what one of each is called."""
    return {FILLINGS[name].one: rule for name, rule in rules.items()}


# These are asked of a piece as it is worked, ends and all.
WHOLE: dict[str, Check] = {
    "places": listing.places,
    "one block": listing.one_block,
    **_own(fillings.IN_LINE),
    "pairs": totals.pairs,
    "flow": totals.flow,
    "eyes": eyes.eyes,
}
# And these of a strip on one repeat that meets itself: what its ends cut off is no fault.
RULES: dict[str, Check] = {
    "one stitch": listing.one_stitch,
    "symmetry": listing.symmetry,
    "margin": shape.margin,
    "one worker": shape.one_worker,
    "corners": corners.corners,
    "narrowest": shape.narrowest,
    "widest": shape.widest,
    "even eyes": eyes.even,
    "narrowest ground": shape.narrowest_ground,
    "solid": shape.solid,
    "headside": shape.headside,
    "one filling": fillings.one_filling,
    **_own(fillings.FIGURES),
    "one unit": fillings.one_unit,
    "quarter": fillings.quarter,
    **_own(fillings.GROUNDS),
    "stitches": totals.stitches,
    "least": totals.least,
    "match": totals.match,
}


@dataclass(frozen=True)
class Finding:
    """One fault of a design: the rule it breaks, a line in a lacemaker's words, the places it concerns.

    pinholes: (x, y) in lattice units; centres of holes where a listed unit is meant. Empty if the fault
    concerns the design as a whole.
    """

    rule: str
    message: str
    pinholes: tuple[Point, ...] = ()

    def __str__(self) -> str:
        shown = " ".join(f"({x}, {y})" for x, y in self.pinholes[:6])
        more = f" and {len(self.pinholes) - 6} more" if len(self.pinholes) > 6 else ""
        return f"{self.rule}: {self.message}" + (f": {shown}{more}" if shown else "")


def check(design: Design) -> list[Finding]:
    """Everything wrong with a design, rule by rule; empty if it can be worked and keeps its brief.

    If the design's own values are amiss ("values"), nothing else can be asked of it and only they are told.
    """
    amiss = [Finding(VALUES, message) for message in listing.values(design)]
    if amiss:
        return amiss
    limits, _ = read(design.brief)
    layout = lay(design)
    found = [Finding(name, *fault) for name, rule in WHOLE.items() for fault in rule(layout, limits)]
    if design.form.repeating:
        if any(each.rule == "places" for each in found):
            return found
        layout = repeat_of(design)
        found += [Finding(REPEAT, message, places) for message, places in repeats.even(design, layout)]
    return found + [Finding(name, *fault) for name, rule in RULES.items() for fault in rule(layout, limits)]

"""The fillings of open fields, in the order in which a brief names them. One that is new goes to the end.

What one must bring is told in `filling`.
"""

from __future__ import annotations

from collections.abc import Container

from constraints.fillings.double_ground import DOUBLE_GROUND
from constraints.fillings.filling import Figure, FigureFilling, Filling, GroundFilling, Laying, Rule, Unit, complete
from constraints.fillings.half_stitch_rose import HALF_STITCH_ROSE
from constraints.fillings.rose import ROSE
from constraints.fillings.spider import SPIDER
from constraints.fillings.twisted_ground import TWISTED_GROUND
from constraints.stitches import STITCHES

FILLINGS: dict[str, Filling] = complete(
    (ROSE, SPIDER, DOUBLE_GROUND, TWISTED_GROUND, HALF_STITCH_ROSE), taken=tuple(STITCHES)
)

# By their numbers arrays tell them apart.
NAMES = tuple(FILLINGS)
NUMBERS = {name: number for number, name in enumerate(NAMES)}
UNITS = {unit.name: unit for filling in FILLINGS.values() for unit in filling.units}
# Those that leave their own pinholes bare round one pin: so an old pricking shows them.
GATHERED = tuple(unit for unit in UNITS.values() if unit.gathered)
FIGURES = {name: filling for name, filling in FILLINGS.items() if isinstance(filling, FigureFilling)}
GROUNDS = {name: filling for name, filling in FILLINGS.items() if isinstance(filling, GroundFilling)}
# The filling of every kind of field: of each figure, and of each ground.
OF_KIND = {kind: filling for filling in FILLINGS.values() for kind in filling.kinds}
BY_WORDS = {filling.words: filling for filling in FILLINGS.values()}

# Everything a brief may allow, and the fillings that it has unless she says otherwise.
ALLOWED = (*STITCHES, *FILLINGS)
USUAL = tuple(name for name, filling in FILLINGS.items() if filling.usual)
# The rules of the fillings, each once.
RULES: tuple[Rule, ...] = tuple(dict.fromkeys(rule for filling in FILLINGS.values() for rule in filling.rules))


def largest_first(names: Container[str]) -> tuple[FigureFilling, ...]:
    """Of these the fillings with figures, as texts name them: those with the figures of most pairs first."""
    figures = (filling for name, filling in FIGURES.items() if name in names)
    return tuple(sorted(figures, key=lambda filling: -filling.units[-1].pairs))


__all__ = [
    "ALLOWED", "BY_WORDS", "FIGURES", "FILLINGS", "GATHERED", "GROUNDS", "NAMES", "NUMBERS", "OF_KIND", "RULES",
    "UNITS", "USUAL",
    "Figure", "FigureFilling", "Filling", "GroundFilling", "Laying", "Rule", "Unit", "complete", "largest_first",
]  # fmt: skip

"""A piece under its rules: what every search solves, built once for each piece and changed by nobody."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property, lru_cache

from constraints import rulebook
from constraints.fillings import Rule
from constraints.forms import Form
from constraints.formula import Linear
from constraints.lattice import BoolArray
from constraints.piece import Piece
from constraints.ruleset import Rules
from constraints.solver import Solver
from constraints.stitches import STITCHES
from constraints.variables import Model

# Pieces that are kept: a search for strips takes turns with every repeat and symmetry that its brief allows.
_KEPT = 256


@dataclass(frozen=True, eq=False)
class Context:
    """A piece of a form under rules. more: rules beside those of the rule book, such as what must stay as it is."""

    form: Form
    worked: str
    symmetry: str
    rules: Rules
    more: tuple[Rule, ...] = ()

    @cached_property
    def piece(self) -> Piece:
        """What is composed: of a strip one repeat, which meets itself."""
        return self.form.once(self.worked, self.symmetry)

    @cached_property
    def blocks(self) -> Model:
        """The block rules alone, in one stitch: for composing."""
        stitch = next(name for name in STITCHES if name in self.rules.stitches)
        return _blocks(self.piece, replace(self.rules.of_blocks, stitches=(stitch,)))

    @cached_property
    def model(self) -> Model:
        """Every rule."""
        return rulebook.build(self.piece, self.rules, (*rulebook.RULES, *self.more))

    def allowing(self, splits: int) -> Context:
        """The same where so many splits are allowed beside those of the rules."""
        if splits == 0:
            return self
        assert not self.more
        rules = replace(self.rules, splits=self.rules.splits + splits)
        return context(self.form, self.worked, self.symmetry, rules)

    @cached_property
    def solver(self) -> Solver:
        return Solver(self.model.formula)

    def settled(self, values: BoolArray, effort: float, further: Sequence[Linear] = ()) -> tuple[BoolArray | None, str]:
        """A composition itself if it keeps every rule, else what the solver reaches from it, and its status.

        values: (size,) of the model's formula. effort: deterministic time. further: constraints of this design alone.
        """
        formula = self.model.formula
        values = formula.complete(values)
        held = all(each.least <= int(each.weights @ values[each.variables]) <= each.most for each in further)
        if held and not formula.broken(values):
            return values, ""
        answer = self.solver.solve(values, effort, further)
        return answer.values, answer.status.value


@lru_cache(maxsize=_KEPT)
def _blocks(piece: Piece, rules: Rules) -> Model:
    """The block rules on a piece, one model for all contexts with the same ones: what is drawn for it is kept by it."""
    return rulebook.build(piece, rules, rulebook.BLOCK_RULES)


@lru_cache(maxsize=_KEPT)
def context(form: Form, worked: str, symmetry: str, rules: Rules, more: tuple[Rule, ...] = ()) -> Context:
    """The context of a piece under these rules, the same one for whoever asks."""
    return Context(form, worked, symmetry, rules, more)

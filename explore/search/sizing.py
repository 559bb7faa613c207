"""What a brief says of each form: which measures it allows, and what holds where it names none. One table, by form.

Apart from that of `workshops`, so that a brief is read without loading the solver.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

from constraints import explain
from constraints.brief import Brief
from constraints.forms import OBLONGS, Form, Square, Strip
from constraints.square_sizes import sizes, square_of
from constraints.symmetry import SUITS
from explore.search.frames import measures as oblongs
from explore.search.more import of_more_pairs
from explore.search.strips import measures as strips


@dataclass(frozen=True)
class Sizing:
    """How a brief is taken for one form.

    allowed: every form of the kind that it allows, the smallest first. conflict: one line on why it allows none, None
    if it allows one. named: whether it names the size, so that more pairs change nothing. symmetry: where it names
    none; SUITS leaves it to the search. wider: the brief with more and more room, along each measure that gives it.
    """

    allowed: Callable[[Brief], Sequence[Form]]
    conflict: Callable[[Brief], str | None]
    named: Callable[[Brief], bool]
    symmetry: Callable[[Brief], str]
    wider: Callable[[Brief], Sequence[Iterable[Brief]]]

    def pairs(self, brief: Brief) -> list[int]:
        """The pairs of every size that a brief names; empty where the pairs themselves give the size."""
        return (
            [form.pairs(brief.piece.first_way, brief.piece.passives) for form in self.allowed(brief)]
            if self.named(brief)
            else []
        )


def _squares(brief: Brief) -> list[Form]:
    found = [square_of(brief.piece, size.half_size) for size in sizes(brief)]
    return [form for form in found if form is not None]


def _names_side(brief: Brief) -> bool:
    return brief.piece.names_side


def _wider_squares(brief: Brief) -> list[Iterable[Brief]]:
    return [] if brief.piece.names_side else [of_more_pairs(brief)]


_OBLONG = Sizing(oblongs.forms_of, oblongs.conflict, _names_side, oblongs.symmetry_of, oblongs.wider)
SIZING = {
    Square.name: Sizing(
        _squares,
        explain.size_conflict,
        _names_side,
        lambda brief: SUITS if brief.stamps else "full",
        _wider_squares,
    ),
    Strip.name: Sizing(
        strips.forms_of,
        strips.conflict,
        lambda brief: brief.piece.columns is not None,
        lambda brief: SUITS,
        strips.wider,
    ),
    **dict.fromkeys(OBLONGS, _OBLONG),
}

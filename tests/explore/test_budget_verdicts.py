"""Room for fillings, against an answer set program that knows nothing of the project's code.

The program is that of tests/constraints/answer_sets.py, written from the model of the trade and solved by clingo,
with a question put to it: is there a square with such a figure.
"""

from typing import Any

import clingo
import pytest
from answer_sets import BLOCKS, FILLINGS, AskedSquares, facts

from constraints.brief import Brief
from constraints.forms import Square
from constraints.square_sizes import Size
from constraints.symmetry import SYMMETRIES
from explore.editing.budget.frontier import Verdict
from explore.editing.budget.verdicts import figures_of, verdict
from explore.search.squares.placing import Placing

STITCHES = ("cloth", "rose", "spider", "double-ground")
CASES = [
    (4, "full", "round"), (5, "full", "round"), (6, "full", "round"), (7, "full", "round"), (6, "full", "across"),
    (6, "quarter-turn", "across"), (6, "diagonal-mirrors", "across"), (6, "quarter-turn", "round"),
    (5, "half-turn", "round"), (5, "upright-mirrors", "across"), (5, "upright-mirror", "across"),
    (4, "diagonal-mirror", "round"), (4, "none", "round"), (5, "none", "across"),
]  # fmt: skip


def placing(half_size: int, symmetry: str, worked: str, **limits: Any) -> Placing:
    brief = Brief.of(symmetry=symmetry, worked=worked, stitches=STITCHES, **limits)
    return Placing(brief, None, Size(half_size, 5.0, Square(half_size).pairs(worked, 1)))


def solved(half_size: int, symmetry: str, worked: str, question: str, stitches: tuple[str, ...]) -> list[int]:
    """How many symbols each answer shows, the best answer last; none if there is no square."""
    control = clingo.Control(["--warn=none"])
    asked = AskedSquares(half_size, symmetry, worked, stitches=stitches, solid=(0.2, 0.5))
    fillings = FILLINGS if len(stitches) > 1 else ""
    control.add("base", [], facts(asked) + BLOCKS.replace("#show in/3.", "") + fillings + question)
    control.ground([("base", [])])
    with control.solve(yield_=True) as handle:
        return [len(model.symbols(shown=True)) for model in handle]


@pytest.mark.parametrize(("half_size", "symmetry", "worked"), CASES)
def test_room_for_each_figure_is_what_an_answer_set_program_says(half_size: int, symmetry: str, worked: str) -> None:
    desk = placing(half_size, symmetry, worked)
    for figure in figures_of(STITCHES):
        kind = "spider" if figure.startswith("spider") else figure
        some = "twice(_,_)" if kind == "double-ground" else f"unit({figure.replace('-', '_')},_,_)"
        exists = bool(solved(half_size, symmetry, worked, f":- not {some}.", ("cloth", kind)))
        assert verdict({0: desk}, figure, (), False) is (Verdict.FOUND if exists else Verdict.IMPOSSIBLE), figure


def test_of_several_symmetries_the_roomiest_answers() -> None:
    every = dict(enumerate(placing(6, symmetry, "round") for symmetry in ("full", "none")))
    for figure in figures_of(STITCHES):
        assert verdict(every, figure, (), False) is verdict({1: every[1]}, figure, (), False)
        assert verdict(every, figure, (), False) >= verdict({0: every[0]}, figure, (), False)


def test_figures_are_those_of_the_allowed_fillings() -> None:
    assert figures_of(("cloth", "half")) == ()
    assert figures_of(STITCHES) == ("rose", "spider-8", "spider-12", "spider-16", "double-ground")
    assert {symmetry for _, symmetry, _ in CASES} == set(SYMMETRIES)

"""Compositions that the solver chooses: figures that can be worked, together as they are, and none better in small
cases, by trying all of them."""

from __future__ import annotations

from itertools import combinations
from typing import Any

import numpy as np
import pytest

from constraints.brief import Brief
from constraints.check import check
from constraints.formula import truth
from constraints.lattice import BoolArray, IntArray
from constraints.solver import Answer, Solver
from constraints.symmetry import SYMMETRIES
from explore.search.attempt import Making, decoded
from explore.search.compose import parts
from explore.search.compose.canvas import Canvas
from explore.search.composing.candidates import Candidate, desk_of, figures
from explore.search.composing.choosing import chosen
from explore.search.composing.families import FAMILIES
from explore.search.composing.manners import MANNERS, Manner
from explore.search.composing.taste import Taste
from explore.search.context import Context
from explore.search.squares.composing import composed
from explore.search.squares.suited import placings_of
from explore.search.workshop import canvas_round

HALF = 20
MAKING = Making(5.0, 1, 1, "", "a composition of a test")


def context(symmetry: str = "full", worked: str = "round", half_size: int = HALF) -> Context:
    brief = Brief.of(half_size=(half_size, half_size), symmetry=symmetry, worked=worked, pairs=60, solid=(0.0, 1.0))
    return placings_of(brief, None)[0].context


def fresh(own: Context) -> Canvas:
    return canvas_round(own, ())


def findings(own: Context, block: BoolArray) -> list[str]:
    """What the second check finds in a square with these blocks in cloth, (n,)."""
    values = np.zeros(own.model.formula.size, dtype=np.bool_)
    values[own.model.stitch["cloth"][block]] = True
    return [str(each) for each in check(decoded(own, own.model.formula.complete(values), (), MAKING))]


def together(own: Context, some: list[Candidate]) -> BoolArray:
    block = np.zeros(len(own.piece), dtype=np.bool_)
    for each in some:
        block[each.places] = True
    return block


@pytest.mark.parametrize("name", [name for name in FAMILIES if name != "contour"])
def test_figures_of_every_family_can_be_worked_alone(name: str) -> None:
    own = context("quarter-turn" if name == "pinwheel" else "full")
    found = [each for each in figures(fresh(own), Manner((name,), ()), np.random.default_rng(1)) if each.family == name]
    assert len(found) >= 5
    for each in found[:12]:
        assert findings(own, together(own, [each])) == []
        images = own.piece.images_under(each.symmetry)[:, each.places]
        assert set(np.unique(images)) == set(each.places)


@pytest.mark.parametrize("symmetry", SYMMETRIES)
def test_what_is_chosen_keeps_every_rule_as_it_is(symmetry: str) -> None:
    own = context(symmetry, "round" if symmetry != "half-turn" else "across")
    for number, (name, manner) in enumerate(list(MANNERS.items())[::3]):
        every = figures(fresh(own), manner, np.random.default_rng([number]))
        some = chosen(fresh(own), every, manner, (0.27, 0.33), 1.0, np.random.default_rng([number]))
        block = together(own, some)
        assert some, name
        assert fresh(own).holds(block)
        assert findings(own, block) == []
        assert sum(len(each.places) for each in some) == block.sum()
        assert 0.27 <= block.mean() <= 0.33
        if any(each.family in manner.lead for each in every):
            assert any(each.family in manner.lead for each in some)


def test_no_choice_of_a_few_figures_has_more_points(monkeypatch: pytest.MonkeyPatch) -> None:
    """All choices are tried: those whose union keeps the rules, in which no two touch along a step; points are added up
    one by one."""
    own, manner = context(half_size=14), MANNERS["frames"]
    few = figures(fresh(own), manner, np.random.default_rng(5))[::17][:9]
    told: list[float] = []

    maximise = Solver.maximise

    def noting(solver: Solver, literals: IntArray, weights: IntArray, *given: Any, **named: Any) -> Answer:
        answer = maximise(solver, literals, weights, *given, **named)
        assert answer.values is not None
        told.append(float((weights * truth(answer.values, literals)).sum()))
        return answer

    monkeypatch.setattr(Solver, "maximise", noting)
    got = chosen(fresh(own), few, manner, (0.27, 0.33), 5.0, np.random.default_rng(5))
    best = -np.inf
    for many in range(1, len(few) + 1):
        for some in combinations(range(len(few)), many):
            block = together(own, [few[each] for each in some])
            apart = all(
                not (fresh(own).piece.widened(together(own, [few[a]])) & together(own, [few[b]])).any()
                for a, b in combinations(some, 2)
            )
            if apart and 0.27 <= block.mean() <= 0.33 and fresh(own).holds(block):
                best = max(best, points(own, few, some, manner))
    assert told == [pytest.approx(best, abs=10 * len(few))]
    assert points(own, few, tuple(few.index(each) for each in got), manner) == pytest.approx(best, abs=1)


def points(own: Context, few: list[Candidate], some: tuple[int, ...], manner: Manner) -> float:
    """Ten times the points of a choice, rounded part by part as the model does."""
    rng = np.random.default_rng(5)
    taste = Taste(desk_of(fresh(own)), manner, few)
    total = [taste.of_figures(rng)[list(some)]]
    first, second, worth = taste.of_pairs(rng)
    total.append(np.array([w for a, b, w in zip(first, second, worth, strict=True) if {a, b} <= set(some)]))
    total.append(np.array([p for p, which in taste.answered.values() if which[list(some)].any()]))
    families = {few[each].family for each in some}
    total.append(np.array([-60.0] * len(families)))
    total.append(np.array([800.0 for _ in [0] if families & set(manner.lead)]))
    rows, lost = taste.empty(np.arange(len(few)))
    total.append(np.array([lost[number] for number, row in enumerate(rows) if not {*row.tolist()} & {*some}]))
    return float(sum(np.round(10 * each).sum() for each in total))


def test_tips_that_touch_and_lines_at_an_even_gap_are_liked() -> None:
    """By hand, on figures of single places: two that lie in one hole above each other touch; of two that run side by
    side the gap is counted in neighbour steps."""
    own = context("none")
    piece, manner = own.piece, Manner((), (), (4,))

    def at(*points: tuple[int, int]) -> Candidate:
        return Candidate("bar", "none", np.sort([piece.index[point] for point in points]))

    line = [(x, 1 - x) for x in range(5)]  # along a diagonal
    beside = [(x + 4, 5 - x) for x in range(5)]  # four steps down to the right of it
    few = [at((0, -1)), at((0, 1)), at((0, 7)), at(*line), at(*beside)]
    taste = Taste(desk_of(fresh(own)), manner, few)
    first, second, worth = taste.of_pairs(np.random.default_rng(1))
    found = {(int(a), int(b)): float(w) for a, b, w in zip(first, second, worth, strict=True)}
    assert found[0, 1] == 6.0
    assert (0, 2) not in found
    assert found[3, 4] == 5.0
    assert (2, 3) not in found or found[2, 3] < 5.0


def test_a_ring_answers_neither_centre_nor_a_print_what_it_covers() -> None:
    own = context()
    every = figures(fresh(own), MANNERS["nested rings"], np.random.default_rng(2))
    answered = Taste(desk_of(fresh(own)), MANNERS["nested rings"], every).answered
    assert set(answered) == {"centre", "corners", "edge"}
    for _, which in answered.values():
        assert which.any()
        assert not which.all()
    covered = Canvas(
        own.blocks, together(own, [next(e for e in every if answered["centre"][1][every.index(e)])]), own.piece.fan
    )
    assert "centre" not in Taste(desk_of(covered), MANNERS["nested rings"], []).answered


def test_pieces_are_counted_and_a_closed_ring_is_none() -> None:
    """By hand: a ring round one opening, four diamonds of nine places, and both."""
    own = context()
    desk = desk_of(fresh(own))
    ring = np.flatnonzero(parts.square_ring(own.piece, 17, 5))
    one = parts.diamond(own.piece, (-5, -6), 3)
    four = np.unique(own.piece.images_under("quarter-turn")[:, np.flatnonzero(one)])
    assert len(four) == 36
    every = [Candidate("x", "full", each) for each in (ring, four, np.union1d(ring, four))]
    assert Taste(desk, Manner((), ()), every).pieces.tolist() == [0, 4, 4]


@pytest.mark.parametrize("solid", [(0.16, 0.2), (0.3, 0.34)])
def test_as_much_is_laid_as_the_brief_asks(solid: tuple[float, float]) -> None:
    """The solver need take nothing away again, which would leave half a figure."""
    placing = placings_of(Brief.of(half_size=(HALF, HALF), symmetry="full", pairs=60, solid=solid), None)[0]
    for job in range(4):
        manner, canvas = composed(placing, lambda: fresh(placing.context), job, np.random.default_rng([job]))
        assert manner in MANNERS
        assert solid[0] <= canvas.block.mean() <= solid[1]

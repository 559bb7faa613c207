"""What a budget reaches: never worse for more pairs, whatever the figures of the half-sizes."""

from itertools import pairwise
from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from constraints.brief import HARDLY, Brief
from explore.editing.budget.frontier import Best, Budget, Reached, Showing, Verdict, frontier
from explore.editing.budget.sizes import AffordedSize

SHOWINGS = st.integers(-300, 300).map(lambda score: Showing("leaf", score / 100, HARDLY, 6.0, 0.0, "none", 0.8))


@st.composite
def reached(draw: st.DrawFn) -> list[Reached]:
    """Half-sizes in order, some left out, each with numbers of its own."""
    made = []
    for half_size in sorted(draw(st.sets(st.integers(1, 30), max_size=12))):
        verdicts = draw(
            st.dictionaries(st.sampled_from(["rose", "spider-8", "double-ground"]), st.sampled_from(Verdict))
        )
        size = AffordedSize(half_size, half_size + 2, (5.0, 5.0), 2 * half_size, Brief())
        made.append(Reached(size, draw(st.none() | SHOWINGS), verdicts))
    return made


def numbers_of(budget: Budget) -> list[float]:
    """All numbers of a budget, a missing one below every other."""
    bests: list[Best[Any] | None] = [budget.eyes]
    bests += [budget.verdicts.get(name) for name in ("rose", "spider-8", "double-ground")]
    return [-1.0 if best is None else float(best.value) for best in bests]


@given(reached())
def test_a_larger_budget_never_shows_worse(sizes: list[Reached]) -> None:
    budgets = frontier(sizes, range(2, 34))
    for smaller, larger in pairwise(budgets):
        assert all(a <= b for a, b in zip(numbers_of(smaller), numbers_of(larger), strict=True))


@given(reached())
def test_every_number_stands_at_an_afforded_half_size_that_has_it(sizes: list[Reached]) -> None:
    """And the one named is the smallest of those that reach it."""
    by_size = {each.size.measure: each for each in sizes}
    for budget in frontier(sizes, range(2, 34)):
        afforded = [each for each in sizes if each.size.pairs <= budget.pairs]
        best = budget.eyes
        every = [each.showing.eyes for each in afforded if each.showing is not None]
        assert (None if best is None else best.value) == max(every, default=None)
        if best is not None:
            at = by_size[best.measure]
            assert at in afforded
            assert at.showing is not None
            assert at.showing.eyes == best.value
            smaller = [each.showing for each in afforded if each.size.measure < best.measure]
            assert all(each is None or each.eyes < best.value for each in smaller)


def test_a_figure_is_impossible_only_where_it_is_so_at_every_half_size() -> None:
    def at(half_size: int, verdict: Verdict) -> Reached:
        return Reached(
            AffordedSize(half_size, half_size + 2, (5.0, 5.0), 2 * half_size, Brief()), None, {"rose": verdict}
        )

    sizes = [
        at(3, Verdict.IMPOSSIBLE),
        at(4, Verdict.NOT_FOUND),
        at(5, Verdict.ALONE),
        at(6, Verdict.FOUND),
        at(7, Verdict.ALONE),
    ]
    told = [budget.verdicts for budget in frontier(sizes, range(4, 10))]
    assert told == [
        {},
        {"rose": Best(Verdict.IMPOSSIBLE, 3)},
        {"rose": Best(Verdict.NOT_FOUND, 4)},
        {"rose": Best(Verdict.ALONE, 5)},
        {"rose": Best(Verdict.FOUND, 6)},
        {"rose": Best(Verdict.FOUND, 6)},
    ]

"""When a stamp finds no place, what is told is what stands in the way."""

from constraints.brief import Brief
from explore.reading import built_in, read
from explore.search.accepting import JobResult
from explore.search.search import search

TULIP, LEAF = read(built_in("tulip")), read(built_in("leaf"))


def first(brief: Brief) -> JobResult:
    (step,) = search(brief, TULIP, cores=1)
    assert step.design is None
    return step


def finds(brief: Brief) -> bool:
    return any(step.design is not None for step in search(brief, TULIP, cores=1, count=1))


def test_too_high_a_match_comes_with_the_one_that_is_reached() -> None:
    step = first(Brief.of(half_size=(14, 14), match=0.99, symmetry="upright-mirror"))
    assert "0.99 is asked for" in step.note
    assert step.near
    assert all(finds(near) for near in step.near)


def test_copies_that_do_not_keep_clear_are_told_as_that() -> None:
    told = first(Brief.of(half_size=(14, 14), copies=6, symmetry="upright-mirror")).note
    assert told.startswith("6 copies of tulip keep clear of each other in none of ")


def test_a_print_too_solid_is_not_told_as_a_match_too_low() -> None:
    step = first(Brief.of(half_size=(14, 14), symmetry="none", stamp_size=(10.0, 10.0), solid=(0.0, 0.05), match=0.5))
    assert "of the pinholes where it takes least, solid allows 5%" in step.note
    assert all(finds(near) for near in step.near)

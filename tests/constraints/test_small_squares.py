"""All small squares there are: the formula, an answer set program and trial and error tell the same ones.

The formula's squares come from CP-SAT; the answer set program is written from the model of the trade and
solved by clingo (another family of solvers); trial and error puts every layout before the solver-free check.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from itertools import chain, combinations, product
from typing import Any

import pytest
from answer_sets import GENERATORS, SIDES, Told, Wish
from answer_sets import every as by_clingo
from designs import blocks, double, in_order, made
from every import laces

from constraints import rulebook
from constraints.check import check
from constraints.design import Design, FieldFilling
from constraints.forms import Square
from constraints.layout import lay
from constraints.ruleset import Rules
from constraints.swings import swings_of

ALL = ("cloth", "half", "rose", "spider", "double-ground")

# --- by the formula --------------------------------------------------------------------------------------


def by_formula(wish: Wish) -> set[Told]:
    limits = {
        name: getattr(wish, name)
        for name in ("stitches", "narrowest", "widest", "narrowest_ground", "margin", "splits", "solid", "corners")
    }
    return laces(rulebook.build(Square(wish.half_size).piece(wish.worked, wish.symmetry), Rules(**limits)))


# --- by trial and error ----------------------------------------------------------------------------------

KINDS = {**SIDES["rose"], **SIDES["spider"]}
Points = set[tuple[int, int]]


def pinholes_of(kind: str, x: int, y: int) -> Points:
    reach = range(-KINDS[kind] + 1, KINDS[kind])
    return {(x + a, y + b) for a in reach for b in reach if abs(a) + abs(b) < KINDS[kind] and (x + y + a + b) % 2}


def by_trial(wish: Wish) -> set[Told]:
    """Every layout of whole orbits that the check lets pass."""
    n, stitches = wish.half_size, [name for name in wish.stitches if name in ("cloth", "half", "whole")]
    inner = [p for p in points(n - wish.margin) if sum(p) % 2]
    found: set[Told] = set()
    for choice in product([None, *stitches], repeat=len(orbits(inner, wish))):
        worked = frozenset(
            (*p, stitch) for stitch, orbit in zip(choice, orbits(inner, wish), strict=True) if stitch for p in orbit
        )
        if passes(wish, (worked, frozenset(), frozenset())):
            found.update(_filled(wish, worked))
    return found


def _filled(wish: Wish, worked: frozenset[tuple[int, int, str]]) -> Iterator[Told]:
    nothing: frozenset[Any] = frozenset()
    figures = [
        frozenset((kind, *p) for p in orbit)
        for name in wish.stitches
        for kind, side in SIDES.get(name, {}).items()
        for orbit in orbits([p for p in points(wish.half_size) if (sum(p) + side) % 2 == 0], wish)
    ]
    # What cannot stand there alone cannot stand there among others.
    figures = [each for each in figures if passes(wish, (worked, each, nothing))]
    inner = [p for p in points(wish.half_size - 1) if sum(p) % 2] if "double-ground" in wish.stitches else []
    for units in map(_union, subsets(figures)):
        if passes(wish, (worked, units, nothing)):
            for doubled in map(_union, subsets(orbits(inner, wish))):
                if passes(wish, (worked, units, doubled)):
                    yield worked, units, doubled


def passes(wish: Wish, told: Told) -> bool:
    """Whether the check lets the square pass, with as many splits as it has."""
    model = as_square(wish, told)
    return any(not check(replace(model, splits=number)) for number in range(wish.splits + 1))


def as_square(wish: Wish, told: Told) -> Design:
    worked, units, doubled = told
    parts: list[Any] = []
    for stitch in sorted({stitch for _, _, stitch in worked}):
        parts += blocks(stitch, {(x, y) for x, y, s in worked if s == stitch})
    for kind in sorted({kind for kind, _, _ in units}):
        parts.append(FieldFilling(kind, in_order((x, y) for k, x, y in units if k == kind)))
    if doubled:
        parts.append(double(set(doubled)))
    brief = {
        name: getattr(wish, name)
        for name in ("narrowest", "widest", "narrowest_ground", "margin", "splits", "solid", "stitches", "corners")
        if getattr(wish, name) != ""
    }
    return made(wish.half_size, *parts, worked=wish.worked, symmetry=wish.symmetry, brief=brief)


def points(reach: int) -> list[tuple[int, int]]:
    return [(x, y) for x in range(-reach, reach + 1) for y in range(-reach, reach + 1)]


def orbits(places: Iterable[tuple[int, int]], wish: Wish) -> list[frozenset[tuple[int, int]]]:
    left, found = set(places), []
    while left:
        orbit, edge = set(), [min(left)]
        while edge:
            x, y = edge.pop()
            if (x, y) not in orbit:
                orbit.add((x, y))
                edge += [(a * x + b * y, c * x + d * y) for a, b, c, d in GENERATORS[wish.symmetry]]
        found.append(frozenset(orbit))
        left -= orbit
    return found


def subsets(each: list[frozenset[Any]]) -> Iterator[tuple[frozenset[Any], ...]]:
    return chain.from_iterable(combinations(each, size) for size in range(len(each) + 1))


def _union(parts: Iterable[frozenset[Any]]) -> frozenset[Any]:
    return frozenset().union(*parts)


# --- the three tell the same -----------------------------------------------------------------------------

SMALL = [
    Wish(2, "none", margin=1, narrowest=1, narrowest_ground=1),
    Wish(3, "none", margin=2, narrowest=1, narrowest_ground=1),
    Wish(3, "half-turn", margin=1, narrowest=1, narrowest_ground=1),
    Wish(4, "full", margin=1, narrowest=1, narrowest_ground=1, splits=4),
    Wish(4, "quarter-turn", margin=1, narrowest=1, narrowest_ground=2),
    Wish(4, "upright-mirrors", "across", margin=1, narrowest=1, narrowest_ground=1, splits=2),
    Wish(4, "diagonal-mirrors", margin=1, narrowest=2, narrowest_ground=1),
    Wish(4, "half-turn", "across", margin=2, narrowest=1, narrowest_ground=1),
    Wish(4, "upright-mirror", margin=2, narrowest=1, narrowest_ground=1, splits=1),
    Wish(4, "diagonal-mirror", "across", margin=2, narrowest=1, narrowest_ground=1, splits=2),
    Wish(5, "full", "across", margin=1, narrowest=1, narrowest_ground=1, splits=8),
    Wish(5, "quarter-turn", margin=2, narrowest=2, narrowest_ground=2, splits=4),
    Wish(6, "full", margin=2, narrowest=2, narrowest_ground=2),
    Wish(6, "full", margin=2, narrowest=1, narrowest_ground=1, widest=2, solid=(0.1, 0.4)),
    Wish(4, "half-turn", margin=2, narrowest=1, narrowest_ground=1, splits=2, corners="swung"),
    Wish(6, "full", margin=2, narrowest=1, narrowest_ground=1, splits=8, corners="swung"),
    Wish(6, "full", margin=1, narrowest=1, narrowest_ground=1, corners="swung"),
    Wish(5, "quarter-turn", margin=1, narrowest=2, narrowest_ground=1, corners="clear"),
    Wish(4, "upright-mirror", margin=2, narrowest=1, narrowest_ground=1, splits=1, corners=""),
    Wish(6, "full", margin=2, narrowest=2, narrowest_ground=1, widest=2, splits=8, corners=""),
    Wish(3, "full", stitches=ALL, margin=1, narrowest=1, narrowest_ground=1),
    Wish(4, "full", stitches=ALL, narrowest=1, narrowest_ground=1),
    Wish(4, "full", "across", stitches=ALL),
    Wish(4, "quarter-turn", stitches=ALL),
    Wish(4, "diagonal-mirrors", stitches=("cloth", "rose", "spider")),
    Wish(4, "diagonal-mirrors", stitches=("cloth", "rose", "half-stitch-rose")),
    Wish(4, "upright-mirrors", "across", stitches=("cloth", "half", "rose")),
]

LARGER = [
    Wish(4, "none", margin=1),
    Wish(5, "none", "across"),
    Wish(5, "half-turn", narrowest=1, narrowest_ground=2, widest=2, splits=2),
    Wish(6, "half-turn", stitches=("cloth", "half")),
    Wish(6, "quarter-turn", margin=2, narrowest=1, narrowest_ground=1),
    Wish(6, "diagonal-mirrors", "across", margin=1, splits=2),
    Wish(7, "half-turn", narrowest_ground=3),
    Wish(7, "quarter-turn", margin=1, narrowest=3, splits=4),
    Wish(7, "half-turn", margin=1, corners="swung"),
    Wish(9, "full", margin=1, corners="swung"),
    Wish(7, "quarter-turn", margin=1, narrowest=1, solid=(0.3, 1.0), corners="swung"),
    Wish(6, "quarter-turn", margin=1, narrowest=1, splits=4, corners="clear"),
    Wish(6, "half-turn", margin=1, narrowest=2, splits=4, corners=""),
    Wish(5, "full", stitches=ALL),
    Wish(5, "quarter-turn", stitches=ALL),
    Wish(5, "upright-mirrors", stitches=("cloth", "rose", "double-ground")),
    Wish(5, "half-turn", stitches=("cloth", "spider")),
    Wish(4, "upright-mirror", "across", stitches=("cloth", "spider")),
]


FILLINGS = ("cloth", "rose", "spider", "double-ground")
# Every symmetry worked either way, the middle an even number of units from the edge and an odd one.
FILLED = [
    Wish(half, symmetry, worked, FILLINGS, solid=(0.0, 0.12))
    for half, worked in ((4, "round"), (3, "across"))
    for symmetry in GENERATORS
]
FILLED += [
    Wish(half, symmetry, worked, stitches, solid=(0.0, 0.1))
    for half, worked, stitches in ((5, "round", ("cloth", "rose", "double-ground")), (4, "across", FILLINGS))
    for symmetry in GENERATORS
    if symmetry != "none"
]


@pytest.mark.parametrize("wish", SMALL, ids=str)
def test_the_formula_tells_all_squares_that_the_check_lets_pass(wish: Wish) -> None:
    told = by_formula(wish)
    assert told == by_trial(wish)
    assert told == by_clingo(wish)


@pytest.mark.parametrize("wish", [*LARGER, *FILLED], ids=str)
def test_larger_ones_are_those_of_an_answer_set_program_and_pass_the_check(wish: Wish) -> None:
    told = by_formula(wish)
    assert len(told) > 1
    assert told == by_clingo(wish)
    for each in sorted(told, key=repr)[::7]:
        assert passes(wish, each)


def test_among_them_trails_swing_in_slanting_rows() -> None:
    wishes = [wish for wish in LARGER + SMALL if wish.corners == "swung" and wish.splits == 0]
    found = [len(swings_of(lay(as_square(wish, told)))) for wish in wishes[-3:] for told in by_formula(wish)]
    assert max(found) == 4
    assert min(found) == 0


def test_everything_a_brief_may_allow_occurs_among_them() -> None:
    told = by_formula(Wish(4, "full", "across", stitches=ALL))
    told |= by_formula(Wish(4, "upright-mirror", "across", stitches=("cloth", "spider")))
    assert {stitch for worked, _, _ in told for _, _, stitch in worked} == {"cloth", "half"}
    assert {kind for _, units, _ in told for kind, _, _ in units} == set(KINDS)
    assert any(doubled for _, _, doubled in told)

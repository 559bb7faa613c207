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
from answer_sets import GENERATORS, SIDES, AskedSquares, Told
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


def by_formula(asked: AskedSquares) -> set[Told]:
    limits = {
        name: getattr(asked, name)
        for name in ("stitches", "narrowest", "widest", "narrowest_ground", "margin", "splits", "solid", "corners")
    }
    return laces(rulebook.build(Square(asked.half_size).piece(asked.worked, asked.symmetry), Rules(**limits)))


# --- by trial and error ----------------------------------------------------------------------------------

KINDS = {**SIDES["rose"], **SIDES["spider"]}
Points = set[tuple[int, int]]


def pinholes_of(kind: str, x: int, y: int) -> Points:
    reach = range(-KINDS[kind] + 1, KINDS[kind])
    return {(x + a, y + b) for a in reach for b in reach if abs(a) + abs(b) < KINDS[kind] and (x + y + a + b) % 2}


def by_trial(asked: AskedSquares) -> set[Told]:
    """Every layout of whole orbits that the check lets pass."""
    n, stitches = asked.half_size, [name for name in asked.stitches if name in ("cloth", "half", "whole")]
    inner = [p for p in points(n - asked.margin) if sum(p) % 2]
    found: set[Told] = set()
    for choice in product([None, *stitches], repeat=len(orbits(inner, asked))):
        worked = frozenset(
            (*p, stitch) for stitch, orbit in zip(choice, orbits(inner, asked), strict=True) if stitch for p in orbit
        )
        if passes(asked, (worked, frozenset(), frozenset())):
            found.update(_filled(asked, worked))
    return found


def _filled(asked: AskedSquares, worked: frozenset[tuple[int, int, str]]) -> Iterator[Told]:
    nothing: frozenset[Any] = frozenset()
    figures = [
        frozenset((kind, *p) for p in orbit)
        for name in asked.stitches
        for kind, side in SIDES.get(name, {}).items()
        for orbit in orbits([p for p in points(asked.half_size) if (sum(p) + side) % 2 == 0], asked)
    ]
    # What cannot stand there alone cannot stand there among others.
    figures = [each for each in figures if passes(asked, (worked, each, nothing))]
    inner = [p for p in points(asked.half_size - 1) if sum(p) % 2] if "double-ground" in asked.stitches else []
    for units in map(_union, subsets(figures)):
        if passes(asked, (worked, units, nothing)):
            for doubled in map(_union, subsets(orbits(inner, asked))):
                if passes(asked, (worked, units, doubled)):
                    yield worked, units, doubled


def passes(asked: AskedSquares, told: Told) -> bool:
    """Whether the check lets the square pass, with as many splits as it has."""
    model = as_square(asked, told)
    return any(not check(replace(model, splits=number)) for number in range(asked.splits + 1))


def as_square(asked: AskedSquares, told: Told) -> Design:
    worked, units, doubled = told
    parts: list[Any] = []
    for stitch in sorted({stitch for _, _, stitch in worked}):
        parts += blocks(stitch, {(x, y) for x, y, s in worked if s == stitch})
    for kind in sorted({kind for kind, _, _ in units}):
        parts.append(FieldFilling(kind, in_order((x, y) for k, x, y in units if k == kind)))
    if doubled:
        parts.append(double(set(doubled)))
    brief = {
        name: getattr(asked, name)
        for name in ("narrowest", "widest", "narrowest_ground", "margin", "splits", "solid", "stitches", "corners")
        if getattr(asked, name) != ""
    }
    return made(asked.half_size, *parts, worked=asked.worked, symmetry=asked.symmetry, brief=brief)


def points(reach: int) -> list[tuple[int, int]]:
    return [(x, y) for x in range(-reach, reach + 1) for y in range(-reach, reach + 1)]


def orbits(places: Iterable[tuple[int, int]], asked: AskedSquares) -> list[frozenset[tuple[int, int]]]:
    left, found = set(places), []
    while left:
        orbit, edge = set(), [min(left)]
        while edge:
            x, y = edge.pop()
            if (x, y) not in orbit:
                orbit.add((x, y))
                edge += [(a * x + b * y, c * x + d * y) for a, b, c, d in GENERATORS[asked.symmetry]]
        found.append(frozenset(orbit))
        left -= orbit
    return found


def subsets(each: list[frozenset[Any]]) -> Iterator[tuple[frozenset[Any], ...]]:
    return chain.from_iterable(combinations(each, size) for size in range(len(each) + 1))


def _union(parts: Iterable[frozenset[Any]]) -> frozenset[Any]:
    return frozenset().union(*parts)


# --- the three tell the same -----------------------------------------------------------------------------

SMALL = [
    AskedSquares(2, "none", margin=1, narrowest=1, narrowest_ground=1),
    AskedSquares(3, "none", margin=2, narrowest=1, narrowest_ground=1),
    AskedSquares(3, "half-turn", margin=1, narrowest=1, narrowest_ground=1),
    AskedSquares(4, "full", margin=1, narrowest=1, narrowest_ground=1, splits=4),
    AskedSquares(4, "quarter-turn", margin=1, narrowest=1, narrowest_ground=2),
    AskedSquares(4, "upright-mirrors", "across", margin=1, narrowest=1, narrowest_ground=1, splits=2),
    AskedSquares(4, "diagonal-mirrors", margin=1, narrowest=2, narrowest_ground=1),
    AskedSquares(4, "half-turn", "across", margin=2, narrowest=1, narrowest_ground=1),
    AskedSquares(4, "upright-mirror", margin=2, narrowest=1, narrowest_ground=1, splits=1),
    AskedSquares(4, "diagonal-mirror", "across", margin=2, narrowest=1, narrowest_ground=1, splits=2),
    AskedSquares(5, "full", "across", margin=1, narrowest=1, narrowest_ground=1, splits=8),
    AskedSquares(5, "quarter-turn", margin=2, narrowest=2, narrowest_ground=2, splits=4),
    AskedSquares(6, "full", margin=2, narrowest=2, narrowest_ground=2),
    AskedSquares(6, "full", margin=2, narrowest=1, narrowest_ground=1, widest=2, solid=(0.1, 0.4)),
    AskedSquares(4, "half-turn", margin=2, narrowest=1, narrowest_ground=1, splits=2, corners="swung"),
    AskedSquares(6, "full", margin=2, narrowest=1, narrowest_ground=1, splits=8, corners="swung"),
    AskedSquares(6, "full", margin=1, narrowest=1, narrowest_ground=1, corners="swung"),
    AskedSquares(5, "quarter-turn", margin=1, narrowest=2, narrowest_ground=1, corners="clear"),
    AskedSquares(4, "upright-mirror", margin=2, narrowest=1, narrowest_ground=1, splits=1, corners=""),
    AskedSquares(6, "full", margin=2, narrowest=2, narrowest_ground=1, widest=2, splits=8, corners=""),
    AskedSquares(3, "full", stitches=ALL, margin=1, narrowest=1, narrowest_ground=1),
    AskedSquares(4, "full", stitches=ALL, narrowest=1, narrowest_ground=1),
    AskedSquares(4, "full", "across", stitches=ALL),
    AskedSquares(4, "quarter-turn", stitches=ALL),
    AskedSquares(4, "diagonal-mirrors", stitches=("cloth", "rose", "spider")),
    AskedSquares(4, "diagonal-mirrors", stitches=("cloth", "rose", "half-stitch-rose")),
    AskedSquares(4, "upright-mirrors", "across", stitches=("cloth", "half", "rose")),
]

LARGER = [
    AskedSquares(4, "none", margin=1),
    AskedSquares(5, "none", "across"),
    AskedSquares(5, "half-turn", narrowest=1, narrowest_ground=2, widest=2, splits=2),
    AskedSquares(6, "half-turn", stitches=("cloth", "half")),
    AskedSquares(6, "quarter-turn", margin=2, narrowest=1, narrowest_ground=1),
    AskedSquares(6, "diagonal-mirrors", "across", margin=1, splits=2),
    AskedSquares(7, "half-turn", narrowest_ground=3),
    AskedSquares(7, "quarter-turn", margin=1, narrowest=3, splits=4),
    AskedSquares(7, "half-turn", margin=1, corners="swung"),
    AskedSquares(9, "full", margin=1, corners="swung"),
    AskedSquares(7, "quarter-turn", margin=1, narrowest=1, solid=(0.3, 1.0), corners="swung"),
    AskedSquares(6, "quarter-turn", margin=1, narrowest=1, splits=4, corners="clear"),
    AskedSquares(6, "half-turn", margin=1, narrowest=2, splits=4, corners=""),
    AskedSquares(5, "full", stitches=ALL),
    AskedSquares(5, "quarter-turn", stitches=ALL),
    AskedSquares(5, "upright-mirrors", stitches=("cloth", "rose", "double-ground")),
    AskedSquares(5, "half-turn", stitches=("cloth", "spider")),
    AskedSquares(4, "upright-mirror", "across", stitches=("cloth", "spider")),
]


FILLINGS = ("cloth", "rose", "spider", "double-ground")
# Every symmetry worked either way, the middle an even number of units from the edge and an odd one.
FILLED = [
    AskedSquares(half, symmetry, worked, FILLINGS, solid=(0.0, 0.12))
    for half, worked in ((4, "round"), (3, "across"))
    for symmetry in GENERATORS
]
FILLED += [
    AskedSquares(half, symmetry, worked, stitches, solid=(0.0, 0.1))
    for half, worked, stitches in ((5, "round", ("cloth", "rose", "double-ground")), (4, "across", FILLINGS))
    for symmetry in GENERATORS
    if symmetry != "none"
]


@pytest.mark.parametrize("asked", SMALL, ids=str)
def test_the_formula_tells_all_squares_that_the_check_lets_pass(asked: AskedSquares) -> None:
    told = by_formula(asked)
    assert told == by_trial(asked)
    assert told == by_clingo(asked)


@pytest.mark.parametrize("asked", [*LARGER, *FILLED], ids=str)
def test_larger_ones_are_those_of_an_answer_set_program_and_pass_the_check(asked: AskedSquares) -> None:
    told = by_formula(asked)
    assert len(told) > 1
    assert told == by_clingo(asked)
    for each in sorted(told, key=repr)[::7]:
        assert passes(asked, each)


def test_among_them_trails_swing_in_slanting_rows() -> None:
    asked = [asked for asked in LARGER + SMALL if asked.corners == "swung" and asked.splits == 0]
    found = [len(swings_of(lay(as_square(asked, told)))) for asked in asked[-3:] for told in by_formula(asked)]
    assert max(found) == 4
    assert min(found) == 0


def test_everything_a_brief_may_allow_occurs_among_them() -> None:
    told = by_formula(AskedSquares(4, "full", "across", stitches=ALL))
    told |= by_formula(AskedSquares(4, "upright-mirror", "across", stitches=("cloth", "spider")))
    assert {stitch for worked, _, _ in told for _, _, stitch in worked} == {"cloth", "half"}
    assert {kind for _, units, _ in told for kind, _, _ in units} == set(KINDS)
    assert any(doubled for _, _, doubled in told)

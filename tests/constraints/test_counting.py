"""Counts of block layouts are those of explicit lists, up to turning and reflecting too.

Counts published elsewhere, and estimates, have rooms of their own.
"""

from __future__ import annotations

import numpy as np
import pytest
from answer_sets import GENERATORS, AskedSquares
from counted import Layout, listed, space
from every import Every

from constraints import rulebook
from constraints.brief import Brief
from constraints.counting import motions
from constraints.counting.answer import Certainty, any_found, by_symmetry, size
from constraints.counting.space import Space
from constraints.forms import Square
from constraints.lattice import PLAIN
from constraints.symmetry import SYMMETRIES

EIGHT = SYMMETRIES["full"]
# What keeps the way of working, from the trade: a square worked round may be turned to begin at any quarter, and
# a mirrored one is worked the other way round; one worked across keeps its top and bottom (common practice, no
# source).
KEEPING = {"round": EIGHT, "across": tuple(m for m in EIGHT if m[0][1] == 0)}


def classes(layouts: frozenset[Layout], worked: str) -> int:
    """How many kinds a list holds if what can be turned or reflected into each other is of one kind."""
    left, kinds = set(layouts), 0
    while left:
        one = left.pop()
        kinds += 1
        left -= {frozenset((a * x + b * y, c * x + d * y) for x, y in one) for (a, b), (c, d) in KEEPING[worked]}
    return kinds


USUAL = [AskedSquares(n, symmetry, worked) for n in (2, 3, 4, 5) for symmetry in GENERATORS for worked in KEEPING]
LOOSE = [
    AskedSquares(n, symmetry, worked, margin=1, narrowest=1, narrowest_ground=1, splits=splits)
    for n, splits in ((2, 0), (3, 2))
    for symmetry in GENERATORS
    for worked in KEEPING
]
OTHER = [
    AskedSquares(4, "full", margin=1, narrowest=1, narrowest_ground=1, splits=8),
    AskedSquares(4, "diagonal-mirror", "across", margin=1, narrowest=1, narrowest_ground=2),
    AskedSquares(5, "diagonal-mirrors", margin=1, narrowest=1, narrowest_ground=1, splits=4),
    AskedSquares(5, "upright-mirrors", "across", margin=1, narrowest=1, narrowest_ground=1, splits=2, solid=(0.1, 0.4)),
    AskedSquares(6, "quarter-turn", widest=2, narrowest_ground=1, solid=(0.15, 0.3)),
    AskedSquares(6, "upright-mirror", "across", narrowest_ground=1, solid=(0.2, 0.5)),
    AskedSquares(7, "half-turn", narrowest=3, narrowest_ground=3),
    AskedSquares(6, "half-turn", narrowest_ground=1, corners="swung"),
    AskedSquares(6, "diagonal-mirror", margin=1, corners="clear"),
    AskedSquares(5, "half-turn", margin=1, splits=2, corners=""),
    AskedSquares(5, "none", margin=1, solid=(0.2, 0.5)),
]


@pytest.mark.parametrize("asked", USUAL + LOOSE + OTHER, ids=str)
def test_exact_counts_are_those_of_an_answer_set_program(asked: AskedSquares) -> None:
    found = size(space(asked), effort=1.0, seed=1)
    layouts = listed(asked)
    assert (found.layouts.kind, found.layouts.value) == (Certainty.EXACT, len(layouts))
    assert (found.classes.kind, found.classes.value) == (Certainty.EXACT, classes(layouts, asked.worked))
    assert any_found(space(asked), 1.0, 1) is bool(layouts)


@pytest.mark.parametrize("worked", KEEPING)
def test_counts_of_several_symmetries_are_those_of_an_answer_set_program(worked: str) -> None:
    every = {name: AskedSquares(5, name, worked) for name in GENERATORS}
    found = by_symmetry({name: space(asked) for name, asked in every.items()}, 1.0, 1, lambda words: None)
    assert list(found) == list(every)
    assert {name: each.value for name, each in found.items()} == {name: len(listed(a)) for name, a in every.items()}
    assert {each.kind for each in found.values()} == {Certainty.EXACT}


def test_what_is_certain_of_a_larger_symmetry_is_certain_of_those_it_holds_and_the_effort_is_shared() -> None:
    """A quarter turn twice is a half turn, and none is less than any: what they leave as it is rises with them."""
    names = ("none", "half-turn", "quarter-turn", "full")
    spaces = {name: Space(Square(14), Brief.of(pairs=16, symmetry=name)) for name in names}
    told: list[str] = []
    found = by_symmetry(spaces, 0.02, 1, told.append)
    certain = [found[name].value or 0 for name in reversed(names) if found[name].kind is not Certainty.ESTIMATE]
    assert len(certain) > 2
    assert certain == sorted(certain)
    assert certain[-1] >= certain[0] > 0
    assert {words.split(":")[0] for words in told} == {"no symmetry", *(f"{name} symmetry" for name in names[1:])}
    # A quarter of the effort each: as far as a single count with a quarter of it.
    for name, number in found.items():
        alone = size(spaces[name], effort=0.005, seed=1).layouts
        assert (number.kind is Certainty.EXACT) == (alone.kind is Certainty.EXACT)


def test_the_lists_tell_layouts_and_kinds_apart() -> None:
    """Otherwise the promise above would say little: there are many, and turning makes fewer of them."""
    seen = {asked: (len(layouts := listed(asked)), classes(layouts, asked.worked)) for asked in LOOSE + OTHER}
    assert max(count for count, _ in seen.values()) > 4_000
    assert sum(kinds < count for count, kinds in seen.values()) > len(seen) // 2


@pytest.mark.parametrize("worked", KEEPING)
def test_what_keeps_the_way_of_working_is_what_keeps_the_rules(worked: str) -> None:
    """Found from the pairs by the program, told from the trade here; and only these take the list to itself."""
    asked = AskedSquares(3, "none", worked, margin=1, narrowest=1, narrowest_ground=1, splits=1)
    assert space(asked).keeping == frozenset((matrix, (0, 0)) for matrix in KEEPING[worked])
    layouts = listed(asked)
    taking = {
        m
        for m in EIGHT
        if {frozenset((m[0][0] * x + m[0][1] * y, m[1][0] * x + m[1][1] * y) for x, y in one) for one in layouts}
        == layouts
    }
    assert taking == set(KEEPING[worked])


def test_the_eight_turns_and_reflections_have_ten_groups() -> None:
    """The dihedral group of order 8 has ten subgroups (any book of group theory)."""
    every = motions.of_piece(Square(3).piece("round"))
    assert {matrix for matrix, _ in every} == set(EIGHT)
    groups = motions.groups_above(every, frozenset({(motions.STAYING, (0, 0))}), PLAIN)
    assert len(groups) == len(set(groups)) == 10
    assert all(motions.conjugate(group, g, PLAIN) in groups for group in groups for g in every)
    for group in groups:
        turns = [matrix for matrix, _ in group]
        assert {tuple(map(tuple, (np.array(g) @ np.array(h)).tolist())) for g in turns for h in turns} == set(turns)


def test_the_count_is_that_of_all_solutions_of_the_model() -> None:
    """Every rule of the model that speaks of blocks is in it."""
    brief = Brief.of(symmetry="half-turn", stitches=("cloth",), solid=(0.1, 0.5), splits=1)
    model = rulebook.build(Square(6).piece("round", "half-turn"), brief.rules)
    ways = Every(model.formula).ways(model.block)
    assert size(Space(Square(6), brief), 1.0, 1).layouts.value == len(ways)

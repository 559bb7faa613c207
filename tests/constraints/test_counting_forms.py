"""Counts of block layouts on strips, frames, rectangles and pieces with a headside are those of explicit lists.

The lists come from the answer set program of `answer_forms.py`, which shares nothing with the project and is solved by
clingo; what layouts are alike is found here by trying every shift and reflection on its plain coordinates.
"""

from __future__ import annotations

import math
from functools import cache
from itertools import product

import pytest
from answer_forms import AskedForms, Outline, every, places
from counted import Layout, off_by
from test_small_forms import form_of

from constraints.brief import Brief
from constraints.counting import estimate, motions, tally
from constraints.counting.answer import Certainty, by_symmetry, size
from constraints.counting.space import Space
from constraints.forms import Strip
from constraints.lattice import Wrap
from constraints.symmetry import OF_STRIPS

Move = tuple[int, int, int, int, int, int]


@cache
def listed(asked: AskedForms) -> frozenset[Layout]:
    return frozenset(frozenset((x, y) for x, y, _ in blocks) for blocks, _, _ in every(asked))


def space(asked: AskedForms) -> Space:
    names = ("narrowest", "widest", "narrowest_ground", "margin", "splits", "solid", "symmetry", "corners")
    form = form_of(asked.outline)
    values = {name: getattr(asked, name) for name in names}
    return Space(form, Brief.of(**values, form=form.name, worked=form.ways[0]))


def moves(outline: Outline) -> list[Move]:
    """Every turn, reflection and shift, (x, y) to (A x + B y + E, C x + D y + F), that keeps the pinholes, the places
    of the headside and the way of working: what is worked down keeps its edges upright (common practice, no source)."""
    told = places(outline)
    signs, (a, b) = list(product((1, -1), (1, -1))), outline.size
    found = [(s, 0, 0, t, 0, 0) for s, t in signs]
    if outline.form == "strip":
        found = [(s, 0, 0, t, 0 if s > 0 else a - 1, f) for s, t in signs for f in range(b)]
    elif outline.form != "rectangle":
        found += [(0, s, t, 0, 0, 0) for s, t in signs]
    return [each for each in found if all(moved(told[k], each, outline) == told[k] for k in ("pin", "held"))]


def moved(layout: frozenset[tuple[int, int]] | set[tuple[int, int]], by: Move, outline: Outline) -> Layout:
    a, b, c, d, e, f = by
    rows = outline.size[1] if outline.form == "strip" else 0
    there = ((a * x + b * y + e, c * x + d * y + f) for x, y in layout)
    return frozenset((x, y % rows if rows else y) for x, y in there)


def classes(layouts: frozenset[Layout], outline: Outline) -> int:
    """How many kinds a list holds if what a move takes into each other is of one kind."""
    left, kinds, every_move = set(layouts), 0, moves(outline)
    while left:
        one = left.pop()
        kinds += 1
        left -= {moved(one, by, outline) for by in every_move}
    return kinds


ANY = {"narrowest": 1, "narrowest_ground": 1}
FAN, FAN_OF_TEN = Outline("strip", (11, 12), 0, "fan", 3, 1), Outline("strip", (10, 8), 0, "fan", 2, 2)
BOTH_SIDES, GROUND = Outline("strip", (13, 8), 0, "fan", 2, 1, True), Outline("strip", (11, 6), 0, "ground", 3, 1)
STRIPS = [
    *(AskedForms(Outline("strip", (9, 8)), name) for name in OF_STRIPS),
    *(AskedForms(Outline("strip", (10, 6)), name) for name in ("none", "half-turn", "glide", "glide-mirrors")),
    *(AskedForms(Outline("strip", (8, 4)), name, **ANY, margin=1) for name in ("none", "half-turn")),
    AskedForms(Outline("strip", (7, 8)), **ANY, splits=2),
    AskedForms(Outline("strip", (9, 2)), **ANY),
    AskedForms(Outline("strip", (9, 12)), solid=(0.2, 0.35)),
    AskedForms(Outline("strip", (9, 10)), widest=2, solid=(0.1, 0.5)),
    *(AskedForms(FAN, name) for name in ("none", "level-mirror")),
    *(AskedForms(FAN_OF_TEN, name, **ANY) for name in ("none", "level-mirror")),
    *(AskedForms(BOTH_SIDES, name, **ANY) for name in ("upright-mirrors", "glide-mirrors", "half-turn")),
    AskedForms(BOTH_SIDES, **ANY, solid=(0.0, 0.1)),
    AskedForms(Outline("strip", (10, 8), 0, "scallop", 2, 0)),
    AskedForms(GROUND, **ANY),
]
CLOSED = [
    AskedForms(Outline("frame", (7, 7), 6)),
    AskedForms(Outline("frame", (8, 7), 6), "half-turn", splits=2),
    AskedForms(Outline("frame", (8, 7), 6), "none"),
    AskedForms(Outline("frame", (9, 9), 7, "fan", 2, 1), "quarter-turn", **ANY),
    AskedForms(Outline("frame", (9, 9), 6, "fan", 2, 1), "diagonal-mirrors", **ANY, solid=(0.0, 0.1)),
    *(AskedForms(Outline("rectangle", (5, 4)), name, narrowest=1, splits=2) for name in ("none", "half-turn")),
    AskedForms(Outline("rectangle", (4, 5)), "none"),
    *(AskedForms(Outline("rectangle", (6, 7), 0, "fan", 2), name, **ANY) for name in ("half-turn", "upright-mirror")),
    AskedForms(Outline("rectangle", (5, 6)), "upright-mirror", narrowest_ground=1, solid=(0.1, 0.5)),
    *(AskedForms(Outline("square", (8, 8), 0, "fan", 3, 2), name, **ANY) for name in ("full", "quarter-turn")),
    AskedForms(Outline("square", (8, 8), 0, "scallop", 3, 2), "half-turn", **ANY, solid=(0.0, 0.1)),
    AskedForms(Outline("square", (9, 9), 0, "ground", 3, 1), "diagonal-mirrors", narrowest_ground=1),
]


@pytest.mark.parametrize("asked", STRIPS + CLOSED, ids=str)
def test_exact_counts_are_those_of_an_answer_set_program(asked: AskedForms) -> None:
    found = size(space(asked), effort=1.0, seed=1)
    layouts = listed(asked)
    assert (found.layouts.kind, found.layouts.value) == (Certainty.EXACT, len(layouts))
    assert found.classes is not None
    assert (found.classes.kind, found.classes.value) == (Certainty.EXACT, classes(layouts, asked.outline))


def test_the_lists_tell_layouts_and_kinds_apart() -> None:
    """Otherwise the promise above would say little: there are many, and moving makes fewer of them."""
    seen = {asked: (len(layouts := listed(asked)), classes(layouts, asked.outline)) for asked in STRIPS + CLOSED}
    assert max(count for count, _ in seen.values()) > 1_000
    assert sum(1 < kinds < count for count, kinds in seen.values()) > len(seen) // 2


@pytest.mark.parametrize("outline", [Outline("strip", (9, 8)), FAN, BOTH_SIDES, Outline("frame", (8, 7), 6)], ids=str)
def test_the_motions_are_those_that_keep_what_steps_alone_tell_of_a_piece(outline: Outline) -> None:
    own = space(AskedForms(outline))
    wanted = {(((a, b), (c, d)), (e, f)) for a, b, c, d, e, f in moves(outline)}
    assert set(own.motions) == own.keeping == wanted
    assert own.motions[0] == (motions.STAYING, (0, 0))


def test_a_motion_undone_and_motions_one_after_another_stay_in_the_group() -> None:
    own, wrap = space(AskedForms(Outline("strip", (10, 6)))), Wrap(6)
    for first, second in product(own.motions, repeat=2):
        assert motions.then(first, second, wrap) in own.motions
    assert {motions.then(each, motions.back(each, wrap), wrap) for each in own.motions} == {own.motions[0]}


def test_a_layout_of_half_a_repeat_is_one_of_the_whole_that_is_shifted_by_half_of_it() -> None:
    """So a repeat counted twice over as one with that shift for a symmetry is the repeat counted by itself."""
    brief = Brief.of(form="strip", worked="across", symmetry="none")
    whole, half = Space(Strip(9, 16, 2), brief), Space(Strip(9, 8, 2), brief)
    shifts = frozenset((motions.STAYING, (0, down)) for down in (0, 8))
    found = Space(Strip(9, 16, 2), brief).problem(shifts)
    assert (motions.STAYING, (0, 8)) in whole.motions
    one = next(estimate.runs(found, 10**6, 1)).log_count
    assert math.exp(one) == pytest.approx(size(half, 1.0, 1).layouts.value, rel=1e-9)


def test_counts_of_several_symmetries_of_a_strip_are_those_of_an_answer_set_program() -> None:
    asked = {name: AskedForms(Outline("strip", (9, 8)), name) for name in OF_STRIPS}
    found = by_symmetry({name: space(each) for name, each in asked.items()}, 1.0, 1, lambda words: None)
    assert {name: each.value for name, each in found.items()} == {name: len(listed(a)) for name, a in asked.items()}


def test_estimates_of_a_strip_lie_about_its_list() -> None:
    asked = AskedForms(Outline("strip", (9, 12)), solid=(0.2, 0.35))
    own = space(asked)
    off = off_by(own.problem(own.symmetry), len(listed(asked)), 40, 8, 16)
    assert max(map(abs, off)) < 4
    assert abs(sum(off)) / math.sqrt(len(off)) < 3


def test_what_would_take_too_much_memory_is_estimated(monkeypatch: pytest.MonkeyPatch) -> None:
    brief = Brief.of(form="strip", worked="across", symmetry="none")
    space = Space(Strip(9, 24, 2), brief)
    exact = size(space, 1.0, 1).layouts
    problem = space.problem(space.symmetry)
    needed = tally.room(problem, tally.reach(problem, 10**6))
    # As many bits as all layouts have, for each of 288 states, at half of the amounts of the share and more.
    assert needed > exact.log / math.log(2) * 288 * 0.5 * len(space.form.once("across", "none")) / 8
    monkeypatch.setattr("constraints.counting.answer._EXACT_BYTES", needed - 1)
    rough = size(space, 1.0, 1).layouts
    assert (exact.kind, rough.kind) == (Certainty.EXACT, Certainty.ESTIMATE)
    assert abs(rough.log - exact.log) < 4 * max(rough.error, 1e-9)
    monkeypatch.setattr("constraints.counting.answer._EXACT_BYTES", needed)
    assert size(space, 1.0, 1).layouts == exact


def test_of_a_long_repeat_the_layouts_are_counted_and_the_classes_left_out() -> None:
    brief = Brief.of(form="strip", worked="across", symmetry="none")
    found = size(Space(Strip(7, 130, 2), brief), 1.0, 1)
    assert found.layouts.kind is Certainty.EXACT
    assert found.classes is None

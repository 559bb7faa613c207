"""Trails of three to five pairs that swing over corner lines, in rows that slant.

That a trail is turned by working to an inner pin again, and no pin oftener than twice where rows slant, is common
practice, no source.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from itertools import pairwise

import pytest
from designs import Points, blocks, border_trail, made, trail_round
from flows import flow
from hypothesis import given, settings
from hypothesis import strategies as st

from constraints import swings
from constraints.check import check
from constraints.design import Design
from constraints.flow import START_LINES
from constraints.layout import lay
from constraints.pins import pin_places
from constraints.swings import TrailCourse, course, swings_of
from constraints.working.check import faults
from constraints.working.habits import HORIZONTAL, TURNING_STITCH, Habits
from constraints.working.work import Work, work

Place = tuple[float, float]
WAYS = ("across", "along")
SWUNG = {"corners": "swung", "narrowest": 1}


def swinging(places: Points, half_size: int = 26, **changes: object) -> Design:
    return replace(made(half_size, *blocks("cloth", places), brief=SWUNG), **changes)


def turned(done: Work) -> list[Place]:
    """The pins round which workers turn, in the order of work."""
    return [done.pins[turn.pin].place for turn in done.turns]


def from_middle(place: Place) -> float:
    """How far out along the line between the left and the bottom quarter a place lies."""
    return place[1] - place[0]


@pytest.mark.parametrize("width", [3, 4, 5])
@pytest.mark.parametrize("before", WAYS)
@pytest.mark.parametrize("after", WAYS)
def test_a_straight_trail_goes_round_in_one_piece(width: int, before: str, after: str) -> None:
    design = swinging(trail_round(width, 8, before, after))
    assert not check(design)
    done = work(design)
    assert faults(done) == []
    assert done.seams.number == 0
    (swing,) = swings_of(done.layout)
    # Across the line every inner pin loses one; along the edge pins stand in every second row only.
    surplus = sum(width - 1 if way == "across" else width // 2 for way in (before, after))
    assert len(swing.outer) == 2 * surplus
    uses = Counter(turned(done))
    own = {tuple(map(float, place)) for place in done.layout.piece.pinholes[swing.inner].tolist()}
    assert len(own) == surplus
    assert {uses[place] for place in own} == {2}
    assert {count for place, count in uses.items() if place not in own} == {1}


@pytest.mark.parametrize("width", [3, 4, 5])
def test_where_rows_slant_the_worker_goes_from_outer_to_inner_pins_by_turns(width: int) -> None:
    done = work(swinging(trail_round(width, 8, "across", "across")))
    (swing,) = swings_of(done.layout)
    at = done.layout.piece.pinholes
    wanted = [
        tuple(map(float, at[pinhole].tolist()))
        for row in zip(swing.outer.tolist(), swing.inner.tolist(), strict=True)
        for pinhole in row
    ]
    gone = turned(done)
    assert gone[gone.index(wanted[0]) :][: len(wanted)] == wanted
    aside = [from_middle(place) for place in wanted]
    steps = [b - a for a, b in pairwise(aside)]
    assert all(a * b < 0 for a, b in pairwise(steps))


def test_pins_are_the_same_wherever_the_work_begins() -> None:
    design = swinging(border_trail(20, 4, 5), 20)
    pins = [pin_places(lay(replace(design, start=start))).tolist() for start in START_LINES]
    assert all(sorted(each) == sorted(pins[0]) for each in pins)
    for start in START_LINES:
        for line in (Habits(), Habits(start_line=HORIZONTAL)):
            assert faults(work(replace(design, start=start), line)) == []


def test_a_trail_that_the_start_line_cuts_is_worked_in_level_rows_there() -> None:
    trail = trail_round(4, 8, "across", "along")
    for start in START_LINES:
        done = work(swinging(trail, start=start))
        assert faults(done) == []
        oftenest = max(Counter(turned(done)).values())
        # Cut there, its pairs are sewn: nothing is turned round twice.
        assert oftenest == (1 if start == "bottom-left" else 2)


def test_she_may_have_turning_stitches_in_place_of_second_turns() -> None:
    done = work(swinging(trail_round(5, 8, "across", "across")), Habits(turning_from=2))
    assert faults(done) == []
    assert max(Counter(turned(done)).values()) == 1
    assert sum(done.crossings.words_of(k) == TURNING_STITCH for k in range(len(done.crossings))) == 8


def test_a_trail_that_bends_too_near_to_the_line_may_not_swing() -> None:
    whole = trail_round(4, 8, "across", "across")
    assert not check(swinging(whole))
    for spoilt in (
        {p for p in whole if p[0] + p[1] >= 1 - 2 * 3},  # it begins too late
        whole | {(-9, 6)},  # something of it lies on its inner side
        trail_round(6, 8, "across", "across"),  # too wide
    ):
        assert "corners" in {fault.rule for fault in check(swinging(spoilt))}
        assert swings_of(lay(swinging(spoilt))) == ()


def test_whether_a_trail_may_swing_is_judged_apart_from_how_it_is_worked(monkeypatch: pytest.MonkeyPatch) -> None:
    """The rule and the working of trails both read `course`: were it wrong, the check would still refuse them."""

    def careless(width: int, across: bool) -> TrailCourse:
        right = course(width, across)
        return replace(right, clear=right.clear[:0])

    spoilt = swinging(trail_round(4, 8, "across", "across") | {(-9, 6)})
    monkeypatch.setattr(swings, "course", careless)
    assert len(swings_of(lay(spoilt))) == 1
    assert "corners" in {fault.rule for fault in check(spoilt)}


def test_only_what_is_asked_to_swing_does() -> None:
    trail = trail_round(4, 8, "across", "across")
    for brief in ({"narrowest": 1}, {"narrowest": 1, "corners": "halves"}):
        done = work(made(26, *blocks("cloth", trail), brief=brief))
        assert done.seams.number == 1
        assert max(Counter(turned(done)).values()) <= 2


@st.composite
def trails(draw: st.DrawFn) -> Design:
    """Up to four trails, one over each corner line, of any width, way and distance."""
    places: Points = set()
    for turn in range(draw(st.integers(1, 4))):
        width = draw(st.integers(3, 5))
        shape = trail_round(
            width, draw(st.integers(8, 11)), draw(st.sampled_from(WAYS)), draw(st.sampled_from(WAYS)),
            draw(st.integers(0, 2)),
        )  # fmt: skip
        for _ in range(turn):
            shape = {(y, -x) for x, y in shape}
        places |= shape
    return swinging(places, 34, start=draw(st.sampled_from(sorted(START_LINES))))


@given(trails())
@settings(max_examples=15)
def test_any_such_trails_can_be_worked(design: Design) -> None:
    assert len(flow(design).cycle) == 0
    done = work(design)
    assert faults(done) == []
    assert max(Counter(turned(done)).values()) <= 2

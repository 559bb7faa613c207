"""Blocks over corner lines: two halves that meet at pins on the line.

Each side of a square mat is a strip with a diagonal end; she works to the corner line, turns the pillow and goes on
(Jo Edkins, teaching pages on Torchon lace, corners and edges of square mats). The row construction of a part worked by
one worker is that of the parallelogram polyominoes (OEIS A000108), turned by 45 degrees.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from itertools import pairwise

import networkx as nx
import pytest
from designs import Points, bar, blocks, border_trail, diamond, made
from hypothesis import given
from hypothesis import strategies as st

from constraints import forms
from constraints.design import Design
from constraints.edgings import EDGINGS, Fan, GroundScallop
from constraints.edgings.headside import POINTED
from constraints.links import round_corner
from constraints.working.check import faults
from constraints.working.habits import HORIZONTAL, OPEN, Habits
from constraints.working.work import Work, work

Place = tuple[float, float]


def on_line(side: int, first: int, over: int = 0) -> Points:
    """A diamond with `side` pinholes a side over the corner line between the left and the bottom quarter. first: how
    far from the centre it begins; over: how many lines of it more lie in the bottom quarter than in the left one."""
    before = (side - over) // 2
    return {(s - t, s + t + 1) for s in range(-before, side - before) for t in range(first, first + side)}


def quarter(place: Place) -> str:
    x, y = place
    if abs(x) == abs(y):
        return "line"
    return ("left" if x < 0 else "right") if abs(x) > abs(y) else ("top" if y < 0 else "bottom")


def pairs_into(done: Work, block: int, part: str) -> set[tuple[Place, Place]]:
    """The steps by which pairs come into the part of a block in one quarter."""
    places = {(float(x), float(y)) for x, y in done.design.blocks[block].pinholes}
    own = {place for place in places if quarter(place) == part}
    at = done.layout.piece.pinholes
    found = set()
    for tail, head in zip(done.arcs.tail.tolist(), done.arcs.head.tolist(), strict=True):
        if min(tail, head) >= 0:
            a, b = ((float(x), float(y)) for x, y in at[[tail, head]].tolist())
            if b in own and a not in own:
                found.add((a, b))
    return found


def on_lines(done: Work) -> dict[Place, list[str]]:
    """Each pin on a corner line, and the quarters in which workers turn round it."""
    crossings, lengths = done.crossings, done.segments
    return {
        pin.place: [
            quarter((float(x), float(y)))
            for x, y in crossings.place[[max(lengths.tail[turn], 0) for turn in turns]].tolist()
        ]
        for pin, turns in zip(done.pins, done.turned, strict=True)
        if quarter(pin.place) == "line"
    }


def test_a_diamond_of_six_on_a_corner_line_is_two_bars_of_three_by_six() -> None:
    done = work(made(20, *blocks("cloth", on_line(6, 4))))
    assert faults(done) == []
    left, bottom = (pairs_into(done, 0, part) for part in ("left", "bottom"))
    # A bar of 3 x 6 pinholes takes 3 + 6 pairs, and 6 of them go on over the line.
    assert (len(left), len(bottom)) == (9, 9)
    over = {(a, b) for a, b in bottom if quarter(a) == "left" and a in {(float(x), float(y)) for x, y in on_line(6, 4)}}
    assert len(over) == 6
    assert done.seams.number == 1


def test_a_pin_on_the_line_is_used_once_from_either_side() -> None:
    done = work(made(20, *blocks("cloth", on_line(6, 4))))
    # The first and the last row of either half are one pinhole each: no pin stands between these two.
    assert sorted(on_lines(done)) == [(-t - 0.5, t + 0.5) for t in range(8, 3, -1)]
    for place, quarters in on_lines(done).items():
        assert Counter(quarters) == {"left": 1, "bottom": 1}, place


def test_a_worker_goes_from_side_to_side_in_either_half() -> None:
    done = work(made(20, *blocks("half", on_line(6, 4))))
    for part, sideways in (("left", (1, 0)), ("bottom", (0, -1))):
        turned = sorted(
            (turn, sum(a * b for a, b in zip(pin.place, sideways, strict=True)))
            for pin, turns in zip(done.pins, done.turned, strict=True)
            for turn in turns
            if quarter(tuple(done.crossings.place[max(done.segments.tail[turn], 0)])) == part
        )
        # From the tip on, which is its own left and right.
        aside = [place for _, place in turned][1:-1]
        steps = [b - a for a, b in pairwise(aside)]
        assert len(steps) >= 10
        assert all(a * b < 0 for a, b in pairwise(steps)), part


def test_an_open_seam_has_a_row_of_pins_on_either_side_and_a_twisted_pair_between() -> None:
    design = made(20, *blocks("cloth", on_line(6, 4)))
    closed, done = work(design), work(design, Habits(seam=OPEN))
    assert faults(done) == []
    assert not on_lines(done)
    # Ten pinholes beside the line have pins of their own in place of five on it; the tips have theirs either way.
    assert len(done.pins) == len(closed.pins) + 5
    over = [length for length, way in enumerate(done.on.tolist()) if way in done.seams.over]
    assert len(over) == 6
    assert set(done.segments.twists[over].tolist()) == {1}
    assert {closed.segments.twists[n] for n, way in enumerate(closed.on.tolist()) if way in closed.seams.over} == {0}


def test_only_a_narrow_trail_swings_over_a_line() -> None:
    for width in (1, 2, 3, 4):
        done = work(made(14, *blocks("cloth", border_trail(14, 3, width))))
        assert faults(done) == []
        assert done.seams.number == (0 if width <= 2 else 4)
        assert max(map(len, done.turned)) <= 2


def test_a_block_over_the_middle_is_four_parts() -> None:
    done = work(made(12, *blocks("cloth", {(x, y) for x in range(-5, 6) for y in range(-5, 6) if (x + y) % 2})))
    assert faults(done) == []
    assert done.seams.number == 4
    assert {(x, y) for x in (-0.5, 0.5) for y in (-0.5, 0.5)} <= set(on_lines(done))


@pytest.mark.parametrize(("pitch", "pins"), [(5.0, 4), (4.0, 4), (3.9, 1)])
def test_pins_at_the_middle_nearer_than_two_millimetres_are_one(pitch: float, pins: int) -> None:
    design = made(12, *blocks("cloth", {(x, y) for x in range(-5, 6) for y in range(-5, 6) if (x + y) % 2}))
    done = work(replace(design, pitch_mm=pitch))
    assert faults(done) == []
    assert sum(max(abs(x), abs(y)) < 1 for x, y in on_lines(done)) == pins


@st.composite
def designs(draw: st.DrawFn) -> Design:
    """Bars of any size anywhere, those that touch joined, worked from any corner line."""
    places: Points = set()
    for _ in range(draw(st.integers(1, 6))):
        x = draw(st.integers(-9, 9))
        y = draw(st.integers(-9, 9).filter(lambda y, x=x: (x + y) % 2 == 1))
        places |= bar((x, y), draw(st.integers(2, 7)), draw(st.integers(2, 7)))
    kept = {(x, y) for x, y in places if max(abs(x), abs(y)) <= 9}
    start = draw(st.sampled_from(["top-left", "bottom-left", "bottom-right", "top-right"]))
    return made(11, *blocks("cloth", kept), start=start)


HABITS = [Habits(), Habits(seam=OPEN), Habits(start_line=HORIZONTAL), Habits(turning_from=2)]


@given(designs(), st.sampled_from(HABITS))
def test_whatever_lies_over_the_lines_is_worked_soundly(design: Design, habits: Habits) -> None:
    done = work(design, habits)
    assert faults(done) == []
    graph = nx.DiGraph()
    graph.add_nodes_from(range(len(done.crossings)))
    ends = zip(done.segments.tail.tolist(), done.segments.head.tolist(), strict=True)
    graph.add_edges_from(each for each in ends if min(each) >= 0)
    assert nx.is_directed_acyclic_graph(graph)


def test_a_diamond_beside_a_line_has_no_seam() -> None:
    done = work(made(12, *blocks("cloth", diamond((-6, -3), 4))))
    assert done.seams.number == 0
    assert not on_lines(done)


@pytest.mark.parametrize("kind", ["fan", "scallop"])
@pytest.mark.parametrize(("depth", "side", "valley"), [(2, 11, 1), (3, 13, 3), (3, 14, 2), (4, 19, 1), (6, 25, 3)])
def test_in_a_corner_fan_as_many_pairs_turn_as_lie_on_the_line_behind_its_valleys(
    kind: str, depth: int, side: int, valley: int
) -> None:
    """By hand: the valleys before and after a corner stand 2t + 1 units from it, so that the straight line between them
    meets the corner line t + 1/2 units from the corner along either edge; the pairs that go over it there lie a unit
    apart, the edge pair outside them: t + 2."""
    headside = EDGINGS[kind]("cloth", depth, POINTED if kind == "fan" else 4, valley)
    assert round_corner(forms.Square(side, headside).piece("round", "none")) == valley + 2


def test_nothing_turns_in_the_corners_of_other_edgings() -> None:
    ground = GroundScallop("", 3, 4, 2)
    for form in (forms.Square(14), forms.Square(14, ground)):
        assert round_corner(form.piece("round", "none")) == 0
    assert round_corner(forms.Strip(9, 12, 3, Fan("cloth", 3, 2, 0)).piece("across", "none")) == 0

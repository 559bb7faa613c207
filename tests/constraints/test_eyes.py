"""Eyes: where one can be, how it is worked, and what the second check says of others.

That a worker twisted twice between two passives opens the cloth is from a lacemaker's memory, no source. Places are
counted by hand on the grid.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from designs import Points, blocks, diamond, in_order, made
from strips import worked_round

from constraints import forms
from constraints.check import check
from constraints.design import Design
from constraints.design_file import from_text, to_text
from constraints.edgings import Fan
from constraints.eyes import TWISTS, holes_of, places, with_eyes
from constraints.layout import lay
from constraints.working.check import faults
from constraints.working.ledger import BLOCK
from constraints.working.work import Work, work

TOP = (-10, -3)  # of a diamond of five pinholes a side in the left quarter
SHAPE: Points = diamond(TOP, 5)
MIDDLE = (-10, 1)


def _cloth(*eyes: tuple[int, int], stitch: str = "cloth") -> Design:
    return made(18, *blocks(stitch, SHAPE), symmetry="none").opened(in_order(eyes))


def _ring(x: float, y: float, half: float) -> tuple[tuple[float, float], ...]:
    return tuple((x + dx * half, y + dy * half) for dx, dy in ((-1, -1), (1, -1), (1, 1), (-1, 1)))


def segments_of(done: Work) -> list[int]:
    return [each.segment for each in done.eyes]


def test_an_eye_has_cloth_on_every_side() -> None:
    layout = lay(_cloth())
    # In a diamond of five a side the inner three by three have eight pinholes of it round them.
    assert set(layout.points(places(layout))) == diamond((TOP[0], TOP[1] + 2), 3)
    assert not places(lay(_cloth(stitch="half"))).any()


def test_the_second_check_takes_an_eye_and_refuses_wrong_ones() -> None:
    assert check(_cloth(MIDDLE)) == []
    wrong = {
        "eyes outside blocks": _cloth((2, 1)),
        "eyes at the border of their block": _cloth(TOP),
        "eyes in other than cloth stitch": _cloth(MIDDLE, stitch="half"),
        "eyes touch each other": _cloth(MIDDLE, (MIDDLE[0] + 1, MIDDLE[1] + 1)),
    }
    for words, design in wrong.items():
        assert {(each.rule, each.message) for each in check(design)} == {("eyes", words)}


def test_the_second_check_allows_just_what_may_be_an_eye() -> None:
    """Both, written apart, agree on every pinhole of blocks that meet corner lines and of one that does not."""
    on_line, inside = blocks("cloth", diamond((-10, 5), 6)), blocks("cloth", diamond((-10, -9), 5))
    for corners in ({}, {"corners": "halves"}):
        design = made(18, *on_line, *inside, brief=corners)
        layout = lay(design)
        allowed = set(layout.points(places(layout)))
        assert allowed
        for x, y in layout.points(layout.inside):
            told = any(each.rule == "eyes" for each in check(design.opened([(x, y)])))
            assert told == ((x, y) not in allowed), (x, y)


@pytest.mark.parametrize("eye", in_order(diamond((TOP[0], TOP[1] + 2), 3)))
def test_the_worker_is_twisted_twice_between_two_passives_on_both_ways(eye: tuple[int, int]) -> None:
    plain, opened = work(_cloth()), work(_cloth(eye))
    assert faults(opened) == []
    more = opened.segments.twists - plain.segments.twists
    assert sorted(np.flatnonzero(more).tolist()) == sorted(segments_of(opened))
    assert len(opened.eyes) == 2
    assert set(more[segments_of(opened)].tolist()) == {TWISTS}
    crossings, segments = opened.crossings, opened.segments
    for segment in segments_of(opened):
        ends = [int(segments.tail[segment]), int(segments.head[segment])]
        assert (crossings.kind[ends] == BLOCK).all()
        # Between the two crossings beside it the eye is nearer than half a pinhole, on the lower or the upper way.
        assert np.hypot(*(crossings.place[ends].mean(axis=0) - np.array(eye))) < 1.3
    assert (opened.pairs, len(opened.pins)) == (plain.pairs, len(plain.pins))


def test_a_work_without_its_twists_is_a_fault() -> None:
    opened = work(_cloth(MIDDLE))
    assert faults(replace(opened, eyes=())) == ["a worker passes 1 eyes of a row 0 times"]


def test_a_file_keeps_eyes_and_older_ones_have_none() -> None:
    design = _cloth(MIDDLE)
    assert from_text(to_text(design)) == design
    assert '"eyes"' not in to_text(_cloth())


def test_only_small_round_holes_of_a_print_are_eyes() -> None:
    outside = _ring(0.0, 0.0, 9.0)
    small, large, speck = _ring(-4.0, 0.0, 0.9), _ring(4.0, 0.0, 2.5), _ring(0.0, 5.0, 0.2)
    slit = ((-5.0, -5.0), (5.0, -5.0), (5.0, -4.8), (-5.0, -4.8))
    middles = holes_of([outside, small, large, speck, slit])
    assert [each.tolist() for each in middles] == [[-4.0, 0.0]]


def test_an_eye_comes_nearest_to_the_hole_in_every_image() -> None:
    one, other = blocks("cloth", SHAPE), blocks("cloth", {(-x, -y) for x, y in SHAPE})
    design = made(18, *one, *other, symmetry="half-turn")
    outlines = [_ring(-10.0, 1.0, 6.0), _ring(-9.8, 1.2, 0.9)]
    opened = with_eyes(design, outlines)
    assert opened.eyes == ((10, -1), (-10, 1))
    assert check(opened) == []
    assert check(opened.opened([(-10, 1)]))[0].rule == "even eyes"
    # Where the blocks leave the hole open, or do not reach it, there is none.
    assert with_eyes(design, [_ring(0.0, 0.0, 6.0), _ring(0.0, 1.0, 0.9)]).eyes == ()


def test_a_headside_has_no_eyes() -> None:
    layout = lay(worked_round(forms.Square(15, Fan("cloth", 3, 2, 1))))
    assert layout.inside.any()
    assert not (places(layout) & layout.piece.fan).any()

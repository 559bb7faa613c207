"""The work in steps: nothing left out, nothing twice, pins in rising order, pairs as the crossings have them.

E: Jo Edkins, teaching pages on Torchon lace.
"""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest
from designs import GOOD, TURNS, bar, blocks, border_trail, diamond, made, moved, roses, spiders
from test_ends import plain_ground_of_1886

from constraints.design import Design
from constraints.working.block_rows import IN, OUT
from constraints.working.ends import places_from_footside
from constraints.working.ledger import CROSS_OVER, NOWHERE
from constraints.working.numbers import number_at
from constraints.working.rows import LEFT
from constraints.working.steps import BlockPart, Diagonal, FigureStep, steps_of
from constraints.working.work import work


@pytest.mark.parametrize("design", GOOD.values(), ids=GOOD.keys())
def test_every_crossing_is_in_one_step_and_pins_rise_through_them(design: Design) -> None:
    done = work(design)
    steps = steps_of(done)
    held = [np.isin(done.crossings.step, step.nodes) for step in steps]
    assert (np.sum(held, axis=0) == 1).all()
    assert [pin for step in steps for pin in step.pins] == list(range(1, len(done.pins) + 1))
    assert sum(len(step.over) for step in steps) == (done.crossings.kind == CROSS_OVER).sum()


@pytest.mark.parametrize("design", GOOD.values(), ids=GOOD.keys())
def test_the_pairs_told_for_a_diagonal_are_those_of_its_pins(design: Design) -> None:
    done = work(design)
    places = places_from_footside(done)
    for step in steps_of(done):
        if not isinstance(step, Diagonal):
            continue
        lean = -1 if step.slope == LEFT else 1
        inner = [pin for pin in step.pins if pin not in step.edges]
        taken = [places[done.crossings.taken[done.pins[pin - 1].crossing]].tolist() for pin in inner]
        assert all(right == left + 1 for left, right in taken)
        assert [left for left, _ in taken] == [taken[0][0] + lean * place for place in range(len(taken))]
        if step.pins[0] not in step.edges:
            assert list(step.pairs) == taken[0]


def test_plain_ground_goes_in_the_diagonals_of_the_handbook() -> None:
    # Dillmont 1886, fig. 788: pins 1-2, 3-6, 7-12, 13-20, 21-29, begun with pairs 2 and 3, 4 and 5, and so on.
    first = [step for step in steps_of(plain_ground_of_1886()) if isinstance(step, Diagonal)][:5]
    assert [(step.pins[0], step.pins[-1]) for step in first] == [(1, 2), (3, 6), (7, 12), (13, 20), (21, 29)]
    assert [step.pairs for step in first] == [(2, 3), (4, 5), (6, 7), (8, 9), (9, 10)]
    assert [step.edges for step in first] == [(2,), (6,), (12,), (20,), (21, 29)]


def test_a_diamond_takes_pairs_from_both_sides_and_gives_them_back() -> None:
    # E: a 4 x 4 diamond takes 4 pairs from each side and gives 4 to each.
    steps = steps_of(work(made(12, *blocks("cloth", diamond((-6, -3), 4)))))
    [part] = [step for step in steps if isinstance(step, BlockPart)]
    assert (part.rows, len(part.pins), part.again, part.done, part.turns) == (7, 12, False, True, ())
    # It begins with one from either side and ends with one to either side.
    assert part.pairs == part.ends == (part.worker, part.worker + 1)
    assert part.in_all == (part.worker - 3, part.worker + 4)
    for side in (part.left, part.right):
        assert [word for _, word in side] == [IN] * 3 + [OUT] * 3
        assert all(part.pins[0] < pin < part.pins[-1] for pin, _ in side)


def test_a_bar_takes_as_many_pairs_from_a_side_as_it_has_pinholes_there() -> None:
    # Pairs from the left come in along its upper left side, five pinholes long, and leave on the lower right; one of
    # either side is there when it begins, and when it ends.
    steps = steps_of(work(made(14, *blocks("half", bar((-8, -3), 2, 5)))))
    [part] = [step for step in steps if isinstance(step, BlockPart)]
    counts = [[word for _, word in side].count(way) for side in (part.left, part.right) for way in (IN, OUT)]
    assert [count + 1 for count in counts] == [5, 2, 2, 5]


@pytest.mark.parametrize(("legs", "pairs"), [(8, 4), (12, 6), (16, 8)])
def test_a_spider_has_its_legs_its_pairs_and_one_pin(legs: int, pairs: int) -> None:
    # E: spiders of 8, 12 and 16 legs take 4, 6 and 8 pairs.
    centre = (0, -9) if legs == 12 else (0, -8)
    [spider] = [step for step in steps_of(work(made(14, spiders({centre}, legs)))) if isinstance(step, FigureStep)]
    assert (spider.unit.legs, spider.last - spider.first + 1, len(spider.pins)) == (legs, pairs, 1)


def test_a_rose_has_four_pins_and_four_pairs() -> None:
    # E: a rose unit has 4 pins and 4 pairs.
    [rose] = [step for step in steps_of(work(made(13, roses({(0, -8)})))) if isinstance(step, FigureStep)]
    assert (len(rose.pins), rose.last - rose.first + 1) == (4, 4)
    assert all(pin in rose.pins for _, pin in rose.over)


def test_a_block_cut_by_the_start_line_takes_pairs_at_the_pins_on_it() -> None:
    work_ = work(made(14, *blocks("cloth", border_trail(14, 3, 3))))
    parts = [step for step in steps_of(work_) if isinstance(step, BlockPart)]
    words = [(pin, word) for step in parts for pin, word in (*step.left, *step.right)]
    assert NOWHERE not in {pin for pin, _ in words}
    on_line = {number_at(work_)[place] for place in work_.seams.block_at}
    assert {word for pin, word in words if pin in on_line} == {IN, OUT}


def test_a_block_that_the_start_line_cuts_ends_twice_and_is_begun_anew_for_its_other_part() -> None:
    # A diamond on the corner line at which the round begins: half of it is worked first, half of it at the end.
    steps = steps_of(work(made(12, *blocks("cloth", diamond((-7, -10), 4)))))
    first, last = (step for step in steps if isinstance(step, BlockPart))
    assert (first.cut, first.again, first.anew, first.done) == (True, False, True, False)
    assert (last.cut, last.again, last.anew, last.done) == (True, True, True, True)
    assert first.ends
    assert last.ends


def test_the_worker_is_one_of_the_pairs_in_its_block_where_others_cross_over_first() -> None:
    # A trail beside roses: pairs cross over before most of its rows, and none of them is in it.
    trail = border_trail(14, 3, 3)
    beside = roses({moved(place, turn) for place in ((-7, -1), (-7, 3), (-7, -5)) for turn in TURNS})
    parts = [step for step in steps_of(work(made(14, *blocks("cloth", trail), beside))) if isinstance(step, BlockPart)]
    assert any(step.over for step in parts)
    assert all(step.worker in step.pairs for step in parts)


@pytest.mark.parametrize("design", [each for each in GOOD.values() if each.worked == "round"])
def test_the_pillow_is_turned_three_times(design: Design) -> None:
    zones = [step.zone for step in steps_of(work(design))]
    assert sum(one != other for one, other in pairwise(zones)) == 3

"""Where pairs are hung and how they are finished; which pair is which, counted from the footside.

D: Therese de Dillmont, Encyclopedia of Needlework (1886), chapter on laces, fig. 787 and 788. E: Jo Edkins, teaching
pages on Torchon lace.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from designs import GOOD, made
from test_work_order import ground_of_1886

from constraints.design import Design
from constraints.flow import START_LINES
from constraints.layout import Layout
from constraints.working.ends import Ends, Sewing, ends_of, faults, places_from_footside
from constraints.working.habits import Habits
from constraints.working.ledger import NOWHERE
from constraints.working.work import Work, work, work_of


def plain_ground_of_1886() -> Work:
    """D's nine columns, worked with edge pairs and no passives; the columns counted from the middle."""
    piece = ground_of_1886()
    piece = replace(piece, pinholes=piece.pinholes - np.array([4, 0]))
    nothing = np.full(len(piece), -1)
    return work_of(Layout(made(1, passives=0, worked="across"), piece, nothing, (), nothing >= 0))


@pytest.mark.parametrize("design", GOOD.values(), ids=GOOD.keys())
@pytest.mark.parametrize("start", START_LINES)
def test_every_pair_hung_is_finished_once(design: Design, start: str) -> None:
    for passives in (0, 1, 3):
        more = (passives - design.passives) * (1 if design.worked == "round" else 2)
        done = work(replace(design, start=start, passives=passives, pairs=design.pairs + more))
        ends = ends_of(done)
        assert faults(done, ends) == []
        assert sum(len(held.segments) for held in ends.hung) == done.design.pairs
        assert len(ends.sewings) == (done.design.pairs if design.worked == "round" else 0)


def test_round_one_pair_hangs_at_a_false_pin_and_two_at_the_edge() -> None:
    # E: diagonal start with one pair a pin and two at the edge. Passives come on top.
    ends = ends_of(work(made(6, passives=0)))
    assert [len(held.segments) for held in ends.hung] == [2, 1, 1, 1, 1, 1]
    assert [held.place for held in ends.hung] == [(-k - 0.5, -k - 0.5) for k in (5, 4, 3, 2, 1, 0)]
    assert len(ends_of(work(made(6, passives=2))).hung[0].segments) == 4


def test_across_two_pairs_hang_above_every_pin_of_the_first_edge() -> None:
    # D: two pairs on each of the top pins.
    ends = ends_of(work(made(5, worked="across", passives=2, pairs=16)))
    assert [len(held.segments) for held in ends.hung] == [3, 2, 2, 2, 2, 2, 3]
    assert [held.place for held in ends.hung[1:-1]] == [(x, -6) for x in (-4, -2, 0, 2, 4)]
    assert [(held.place, len(held.segments)) for held in ends.last[1:-1]] == [((x, 5), 2) for x in (-4, -2, 0, 2, 4)]


@pytest.mark.parametrize("design", GOOD.values(), ids=GOOD.keys())
@pytest.mark.parametrize("habits", [Habits(), Habits(turning_from=2)], ids=str)
def test_pairs_that_meet_are_neighbours_in_the_row_of_pairs(design: Design, habits: Habits) -> None:
    done = work(design, habits)
    places = places_from_footside(done)
    # The row itself, kept by hand: a crossing takes two neighbours out of it and puts two in.
    row = [length for held in ends_of(done).hung for length in held.segments]
    for taken, given in zip(done.crossings.taken.tolist(), done.crossings.given.tolist(), strict=True):
        at = row.index(taken[0])
        assert row[at : at + 2] == taken
        assert places[taken].tolist() == [at + 1, at + 2]
        row[at : at + 2] = given


@pytest.mark.parametrize("name", ["plain round", "trail and spiders", "reversed print"])
def test_the_pair_that_ends_in_a_place_is_sewn_into_the_loop_hung_there(name: str) -> None:
    done = work(GOOD[name])
    places = places_from_footside(done)
    for sewing in ends_of(done).sewings:
        assert places[sewing.finished] == places[sewing.loop]


def test_plain_ground_takes_the_pairs_that_the_handbook_prints() -> None:
    done = plain_ground_of_1886()
    places = places_from_footside(done)
    printed = {1: {2, 3}, 2: {2, 1}, 3: {5, 4}, 4: {4, 3}, 7: {6, 7}, 13: {8, 9}, 21: {9, 10}}
    for number, pairs in printed.items():
        assert set(places[done.crossings.taken[done.pins[number - 1].crossing]].tolist()) == pairs
    assert done.pairs == 10


def test_what_is_broken_is_found() -> None:
    done = work(made(4))
    ends = ends_of(done)
    first, second, *others = ends.sewings
    swapped = (Sewing(first.place, first.finished, second.loop), Sewing(second.place, second.finished, first.loop))
    assert faults(done, replace(ends, sewings=(*swapped, *others))) == ["a sewing has no loop of its own"]
    lost = replace(ends, sewings=(first._replace(finished=NOWHERE), second, *others))
    assert faults(done, lost) == ["a pair is not finished, or more than once"]
    assert "5 pairs are hung, not 6" in faults(done, Ends(ends.hung[:-1], ends.sewings, ()))

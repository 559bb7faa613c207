"""Workers of trails: they turn where a pin or an inner corner holds them, once for each pin.

That a worker goes to and fro from pin to pin, and that the pins of a straight trail stand on its two sides by turns,
is common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

import networkx as nx
import numpy as np
import pytest
from designs import bar, blocks, border_trail, made

from constraints.working import ledger
from constraints.working.check import faults
from constraints.working.habits import TURNING_STITCH, Habits
from constraints.working.work import Work, work


def straight(wide: int) -> Work:
    """Worked across, a trail straight down whose left and right pins stand `wide` units apart."""
    points = {(x, y) for y in range(-8, 9) for x in range(-3, wide - 2) if (x + y) % 2}
    return work(made(14, *blocks("cloth", points), worked="across"))


def test_the_pins_of_a_straight_trail_are_turned_round_on_both_sides_by_turns() -> None:
    done = straight(3)
    both = zip(done.pins, done.turned, strict=True)
    turned = sorted((turns[0], pin.place) for pin, turns in both if turns and abs(pin.place[1]) < 7)
    sides = [place[0] for _, place in turned]
    assert len(sides) == 13
    assert set(sides) == {-3.0, 0.0}
    assert all(a != b for a, b in pairwise(sides))
    assert all(len(turns) <= 1 for turns in done.turned)
    assert faults(done) == []


@pytest.mark.parametrize("wide", [3, 5, 7])
def test_a_straight_trail_is_crossed_once_between_two_pins(wide: int) -> None:
    done = straight(wide)
    middle = (done.crossings.kind == ledger.BLOCK) & (np.abs(done.crossings.place[:, 1]) < 6)
    # Between pins on either side the worker meets every pair of the trail: those that stay, and at either pin the
    # one that comes or goes. One row of pins for each unit down, two columns of pairs for every two units across.
    assert middle.sum() / 12 == pytest.approx(wide + 1, abs=0.4)


def test_a_worker_passes_what_stays_in_a_trail_at_even_distances_from_pin_to_pin() -> None:
    done = work(made(14, *blocks("cloth", border_trail(14, 3, 3))))
    seen = 0
    for begin, passed, end in ways_between_pins(done):
        # From side to side of the straight parts: the pair that comes or goes at the pin is met at the pin itself.
        if min(np.abs(begin - end)) == 2 and max(np.abs([begin, end]).min(axis=1)) < 8:
            inner = passed[np.abs(passed - begin).max(axis=1) > 0]
            even = (np.arange(len(inner)) + 0.5) / len(inner)
            assert inner == pytest.approx(begin + even[:, None] * (end - begin))
            seen += len(inner)
    assert seen > 40


def ways_between_pins(done: Work) -> Iterator[tuple[np.ndarray, np.ndarray, np.ndarray]]:
    """Of every way of a worker from a pin to the next: the pin, (k, 2) where it passes others, the next pin."""
    pin = {turn.segment: done.pins[turn.pin].place for turn in done.turns}
    crossings = done.crossings
    for turn in done.turns:
        length, passed = turn.segment, []
        while not passed or length not in pin:
            at = int(done.segments.head[length])
            if at == ledger.NOWHERE or crossings.kind[at] != ledger.BLOCK:
                break
            taken, worker = crossings.taken[at].tolist(), int(crossings.worker[at])
            if taken[worker] != length or crossings.words_of(at) == TURNING_STITCH:
                break
            passed.append(crossings.place[at])
            length = int(crossings.given[at][1 - worker])
        else:
            yield np.array(pin[turn.segment]), np.array(passed), np.array(pin[length])


def test_a_worker_never_turns_twice_running_about_one_corner() -> None:
    trail = made(14, *blocks("cloth", border_trail(14, 3, 2)))
    for turning_from in (1, 2, 99):
        done = work(trail, Habits(turning_from=turning_from))
        assert faults(done) == []
        graph = nx.DiGraph()
        words = [done.crossings.words_of(each) for each in range(len(done.crossings))]
        graph.add_nodes_from(range(len(words)))
        turning = {
            each
            for each, word in enumerate(words)
            # Where the start line cuts the trail no pin stands, and the worker turns so there too.
            if word == TURNING_STITCH and done.crossings.place[each].max() > 0
        }
        ends = zip(done.segments.tail.tolist(), done.segments.head.tolist(), strict=True)
        graph.add_edges_from(each for each in ends if min(each) >= 0)
        assert bool(turning) == (turning_from < 99)
        assert all(not set(graph.successors(each)) <= turning for each in turning)
    assert turning == set()


@pytest.mark.parametrize("habits", [Habits(), Habits(turning_from=1), Habits(turning_from=2)])
def test_trails_and_splits_are_worked_soundly(habits: Habits) -> None:
    crossing = bar((-6, -7), 12, 3) | bar((6, -7), 3, 12)
    for design in (
        made(14, *blocks("cloth", crossing), worked="across"),
        made(14, *blocks("half", border_trail(14, 3, 3))),
        made(13, *blocks("cloth", {(x, y) for x in range(-7, 8) for y in range(-7, 8) if (x + y) % 2})),
    ):
        done = work(design, habits)
        assert faults(done) == []
        # Every pair that comes into a block meets its worker.
        assert (done.crossings.worker[done.crossings.kind == ledger.BLOCK] >= 0).all()
        assert (done.crossings.worker[done.crossings.kind != ledger.BLOCK] < 0).all()

"""How squares are worked: sound by networkx and by counting; figures and pairs against handbooks.

E: Jo Edkins, teaching pages on Torchon lace. Irvine and Ruskey 2014, Journal of Mathematics and the Arts: bobbin
lace as 2-in 2-out digraphs.
"""

from __future__ import annotations

from dataclasses import replace

import networkx
import numpy as np
import pytest
from designs import GOOD, blocks, border_trail, diamond, made, spiders

from constraints.design import Design
from constraints.working import ledger
from constraints.working.check import faults
from constraints.working.habits import OPEN, Habits
from constraints.working.ledger import NOWHERE
from constraints.working.threads import play
from constraints.working.work import Work, work


def graph_of_work(done: Work) -> networkx.MultiDiGraph:
    """Crossings as nodes, pairs between two of them as edges."""
    graph = networkx.MultiDiGraph()
    graph.add_nodes_from(range(len(done.crossings)))
    both = (done.segments.tail != NOWHERE) & (done.segments.head != NOWHERE)
    graph.add_edges_from(zip(done.segments.tail[both].tolist(), done.segments.head[both].tolist(), strict=True))
    return graph


@pytest.mark.parametrize("design", GOOD.values(), ids=GOOD.keys())
@pytest.mark.parametrize("habits", [Habits(), Habits(ground=OPEN, turning_from=2)], ids=str)
def test_every_square_is_worked_soundly(design: Design, habits: Habits) -> None:
    done = work(design, habits)
    assert faults(done) == []
    assert done.pairs == design.pairs
    graph = graph_of_work(done)
    assert networkx.is_directed_acyclic_graph(graph)
    assert max(degree for _, degree in graph.in_degree()) == max(degree for _, degree in graph.out_degree()) == 2


@pytest.mark.parametrize("design", GOOD.values(), ids=GOOD.keys())
def test_threads_are_two_for_each_pair_and_run_from_end_to_end(design: Design) -> None:
    done = work(design)
    threads = play(done)
    assert threads.count == 2 * design.pairs
    at_end = threads.end[done.segments.head == NOWHERE].ravel()
    assert sorted(at_end.tolist()) == list(range(threads.count))
    for thread in range(threads.count):
        route = np.flatnonzero((threads.begin == thread).any(axis=1))
        tail, head = done.segments.tail[route], done.segments.head[route]
        assert tail[0] == NOWHERE
        assert head[-1] == NOWHERE
        assert (head[:-1] == tail[1:]).all()


def test_pairs_of_plain_ground_go_straight_on_and_stay_together() -> None:
    # CTCT, the pin in its middle, takes each pair whole to the other side (common practice, no source).
    done = work(made(5))
    threads = play(done)
    open_ones = done.crossings.kind == ledger.GROUND
    assert open_ones.any()
    assert not threads.parted(done)[open_ones].any()
    came, gone = threads.end[done.crossings.taken[open_ones]], threads.begin[done.crossings.given[open_ones]]
    assert (np.sort(came[:, 0], axis=1) == np.sort(gone[:, 1], axis=1)).all()


def test_half_stitch_parts_the_threads_of_its_pairs_and_cloth_does_not() -> None:
    for stitch, parts in (("half", True), ("cloth", False), ("whole", False)):
        done = work(made(12, *blocks(stitch, diamond((0, -11), 4))))
        inside = done.crossings.kind == ledger.BLOCK
        assert play(done).parted(done)[inside].any() == parts


@pytest.mark.parametrize("side", [2, 3, 4, 5])
def test_a_diamond_takes_twice_as_many_pairs_as_pinholes_along_a_side(side: int) -> None:
    # E: a 4 x 4 diamond takes 4 pairs from each side. At its widest row the worker meets all the others.
    done = work(made(14, *blocks("cloth", diamond((0, -13), side))))
    inside = np.flatnonzero(done.crossings.kind == ledger.BLOCK)
    graph = graph_of_work(done)
    coming = [edge for edge in graph.in_edges(inside.tolist()) if edge[0] not in set(inside.tolist())]
    assert len(coming) == 2 * side
    turned = [lengths for lengths in done.turned if lengths]
    assert len(turned) == 4 * (side - 1)
    assert all(len(lengths) == 1 for lengths in turned)


@pytest.mark.parametrize("side", [2, 3, 4, 5])
def test_one_pair_goes_round_every_pin_of_a_diamond_and_is_twisted_there(side: int) -> None:
    # Common practice, no source: the worker alone turns at pins, at the first and the last one too. In cloth stitch two
    # pairs pass each other whole, so that its two threads stay together.
    done = work(made(14, *blocks("cloth", diamond((0, -13), side))))
    threads = play(done)
    turned = [turn.segment for turn in done.turns]
    assert len(turned) == 4 * (side - 1)
    assert len({frozenset(threads.end[length].tolist()) for length in turned}) == 1
    assert set(done.segments.twists[turned].tolist()) == {1}
    assert [done.turned[turn.pin] for turn in done.turns] == [(length,) for length in turned]


@pytest.mark.parametrize(("stitch", "twisted"), [("cloth", True), ("half", False), ("whole", False)])
def test_pairs_are_twisted_where_they_leave_cloth_and_nowhere_else(stitch: str, twisted: bool) -> None:
    # Common practice, no source: half and whole stitch end with a twist of their own, and cloth has none inside.
    [block], split = GOOD["reversed print"].blocks, GOOD["reversed print"]
    split = replace(split, blocks=(replace(block, stitch=stitch),))
    for design in (made(14, *blocks(stitch, diamond((0, -13), 4))), split):
        for leaving in (1, 2):
            done = work(design, Habits(leaving=leaving))
            kind = np.append(done.crossings.kind, NOWHERE)
            out, into = kind[done.segments.tail], kind[done.segments.head]
            gone = (out == ledger.BLOCK) & (into == ledger.GROUND)
            assert gone.any()
            assert set(done.segments.twists[gone].tolist()) == {leaving if twisted else 0}
            inside = (out == ledger.BLOCK) & (into == ledger.BLOCK)
            inside[[turn.segment for turn in done.turns]] = False
            assert set(done.segments.twists[inside].tolist()) == {0}


@pytest.mark.parametrize(("legs", "pairs"), [(8, 4), (12, 6), (16, 8)])
def test_every_left_leg_of_a_spider_crosses_every_right_leg_twice(legs: int, pairs: int) -> None:
    # E: spiders of 8, 12 and 16 legs take 4, 6 and 8 pairs.
    centre = (0, -9) if legs == 12 else (0, -8)
    done = work(made(14, spiders({centre}, legs)))
    body = np.flatnonzero(done.crossings.kind == ledger.BODY)
    assert len(body) == 2 * (pairs // 2) ** 2
    threads = play(done)
    came = {frozenset(threads.end[length].tolist()) for length in done.crossings.taken[body].ravel()}
    assert len(came) == pairs
    met = [frozenset(frozenset(threads.end[length].tolist()) for length in pair) for pair in done.crossings.taken[body]]
    assert {met.count(each) for each in met} == {2}


def test_an_inner_corner_answers_several_pins_and_then_a_turning_stitch() -> None:
    design = made(14, *blocks("cloth", border_trail(14, 3, 2)))
    often = work(design, Habits(turning_from=99))
    uses = list(map(len, often.turned))
    assert max(uses) == 2
    spared = work(design, Habits(turning_from=2))
    assert max(map(len, spared.turned)) == 1
    assert faults(spared) == []
    assert len(spared.crossings) < len(often.crossings)


def test_a_worker_passes_all_passives_of_the_footside_out_and_back() -> None:
    for passives in (0, 1, 2, 3):
        design = made(6, passives=passives)
        done = work(design)
        at_edge = int((done.crossings.kind == ledger.FOOTSIDE).sum())
        assert at_edge == 4 * design.half_size * (2 * passives + 1)


def test_what_is_broken_is_found() -> None:
    done = work(GOOD["trail and spiders"])
    given = done.crossings.given.copy()
    given[[3, 4]] = given[[4, 3]]
    broken = replace(done, crossings=replace(done.crossings, given=given))
    assert faults(broken) == ["a crossing gives a pair that comes from elsewhere"]
    head = done.segments.head.copy()
    head[np.flatnonzero(head == NOWHERE)[0]] = 0
    assert "a crossing does not take two pairs" in faults(replace(done, segments=replace(done.segments, head=head)))
    moved = (done.pins[0]._replace(place=done.pins[1].place), *done.pins[1:])
    assert faults(replace(done, pins=moved)) == ["the pins are not those of the square"]
    assert any("pairs cross the cut" in each for each in faults(replace(done, design=replace(done.design, pairs=1))))

"""Threads drawn as they are played: every passing once over and once under, every course from end to end."""

from __future__ import annotations

from itertools import groupby, pairwise

import numpy as np
import pytest
from designs import blocks, made, trail_round
from examples import diamond, gallery_of, make

from constraints.design import Design
from constraints.stitches import CLOTH
from constraints.swings import swings_of
from constraints.working.blocks import Chains
from constraints.working.ends import ends_of
from constraints.working.ledger import BLOCK
from constraints.working.work import work
from gallery.looks.passings import Passings
from gallery.looks.played import ink
from gallery.web.vector import VectorPen

SQUARES = [*gallery_of(3, 12), *gallery_of(2, 9, "across")]


@pytest.mark.parametrize("design", SQUARES)
def test_every_course_is_one_chain_from_where_it_is_hung_to_where_it_ends(design: Design) -> None:
    done = work(design)
    passings = Passings(done)
    courses = passings.courses()
    assert len(courses) == 2 * design.pairs
    hung = {held.place for held in ends_of(done).hung}
    assert {tuple(course.points[0].tolist()) for course in courses} == hung
    # Each begins at the pin of its own pair, and ends in the loop or at the pin where that thread's pair ends.
    ends = ends_of(done)
    at = {length: held.place for held in ends.hung for length in held.segments}
    last = {each.finished: at[each.loop] for each in ends.sewings}
    last |= {length: held.place for held in ends.last for length in held.segments}
    for places, threads, point in ((at, passings.threads.begin, 0), (last, passings.threads.end, -1)):
        for length, place in places.items():
            assert all(tuple(courses[t].points[point].tolist()) == place for t in threads[length].tolist())
    # Every passing lies on two courses, on one of them on top.
    assert sum(int(course.over.sum()) for course in courses) == len(passings.at)
    for number, course in enumerate(courses):
        own = np.flatnonzero((passings.threads.over == number) | (passings.threads.under == number))
        assert len(course.points) >= len(own) + 2
        assert np.isfinite(course.points).all()
        # No leap: from passing to passing it is at most the way to the next pinhole but one, or through a spider.
        assert np.hypot(*np.diff(course.points, axis=0).T).max() < 4


def test_in_cloth_the_worker_goes_over_and_under_by_turns() -> None:
    """Cloth stitch is a plain weave: each thread of the worker passes the two of a passive over one and under one."""
    design = next(each for each in SQUARES if any(block.stitch == CLOTH for block in each.blocks))
    done = work(design)
    threads, crossings = Passings(done).threads, done.crossings
    woven = [k for k in range(len(crossings)) if crossings.kind[k] == BLOCK and crossings.words_of(k) == "CTC"]
    assert woven
    for crossing in woven:
        events = np.flatnonzero(threads.crossing == crossing)
        left, right = crossings.taken[crossing]
        worker = right if crossings.worker[crossing] == 1 else left
        for thread in threads.end[worker].tolist():
            over = [thread == threads.over[e] for e in events.tolist() if thread in (threads.over[e], threads.under[e])]
            assert sorted(over) == [False, True]


def test_a_crossing_of_cloth_takes_no_more_room_than_its_threads() -> None:
    design = SQUARES[0]
    passings = Passings(work(design))
    for crossing in range(len(passings.work.crossings)):
        own = passings.at[passings.threads.crossing == crossing]
        assert np.ptp(own, axis=0).max() < 1.0


@pytest.mark.parametrize("ways", ["across", "along"])
@pytest.mark.parametrize("width", [3, 5])
def test_where_rows_slant_ways_fan_out_evenly_from_inner_to_outer_pins(width: int, ways: str) -> None:
    """Half as far apart at the inner pins as at the outer ones; nowhere do two lie on each other or leave a gap."""
    brief = {"corners": "swung", "narrowest": 1}
    done = work(made(26, *blocks("cloth", trail_round(width, 8, ways, ways)), brief=brief))
    (swing,) = swings_of(done.layout)
    passings, crossings = Passings(done), done.crossings
    steps = np.flatnonzero(np.isin(done.order.nodes, done.flow.node[swing.places]))
    own = np.flatnonzero(np.isin(crossings.step, steps) & (crossings.kind == BLOCK)).tolist()
    ends = []
    for worker, members in groupby(own, key=lambda k: int(crossings.worker[k])):
        way = list(members)
        if len(way) > 1:
            at = np.array([passings.at[passings.threads.crossing == k].mean(axis=0) for k in way])
            ends.append(at if worker == 0 else at[::-1])
    for end, (least, most) in ((0, (0.25, 1.5)), (-1, (0.15, 1.0))):
        gaps = [float(np.hypot(*(b[end] - a[end]))) for a, b in pairwise(ends)]
        assert len(gaps) > 4 * len(swing.outer) // 3
        assert least < min(gaps) <= max(gaps) < most, (end, gaps)


@pytest.mark.parametrize("width", [3, 4, 5])
def test_where_rows_begin_and_cease_to_slant_the_ways_go_on_evenly(width: int) -> None:
    brief = {"corners": "swung", "narrowest": 1}
    done = work(made(26, *blocks("cloth", trail_round(width, 8, "along", "along")), brief=brief))
    (swing,) = swings_of(done.layout)
    passings, crossings = Passings(done), done.crossings
    slanting = np.isin(np.array(done.order.nodes)[crossings.step], done.flow.node[swing.outer])
    own = np.flatnonzero(crossings.kind == BLOCK).tolist()
    rows = groupby(own, key=lambda k: (int(crossings.step[k]), int(crossings.worker[k])))
    ways = [way for way in (list(members) for _, members in rows) if len(way) > 1]
    middle = [passings.at[np.isin(passings.threads.crossing, way)].mean(axis=0) for way in ways]
    changes = [n for n in range(1, len(ways)) if slanting[ways[n][0]] != slanting[ways[n - 1][0]]]
    assert len(changes) == 2
    for n in changes:
        assert 0.5 < np.hypot(*(middle[n] - middle[n - 1])) < 1.2


def test_coloured_threads_are_drawn_in_their_colours_alone() -> None:
    design = SQUARES[0]
    pen = VectorPen(4.0)
    ink(pen, work(design), {0: "#dc143c", 5: "#4169e1"})
    colours = {layer.colour for layer in pen.layers}
    assert {"#dc143c", "#4169e1"} <= colours
    plain = VectorPen(4.0)
    ink(plain, work(design))
    assert not {"#dc143c", "#4169e1"} & {layer.colour for layer in plain.layers}


@pytest.mark.parametrize("design", SQUARES)
def test_the_ways_of_a_worker_lie_evenly_also_beside_a_turn_without_a_pin(design: Design) -> None:
    """Four ways a pitch, as the pins have it: no two that follow each other leave a gap as wide as a hole of the
    ground."""
    done = work(design)
    passings, crossings, piece = Passings(done), done.crossings, done.layout.piece
    node = np.zeros(len(done.flow.kind), dtype=np.int64)
    node[done.flow.node] = np.arange(len(done.flow.node))
    pinhole = node[np.array(done.order.nodes)[crossings.step]]
    chains = Chains(done.layout, done.flow, done.arcs, done.seams)
    last: dict[tuple[int | None, int], float] = {}
    worked = np.flatnonzero(crossings.kind == BLOCK).tolist()
    for _, members in groupby(worked, key=lambda k: (int(crossings.step[k]), int(crossings.worker[k]))):
        way = list(members)
        own = int(pinhole[way[0]])
        along = piece.directions[piece.zone[own]]
        chain = chains.number.get(int(done.flow.node[own]))
        part = (chain, int(piece.zone[own]))
        events = np.isin(passings.threads.crossing, way)
        level = float((passings.at[events] @ along).mean())
        if len(way) > 1 and chain is not None:
            assert level - last.get(part, level) < 1.1
            # It stays between the pins that it joins: no other arm of its block draws it away.
            assert abs(level - float((crossings.place[way] @ along).mean())) < 1.1
            last[part] = level


def test_half_stitch_is_an_open_net_all_over() -> None:
    """The threads of a row pass each other all along it, not in knots with room between: from one passing to the next
    it is at most two ninths of the pitch (common practice, no source)."""
    done = work(make(14, [("half", diamond(-8, 0, 7))], symmetry="quarter-turn"))
    passings = Passings(done)
    crossings, threads = done.crossings, passings.threads
    own = np.flatnonzero(crossings.kind == BLOCK)
    rows = groupby(own.tolist(), key=lambda k: (int(crossings.step[k]), int(crossings.worker[k])))
    ways = [way for way in (list(members) for _, members in rows) if len(way) > 2]
    assert len(ways) == 4 * 17
    for way in ways:
        along = done.layout.piece.directions[done.layout.piece.zone[done.pinhole[crossings.step[way[0]]]]]
        place = np.sort(passings.at[np.isin(threads.crossing, way)] @ (along[1], -along[0]))
        assert np.diff(place).max() <= 2 / 9 * 2

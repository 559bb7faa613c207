"""The lines of the pairs: every length of the work once, from crossing to crossing, straight and bent as worked."""

from __future__ import annotations

import networkx as nx
import numpy as np
import pytest
from examples import band, bar, diamond, gallery_of, make, ring

from constraints.design import Design
from constraints.working import ledger
from constraints.working.habits import TURNING_STITCH
from constraints.working.work import work
from gallery.diagram.inking import SORTS, Inking, chained
from gallery.diagram.pairlines import PairLines

ACROSS = make(
    9, [("half", diamond(0, -3, 3)), ("whole", diamond(-4, 3, 2))], worked="across", symmetry="none", passives=2
)
SPIDERS = make(16, [], spiders=[(12, lambda x, y: np.abs(x) > np.abs(y) + 2)], symmetry="half-turn")
DOUBLE = make(6, [], double=lambda x, y: np.abs(x) + np.abs(y) < 4)
# Two slanting bars that cross: arms merge and split.
ARMS = make(
    14, [("cloth", lambda x, y: bar(-6, -7, 12, 3)(x, y) | bar(-6, -7, 12, 3)(-x, y))], worked="across", symmetry="none"
)
SQUARES: dict[str, Design] = {
    **{f"style {number}": design for number, design in enumerate(gallery_of(4, 12))},
    "no passives": make(9, [("cloth", ring(7, 4))], passives=0),
    "across": ACROSS,
    "spiders": SPIDERS,
    "double": DOUBLE,
    "arms": ARMS,
}
every = pytest.mark.parametrize("design", SQUARES.values(), ids=SQUARES)


def inking(design: Design) -> Inking:
    return Inking(PairLines(work(design)))


@every
def test_every_length_of_the_work_is_drawn_once_from_crossing_to_crossing(design: Design) -> None:
    lines = PairLines(work(design))
    curves, lengths = lines.curves, lines.work.segments
    starts = np.flatnonzero(np.append(True, np.diff(curves.segment) != 0))
    ends = np.append(starts[1:], len(curves.segment)) - 1
    assert curves.segment[starts].tolist() == list(range(len(lengths)))
    inner = np.setdiff1d(np.arange(len(curves.segment)), starts)
    assert np.allclose(curves.points[inner, 0], curves.points[inner - 1, 3])
    tail, head = lengths.tail, lengths.head
    assert np.allclose(curves.points[starts, 0][tail >= 0], lines.standing.go[tail[tail >= 0]])
    assert np.allclose(curves.points[ends, 3][head >= 0], lines.standing.come[head[head >= 0]])


@every
def test_the_lines_join_the_crossings_as_the_work_does(design: Design) -> None:
    # Read from the drawing alone: places joined by lines. networkx compares it with the work's own digraph.
    lines = PairLines(work(design))
    done, standing = lines.work, lines.standing
    at: dict[tuple[float, ...], int] = {}
    for places in (standing.come, standing.go):
        at.update({tuple(np.round(place, 6).tolist()): number for number, place in enumerate(places)})
    drawn, worked = nx.MultiDiGraph(), nx.MultiDiGraph()
    for length in range(len(done.segments)):
        points = lines.curves.points[lines.curves.segment == length]
        ends = (at.get(tuple(np.round(place, 6).tolist()), -1) for place in (points[0, 0], points[-1, 3]))
        drawn.add_edge(*ends)
        worked.add_edge(int(done.segments.tail[length]), int(done.segments.head[length]))
    assert sorted(drawn.edges()) == sorted(worked.edges())


@every
def test_no_two_crossings_share_a_place(design: Design) -> None:
    # Else their lines could not be told apart. Where a worker goes out to a pin and back they come close.
    places = PairLines(work(design)).standing.come
    near = np.hypot(*(places[:, None] - places).transpose(2, 0, 1)) + 9.0 * np.eye(len(places))
    assert near.min() > 0.002


@every
def test_no_line_runs_far_from_one_crossing_to_the_next(design: Design) -> None:
    # A spider's leg from its ring and a worker's way round a pin are the longest.
    points = PairLines(work(design)).curves.points
    assert np.hypot(*(points[:, 3] - points[:, 0]).T).max() < 3.5


def test_pairs_of_the_ground_run_straight_through_their_pins() -> None:
    lines = PairLines(work(make(7, [])))
    kind, lengths = lines.work.crossings.kind, lines.work.segments
    inner = np.flatnonzero((lengths.tail >= 0) & (lengths.head >= 0))
    inner = inner[(kind[lengths.tail[inner]] == ledger.GROUND) & (kind[lengths.head[inner]] == ledger.GROUND)]
    points = lines.curves.points[np.isin(lines.curves.segment, inner)]
    way = points[:, 3] - points[:, 0]
    assert len(points) == len(inner) > 100
    assert (np.abs(way) == 1).all()  # neighbours of the grid
    for control in (points[:, 1], points[:, 2]):
        off = control - points[:, 0]
        # Those beside the footside bend a little towards their passives.
        assert np.abs(off[:, 0] * way[:, 1] - off[:, 1] * way[:, 0]).max() < 0.25
    far = np.abs(points[:, 0]).max(axis=1) < 4
    off = points[far, 1] - points[far, 0]
    assert np.abs(off[:, 0] * way[far, 1] - off[:, 1] * way[far, 0]).max() < 1e-9


def test_a_worker_goes_straight_from_pin_to_pin() -> None:
    # Two diamonds of 3 x 3 pinholes: between the tips three rows, each with two pins, so seven ways in each.
    standing = PairLines(work(make(12, [("cloth", diamond(-5, 0, 3))], symmetry="upright-mirror"))).standing
    assert len(standing.runs) == 2 * 7
    for run in standing.runs:
        points = standing.come[run]
        if len(run) > 2:
            way, off = points[-1] - points[0], points[1:-1] - points[0]
            assert np.abs(off[:, 0] * way[1] - off[:, 1] * way[0]).max() < 1e-9
        along = points @ (points[-1] - points[0])
        assert (np.diff(along) > 0).all()


def test_turning_stitches_keep_off_the_inner_pin() -> None:
    lines = PairLines(work(make(12, [("cloth", band(9, 5))])))
    turning = np.flatnonzero(lines.standing.turning)
    words = [lines.work.crossings.words_of(each) for each in range(len(lines.work.crossings))]
    assert len(turning) == words.count(TURNING_STITCH)
    pins = np.array([pin.place for pin in lines.work.pins])
    away = np.hypot(*(lines.standing.come[turning][:, None] - pins).transpose(2, 0, 1)).min(axis=1)
    assert len(turning) > 0
    assert away.min() > 0.3


@pytest.mark.parametrize(("legs", "pairs"), [(8, 4), (12, 6), (16, 8)])
def test_a_spider_is_drawn_with_all_its_legs(legs: int, pairs: int) -> None:
    # Teaching pages of Jo Edkins: spiders of 8, 12 and 16 legs take 4, 6 and 8 pairs.
    centre = (0, -9) if legs == 12 else (0, -8)
    design = make(14, [], spiders=[(legs, lambda x, y: (x == centre[0]) & (y == centre[1]))], symmetry="none")
    ink = inking(design)
    spider = ink.lines.standing.come[ink.work.crossings.kind == ledger.BODY]
    assert len(np.unique(spider.round(6), axis=0)) == 2 * (pairs // 2) ** 2
    tail, head = ink.work.segments.tail, ink.work.segments.head
    body = ink.work.crossings.kind == ledger.BODY
    outside = np.append(~body, True)
    drawn = (outside[tail] & ~outside[head]) | (~outside[tail] & outside[head])
    assert drawn.sum() == legs
    assert ink.work.segments.twists[drawn].min() >= 2


# --- inking ----------------------------------------------------------------------------------------------


def arc(points: np.ndarray) -> float:
    """How long cubic curves are, from 33 points of each."""
    t = np.linspace(0, 1, 33)[:, None, None]
    a, b, c, d = points.transpose(1, 0, 2)
    at = (1 - t) ** 3 * a + 3 * t * (1 - t) ** 2 * b + 3 * t**2 * (1 - t) * c + t**3 * d
    return float(np.hypot(*np.diff(at, axis=0).transpose(2, 0, 1)).sum())


@every
def test_the_ink_is_as_long_as_the_lines(design: Design) -> None:
    ink = inking(design)
    assert sum(arc(each.points) for each in ink.inked) == pytest.approx(arc(ink.lines.curves.points), rel=1e-3)


@every
def test_every_twist_beside_those_of_the_stitches_has_its_mark(design: Design) -> None:
    ink = inking(design)
    bars = ink.twists(ink.lines.curves.points)
    assert len(bars) == ink.work.segments.twists.sum() > 0
    # Each stands across its line and is as short as the next one.
    assert np.ptp(np.hypot(*(bars[:, 1] - bars[:, 0]).T)) < 1e-9


def test_blocks_are_inked_by_their_stitch() -> None:
    for stitch in ("cloth", "half", "whole"):
        ink = inking(make(10, [(stitch, diamond(0, -5, 3))]))
        block = ink.work.crossings.kind == ledger.BLOCK
        assert {SORTS[number] for number in ink.sort[block].tolist()} == {stitch}
        assert {(each.sort, each.worker) for each in ink.inked} == {
            ("ground", False), ("footside", False), (stitch, False), (stitch, True)
        }  # fmt: skip


def test_pairs_that_go_straight_on_become_one_line() -> None:
    steps = np.array([[0, 0], [1, 1], [2, 2], [3, 3], [5, 3]], dtype=float)
    points = np.stack([steps[:-1] + share * np.diff(steps, axis=0) for share in (0, 1 / 3, 2 / 3, 1)], axis=1)
    path = chained(points)
    assert np.asarray(path.vertices).tolist() == [[0, 0], [3, 3], [5, 3]]
    apart = chained(np.concatenate([points[:1], points[2:3]]))
    assert np.asarray(apart.vertices).tolist() == [[0, 0], [1, 1], [2, 2], [3, 3]]

"""Pair flow against handbooks, papers and networkx.

The model of bobbin lace as 2-in 2-out digraphs: Irvine and Ruskey 2014, Journal of Mathematics and the Arts.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import networkx
import numpy as np
import pytest
from squares import GOOD, blocks, border_trail, diamond, made, roses, spiders

from constraints import piece as pieces
from constraints.check import WHOLE, check
from constraints.check.limits import Limits
from constraints.flow import OUTSIDE, PIN, ROW, START_LINES, UNIT, Flow, flow, flow_of, pair_ways, single_pins
from constraints.lattice import STEPS, neighbour_table
from constraints.layout import lay
from constraints.piece import Piece
from constraints.square import FieldFilling


def strip(columns: int, rows: int) -> Piece:
    """A strip with plain edges worked downwards: pinholes where column + row is even."""
    pinholes = np.array([(c, r) for r in range(rows) for c in range(columns) if (c + r) % 2 == 0])
    index = {p: i for i, p in enumerate(map(tuple, pinholes.tolist()))}
    at_edge = (pinholes[:, 0] == 0) | (pinholes[:, 0] == columns - 1)
    follow = [index.get((c, r + 2), -1) if edge else -1 for (c, r), edge in zip(index, at_edge, strict=True)]
    return Piece(
        worked="across",
        symmetry="none",
        parity=0,
        pinholes=pinholes,
        neighbours=neighbour_table(pinholes),
        depth=np.minimum(
            np.minimum(pinholes[:, 0], columns - 1 - pinholes[:, 0]),
            np.minimum(pinholes[:, 1], rows - 1 - pinholes[:, 1]),
        ),
        zone=np.zeros(len(pinholes), dtype=np.int64),
        directions=np.array([(0, 1)]),
        edge=np.where(pinholes[:, 0] == 0, 0, np.where(pinholes[:, 0] == columns - 1, 1, -1)),
        edge_next=np.array(follow),
        free=np.isin(pinholes[:, 1], (0, rows - 1)) | at_edge,
        fan=np.zeros(len(pinholes), dtype=np.bool_),
        held=np.zeros(len(pinholes), dtype=np.bool_),
    )


def graph_of(arcs: np.ndarray) -> networkx.MultiDiGraph:
    graph = networkx.MultiDiGraph()
    graph.add_edges_from(arcs[(arcs >= 0).all(axis=1)].tolist())
    return graph


# --- pinhole to pinhole ----------------------------------------------------------------------------------


@pytest.mark.parametrize("half_size", [9, 12])
def test_a_round_has_two_pairs_in_and_out_everywhere_and_no_cycle_once_cut(half_size: int) -> None:
    piece = pieces.square(half_size)
    whole = graph_of(pair_ways(piece))
    assert {d for _, d in whole.in_degree()} == {2} == {d for _, d in whole.out_degree()}
    assert not networkx.is_directed_acyclic_graph(whole)
    for start in START_LINES:
        cut = flow_of(piece, single_pins(piece), start)
        assert networkx.is_directed_acyclic_graph(graph_of(cut.arcs))
        assert cut.pairs == half_size + 1  # N lines and one edge pair
        assert set(cut.across_cuts.tolist()) == {half_size + 1}
        assert cut.at_start.sum() == 2 * (half_size + 1)


@pytest.mark.parametrize("half_size", [9, 12])
def test_as_many_steps_as_the_half_size_cross_each_corner_line(half_size: int) -> None:
    piece = pieces.square(half_size)
    for zone in range(4):
        other = (zone + 1) % 4
        here = {int(i) for i in np.flatnonzero(piece.zone == zone)}
        there = {int(i) for i in np.flatnonzero(piece.zone == other)}
        crossing = [way for way in pair_ways(piece).tolist() if way[0] in here and way[1] in there]
        assert len(crossing) == half_size + 1
        edge = [way for way in crossing if piece.edge_next[way[0]] == way[1]]
        # The edge pair and one of the steps both join the last pin of a quarter and the first of the next.
        assert len(edge) == 2
        assert not [way for way in pair_ways(piece).tolist() if way[0] in there and way[1] in here]


@pytest.mark.parametrize("half_size", [1, 2, 9, 12])
def test_a_square_worked_across_takes_its_lines_and_both_edges(half_size: int) -> None:
    run = flow(made(half_size, worked="across", passives=0))
    assert run.pairs == 2 * half_size + 2 == made(half_size, worked="across", passives=0).pairs
    assert set(run.across_cuts.tolist()) == {run.pairs}


def test_every_pair_that_is_hung_on_can_be_followed_to_its_own_end() -> None:
    """As many disjoint ways as pairs (Menger): the least cut, by networkx's maximum flow, is no smaller."""
    for square in (GOOD["ring of diamonds"], GOOD["worked across"], GOOD["rose field"]):
        run = flow(square)
        graph = networkx.DiGraph()
        for tail, head in run.arcs.tolist():
            ends = ("hung on" if tail == OUTSIDE else tail, "finished" if head == OUTSIDE else head)
            held = graph.get_edge_data(*ends, {"capacity": 0})["capacity"]
            graph.add_edge(*ends, capacity=held + 1)
        assert networkx.maximum_flow_value(graph, "hung on", "finished") == run.pairs


# --- handbooks -------------------------------------------------------------------------------------------


def test_the_ground_of_1886_takes_ten_pairs_and_each_pin_the_printed_two() -> None:
    """Therese de Dillmont, Encyclopedia of Needlework (1886), fig. 787 and 788: 13 rows of 5 and 4 pinholes,
    two pairs on each of the five top pins, ten pairs = 9 columns + 1. Printed pairs by pin, numbered from
    the left: 1 (2, 3); 2 (2, 1); 3 (5, 4); 4 (4, 3); 7 (6, 7); 13 (8, 9); 21 (9, 10). Worked in diagonals
    down to the left: 1-2, 3-6, 7-12, 13-20, 21-29.
    """
    piece = strip(9, 13)
    rows = np.bincount(piece.pinholes[:, 1])
    assert rows.tolist() == [5, 4, 5, 4, 5, 4, 5, 4, 5, 4, 5, 4, 5]
    run = flow_of(piece, single_pins(piece))
    assert run.pairs == 10
    assert set(run.across_cuts.tolist()) == {10}
    starts = piece.pinholes[run.ways[run.arcs[:, 0] == OUTSIDE, 1]]
    assert sorted(map(tuple, starts.tolist())) == sorted([(c, 0) for c in (0, 2, 4, 6, 8)] * 2)
    taken = pairs_at_pins(piece, run)
    diagonals = [(1, 2), (3, 4), (5, 6), (7, 8), (8, 9)]  # (first column, pins): the last begins at the edge
    tops = zip((1, 1, 1, 1, 2), diagonals, strict=True)
    pins = [(column - k, row + k) for row, (column, count) in tops for k in range(count)]
    printed = {1: {2, 3}, 2: {2, 1}, 3: {5, 4}, 4: {4, 3}, 7: {6, 7}, 13: {8, 9}, 21: {9, 10}}
    assert {number: taken[pins[number - 1]] for number in printed} == printed


def pairs_at_pins(piece: Piece, run: Flow) -> dict[tuple[int, int], set[int]]:
    """Work pin by pin; the places (from the left, from 1) of the two pairs that each takes."""
    hung = run.ways[run.arcs[:, 0] == OUTSIDE, 1].tolist()
    line: list[object] = [("to", node) for node in sorted(hung, key=lambda n: piece.pinholes[n].tolist())]
    found = {}
    for pin in run.order.tolist():
        places = [k for k, pair in enumerate(line) if pair == ("to", pin)]
        assert len(places) == 2
        assert places[1] == places[0] + 1
        x, y = piece.pinholes[pin].tolist()
        found[x, y] = {k + 1 for k in places}
        ahead = run.ways[run.ways[:, 0] == pin, 1].tolist()
        ahead.sort(key=lambda n: (x if n < 0 else piece.pinholes[n, 0]))
        line[places[0] : places[1] + 1] = [("to", node) if node >= 0 else "done" for node in ahead]
    return found


@pytest.mark.parametrize("columns", [2, 3, 4, 9])
def test_a_strip_takes_a_pair_more_than_it_has_columns(columns: int) -> None:
    """Jo Edkins, teaching pages on Torchon lace: two footsides of one passive each and one column of ground
    between them, a strip of three columns, take 6 pairs: four, and the two passives."""
    piece = strip(columns, 12)
    run = flow_of(piece, single_pins(piece))
    assert run.pairs == columns + 1
    assert set(run.across_cuts.tolist()) == {columns + 1}


@pytest.mark.parametrize("side", [2, 3, 4, 5])
def test_a_diamond_takes_as_many_pairs_from_each_side_as_it_has_pinholes_there(side: int) -> None:
    """Jo Edkins, teaching pages: a 4 x 4 diamond takes 4 pairs from each side; it has 12 pins at its border
    (for n pinholes a side 2n pairs and 4(n - 1) pins)."""
    shape = diamond((-9, -4), side)
    square = made(16, *blocks("cloth", shape))
    assert check(square) == []
    run = flow(square)
    piece = square.piece()
    inside = np.append([tuple(p) in shape for p in piece.pinholes.tolist()], False)
    entering = run.ways[~inside[run.ways[:, 0]] & inside[run.ways[:, 1]]]
    leaving = run.ways[inside[run.ways[:, 0]] & ~inside[run.ways[:, 1]]]
    sides = (piece.pinholes[entering[:, 1]] - piece.pinholes[entering[:, 0]]).tolist()
    assert [sides.count([dx, 1]) for dx in (1, -1)] == [side, side]
    assert len(leaving) == 2 * side
    border = [p for p in shape if not all((p[0] + dx, p[1] + dy) in shape for dx, dy in STEPS.tolist())]
    assert len(border) == 4 * (side - 1)
    rows = np.unique(run.node[inside[:-1]])
    assert (run.kind[rows] == ROW).all()
    assert len(rows) == 2 * side - 1


@pytest.mark.parametrize(
    ("unit", "pairs", "pinholes"),
    # Jo Edkins, teaching pages: spiders with 8, 12 and 16 legs take 4, 6 and 8 pairs; a rose unit has 4 pins
    # and takes 4 pairs.
    [
        (spiders({(-8, 0)}, 8), 4, 4),
        (spiders({(-7, 0)}, 12), 6, 9),
        (spiders({(-8, 0)}, 16), 8, 16),
        (roses({(-8, 0)}), 4, 4),
    ],
)
@pytest.mark.parametrize("worked", ["round", "across"])
def test_units_take_and_give_the_published_pairs(
    unit: FieldFilling, pairs: int, pinholes: int, worked: str
) -> None:
    run = flow(made(14, unit, worked=worked))
    [node] = np.flatnonzero(run.kind == UNIT)
    assert (run.pairs_in[node], run.pairs_out[node]) == (pairs, pairs)
    assert (run.node == node).sum() == pinholes


# --- rows and units as single nodes ----------------------------------------------------------------------


@pytest.mark.parametrize("name", GOOD)
def test_the_order_of_work_is_one_that_networkx_accepts(name: str) -> None:
    run = flow(GOOD[name])
    graph = graph_of(run.arcs)
    assert networkx.is_directed_acyclic_graph(graph)
    assert sorted(run.order.tolist()) == list(range(len(run.kind)))
    rank = np.argsort(run.order)
    assert all(rank[tail] < rank[head] for tail, head in graph.edges())
    # Any set of nodes closed under "worked before" is a cut: all the pairs leave it or are still to come.
    for node in range(0, len(run.kind), 7):
        before = networkx.ancestors(graph, node) | {node} if node in graph else {node}
        before |= {OUTSIDE}
        tails, heads = run.arcs[:, 0], run.arcs[:, 1]
        behind = np.isin(tails, list(before)) & ~(np.isin(heads, list(before)) & (heads != OUTSIDE))
        assert behind.sum() == run.pairs


def test_rows_are_the_runs_of_one_block_in_one_quarter() -> None:
    # Half-size 9: a closed trail of three lines, depth 2 to 4. Left quarter: |y| < |x|, rows of one y.
    trail = border_trail(9, 2, 3)
    square = made(9, *blocks("cloth", trail), brief={"margin": 2, "narrowest_ground": 1})
    assert check(square) == []
    run = flow(square)
    piece = square.piece()
    left = {}
    for i in np.flatnonzero(piece.pinholes[:, 0] < -np.abs(piece.pinholes[:, 1])):
        if tuple(piece.pinholes[i].tolist()) in trail:
            left.setdefault(int(piece.pinholes[i, 1]), set()).add(int(run.node[i]))
    assert sorted(left) == list(range(-6, 7))
    assert all(len(nodes) == 1 for nodes in left.values())
    assert len(set().union(*left.values())) == 13


def test_two_arms_that_touch_in_a_row_are_two_runs() -> None:
    """A block round an opening whose arms stand tip to tip below it is worked by two workers up to there."""
    shape = diamond((-11, -8), 9) - diamond((-11, -2), 3)
    square = made(22, *blocks("cloth", shape), splits=2, brief={"splits": 2, "widest": 9})
    run = flow(square)
    index = square.piece().index
    assert run.node[index[-13, -2]] != run.node[index[-9, -2]]
    assert run.node[index[-12, -3]] == run.node[index[-10, -3]]
    assert run.node[index[-14, 1]] != run.node[index[-8, 1]]


def test_a_cycle_is_told_as_one() -> None:
    run = flow(made(12, roses({(-6, 6)})))
    arcs = set(map(tuple, run.arcs.tolist()))
    around = [*run.cycle.tolist(), run.cycle[0]]
    assert len(around) > 2
    assert all((int(a), int(b)) in arcs for a, b in pairwise(around))
    assert len(set(run.cycle.tolist())) == len(run.cycle)


# --- what only a broken piece can break ------------------------------------------------------------------


def told(piece: Piece) -> list[str]:
    layout = replace(lay(made(5)), piece=piece)
    return [message for message, _ in WHOLE["flow"](layout, Limits())]


def test_a_pair_led_astray_is_found() -> None:
    piece = pieces.square(5)
    assert told(piece) == []
    astray = piece.edge_next.copy()
    first = piece.index[-5, 0]
    astray[first] = piece.index[-1, 0]
    messages = told(replace(piece, edge_next=astray))
    assert "crossings that do not take and give the same pairs" in messages
    lost = piece.neighbours.copy()
    here, there = piece.index[-2, 1], piece.index[-3, 2]
    lost[here][lost[here] == there] = -1
    messages = told(replace(piece, neighbours=lost))
    assert "pairs begin or end away from the edge and the start line" in messages
    assert "7 pairs cross a cut, passives aside; the square says 6" in messages


# --- the pinhole lattice ---------------------------------------------------------------------------------


@pytest.mark.parametrize("half_size", [1, 2, 3, 4])
def test_the_pinholes_are_the_aztec_diamond(half_size: int) -> None:
    """Its perfect matchings number 2^(N(N + 1) / 2): 2, 8, 64, 1024 (Elkies, Kuperberg, Larsen, Propp 1992).

    Counted as a determinant with Kasteleyn's signs: steps of one diagonal get the sign of their line.
    """
    piece = pieces.square(half_size)
    even = np.flatnonzero(piece.pinholes[:, 1] % 2 == 0)
    odd = np.flatnonzero(piece.pinholes[:, 1] % 2 != 0)
    column = {int(i): k for k, i in enumerate(odd)}
    matrix = np.zeros((len(even), len(odd)))
    for row, i in enumerate(even):
        for j in piece.neighbours[i][piece.neighbours[i] >= 0]:
            dx, dy = piece.pinholes[j] - piece.pinholes[i]
            line = (piece.pinholes[i].sum() - 1) // 2  # constant along the steps (1, -1) and (-1, 1)
            matrix[row, column[int(j)]] = 1 if dx == dy or line % 2 else -1
    assert abs(np.linalg.det(matrix)) == pytest.approx(2 ** (half_size * (half_size + 1) // 2))


def test_single_pins_are_pins() -> None:
    run = flow(made(4))
    assert (run.kind == PIN).all()
    assert (run.pairs_in == 2).all()
    assert (run.pairs_out == 2).all()

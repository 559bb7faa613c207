"""Pair flow against handbooks, papers and networkx.

The model of bobbin lace as 2-in 2-out digraphs: Irvine and Ruskey 2014, Journal of Mathematics and the Arts.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import networkx
import numpy as np
import pytest
from designs import GOOD, blocks, border_trail, diamond, made, roses
from flows import flow, graph_of, single_pins

from constraints.check import WHOLE, check
from constraints.check.limits import Limits
from constraints.flow import OUTSIDE, PIN, START_LINES, flow_of, pair_arcs
from constraints.forms import Square
from constraints.layout import lay
from constraints.piece import Piece

# --- pinhole to pinhole ----------------------------------------------------------------------------------


@pytest.mark.parametrize("half_size", [9, 12])
def test_a_round_has_two_pairs_in_and_out_everywhere_and_no_cycle_once_cut(half_size: int) -> None:
    piece = Square(half_size).piece("round")
    whole = graph_of(pair_arcs(piece))
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
    piece = Square(half_size).piece("round")
    for zone in range(4):
        other = (zone + 1) % 4
        here = {int(i) for i in np.flatnonzero(piece.zone == zone)}
        there = {int(i) for i in np.flatnonzero(piece.zone == other)}
        crossing = [arc for arc in pair_arcs(piece).tolist() if arc[0] in here and arc[1] in there]
        assert len(crossing) == half_size + 1
        edge = [arc for arc in crossing if piece.edge_next[arc[0]] == arc[1]]
        # The edge pair and one of the steps both join the last pin of a quarter and the first of the next.
        assert len(edge) == 2
        assert not [arc for arc in pair_arcs(piece).tolist() if arc[0] in there and arc[1] in here]


@pytest.mark.parametrize("half_size", [1, 2, 9, 12])
def test_a_square_worked_across_takes_its_lines_and_both_edges(half_size: int) -> None:
    run = flow(made(half_size, worked="across", passives=0))
    assert run.pairs == 2 * half_size + 2 == made(half_size, worked="across", passives=0).pairs
    assert set(run.across_cuts.tolist()) == {run.pairs}


def test_every_pair_that_is_hung_on_can_be_followed_to_its_own_end() -> None:
    """As many disjoint ways as pairs (Menger): the least cut, by networkx's maximum flow, is no smaller."""
    for design in (GOOD["ring of diamonds"], GOOD["worked across"], GOOD["rose field"]):
        run = flow(design)
        graph = networkx.DiGraph()
        for tail, head in run.arcs.tolist():
            ends = ("hung on" if tail == OUTSIDE else tail, "finished" if head == OUTSIDE else head)
            held = graph.get_edge_data(*ends, {"capacity": 0})["capacity"]
            graph.add_edge(*ends, capacity=held + 1)
        assert networkx.maximum_flow_value(graph, "hung on", "finished") == run.pairs


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
    design = made(9, *blocks("cloth", trail), brief={"margin": 2, "narrowest_ground": 1})
    assert check(design) == []
    run = flow(design)
    piece = design.piece()
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
    design = made(22, *blocks("cloth", shape), splits=2, brief={"splits": 2, "widest": 9})
    run = flow(design)
    index = design.piece().index
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
    piece = Square(5).piece("round")
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
    piece = Square(half_size).piece("round")
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

"""The lacemaker's order of work.

D: Therese de Dillmont, Encyclopedia of Needlework (1886), chapter on laces, fig. 788: plain ground of nine columns,
worked in five diagonals that run down to the left, pins 1-2, 3-6, 7-12, 13-20, 21-29.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import groupby

import numpy as np
import pytest
from designs import GOOD, blocks, diamond, made
from flows import flow, single_pins, strip

from constraints.design import Design
from constraints.flow import ROW, flow_of
from constraints.lattice import neighbour_table
from constraints.layout import Layout, lay
from constraints.piece import BOTTOM_QUARTER, LEFT_QUARTER, RIGHT_QUARTER, TOP_QUARTER, Piece
from constraints.working.habits import CORNER, HORIZONTAL, Habits
from constraints.working.order import work_order
from constraints.working.work import work


def ground_of_1886() -> Piece:
    """Rows of four and five pinholes; the five pins above them on which the pairs hang are left out."""
    whole = strip(9, 14)
    kept = np.flatnonzero(whole.pinholes[:, 1] > 0)
    new = np.append(np.cumsum(whole.pinholes[:, 1] > 0) - 1, -1)
    pinholes = whole.pinholes[kept]
    return replace(
        whole,
        pinholes=pinholes,
        neighbours=neighbour_table(pinholes),
        depth=whole.depth[kept],
        zone=whole.zone[kept],
        edge=whole.edge[kept],
        edge_next=new[whole.edge_next[kept]],
        free=whole.free[kept],
        fan=whole.fan[kept],
    )


def test_plain_ground_is_worked_in_the_diagonals_of_the_handbook() -> None:
    piece = ground_of_1886()
    nothing = np.full(len(piece), -1)
    layout = Layout(made(1), piece, nothing, (), nothing >= 0)
    order = work_order(layout, flow_of(piece, single_pins(piece)))
    places = [tuple(piece.pinholes[node].tolist()) for node in order.nodes]
    diagonals = [[(c - i, r + i) for i in range(c + 1)] for c, r in ((1, 1), (3, 1), (5, 1), (7, 1), (8, 2))]
    assert [len(each) for each in diagonals] == [2, 4, 6, 8, 9]
    assert places[:29] == [place for each in diagonals for place in each]


@pytest.mark.parametrize("design", GOOD.values(), ids=GOOD.keys())
def test_nothing_is_worked_before_what_it_waits_for(design: Design) -> None:
    found = flow(design)
    order = work_order(lay(design), found)
    at = {node: number for number, node in enumerate(order.nodes)}
    assert sorted(at) == list(range(len(found.kind)))
    for tail, head in found.arcs[(found.arcs >= 0).all(axis=1)].tolist():
        assert at[tail] < at[head]


def test_a_diamond_is_worked_in_one_go() -> None:
    design = made(12, *blocks("cloth", diamond((0, -11), 4)))
    found = flow(design)
    rows = [number for number, node in enumerate(work_order(lay(design), found).nodes) if found.kind[node] == ROW]
    assert rows == list(range(rows[0], rows[0] + 7))


def test_changes_of_place_are_the_leaps_between_diagonals() -> None:
    piece = ground_of_1886()
    nothing = np.full(len(piece), -1)
    order = work_order(Layout(made(1), piece, nothing, (), nothing >= 0), flow_of(piece, single_pins(piece)))
    # D's five diagonals, then one from each of the five pins left at the right edge: nine leaps between ten.
    assert order.changes == 9


@pytest.mark.parametrize("name", ["plain round", "ring of diamonds", "trail and spiders", "doubled", "reversed print"])
@pytest.mark.parametrize("start_line", [CORNER, HORIZONTAL])
def test_the_pillow_is_turned_when_a_quarter_is_done_and_not_before(name: str, start_line: str) -> None:
    # Jo Edkins, teaching pages on Torchon lace: mats worked as four triangular quarters.
    done = work(GOOD[name], Habits(start_line=start_line))
    zone = dict(zip(done.flow.node.tolist(), done.layout.piece.zone.tolist(), strict=True))
    quarters = [quarter for quarter, _ in groupby(done.order.nodes, key=zone.__getitem__)]
    # A horizontal start leaves the rest of the first quarter to the end.
    assert quarters == [LEFT_QUARTER, BOTTOM_QUARTER, RIGHT_QUARTER, TOP_QUARTER] + [LEFT_QUARTER] * (
        start_line == HORIZONTAL
    )

"""Pair flow against handbooks: Dillmont 1886 and the teaching pages of Jo Edkins."""

from __future__ import annotations

import numpy as np
import pytest
from designs import blocks, diamond, made, roses, spiders
from flows import flow, single_pins, strip

from constraints.check import check
from constraints.design import FieldFilling
from constraints.flow import OUTSIDE, ROW, UNIT, Flow, flow_of
from constraints.lattice import STEPS
from constraints.piece import Piece

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
    starts = piece.pinholes[run.between[run.arcs[:, 0] == OUTSIDE, 1]]
    assert sorted(map(tuple, starts.tolist())) == sorted([(c, 0) for c in (0, 2, 4, 6, 8)] * 2)
    taken = pairs_at_pins(piece, run)
    diagonals = [(1, 2), (3, 4), (5, 6), (7, 8), (8, 9)]  # (first column, pins): the last begins at the edge
    tops = zip((1, 1, 1, 1, 2), diagonals, strict=True)
    pins = [(column - k, row + k) for row, (column, count) in tops for k in range(count)]
    printed = {1: {2, 3}, 2: {2, 1}, 3: {5, 4}, 4: {4, 3}, 7: {6, 7}, 13: {8, 9}, 21: {9, 10}}
    assert {number: taken[pins[number - 1]] for number in printed} == printed


def pairs_at_pins(piece: Piece, run: Flow) -> dict[tuple[int, int], set[int]]:
    """Work pin by pin; the places (from the left, from 1) of the two pairs that each takes."""
    hung = run.between[run.arcs[:, 0] == OUTSIDE, 1].tolist()
    line: list[object] = [("to", node) for node in sorted(hung, key=lambda n: piece.pinholes[n].tolist())]
    found = {}
    for pin in run.order.tolist():
        places = [k for k, pair in enumerate(line) if pair == ("to", pin)]
        assert len(places) == 2
        assert places[1] == places[0] + 1
        x, y = piece.pinholes[pin].tolist()
        found[x, y] = {k + 1 for k in places}
        ahead = run.between[run.between[:, 0] == pin, 1].tolist()
        ahead.sort(key=lambda n: x if n < 0 else piece.pinholes[n, 0])
        line[places[0] : places[1] + 1] = [("to", node) if node >= 0 else "done" for node in ahead]
    return found


@pytest.mark.parametrize("columns", [2, 3, 4, 9])
def test_a_strip_takes_a_pair_more_than_it_has_columns(columns: int) -> None:
    """Jo Edkins, teaching pages on Torchon model: two footsides of one passive each and one column of ground
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
    design = made(16, *blocks("cloth", shape))
    assert check(design) == []
    run = flow(design)
    piece = design.piece()
    inside = np.append([tuple(p) in shape for p in piece.pinholes.tolist()], False)
    entering = run.between[~inside[run.between[:, 0]] & inside[run.between[:, 1]]]
    leaving = run.between[inside[run.between[:, 0]] & ~inside[run.between[:, 1]]]
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
def test_units_take_and_give_the_published_pairs(unit: FieldFilling, pairs: int, pinholes: int, worked: str) -> None:
    run = flow(made(14, unit, worked=worked))
    [node] = np.flatnonzero(run.kind == UNIT)
    assert (run.pairs_in[node], run.pairs_out[node]) == (pairs, pairs)
    assert (run.node == node).sum() == pinholes

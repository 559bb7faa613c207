"""Shapes of blocks: one worker, widths, ground; counted against published sequences and said again plainly.

The rules themselves are common practice, no source.
"""

from __future__ import annotations

from itertools import combinations, pairwise, product
from math import comb

import numpy as np
import pytest
from designs import bar, blocks, border_trail, diamond, made

from constraints.check import RULES, check
from constraints.check.limits import Limits
from constraints.check.shape import MERGE, NONE, SPLIT, notches
from constraints.design import Block
from constraints.forms import Square
from constraints.layout import components, lay
from constraints.piece import Piece

Shape = frozenset[tuple[int, int]]


def mask(piece: Piece, shape: set[tuple[int, int]] | Shape) -> np.ndarray:
    inside = np.zeros(len(piece), dtype=np.bool_)
    inside[[piece.index[p] for p in shape]] = True
    return inside


def faults(piece: Piece, shape: set[tuple[int, int]] | Shape) -> int:
    return int((notches(piece, mask(piece, shape)) != NONE).sum())


def parts(shape: set[tuple[int, int]] | Shape) -> list[Shape]:
    return [frozenset(block.pinholes) for block in blocks("cloth", set(shape))]


def subsets(shape: set[tuple[int, int]]) -> list[Shape]:
    places = sorted(shape)
    return [frozenset(c) for size in range(1, len(places) + 1) for c in combinations(places, size)]


# --- published counts ------------------------------------------------------------------------------------


@pytest.mark.parametrize("pairs", [2, 3, 4, 5, 6])
def test_blocks_for_one_worker_are_the_parallelogram_polyominoes(pairs: int) -> None:
    """Parallelogram polyominoes of semiperimeter n + 1 by their box: the triangle of Narayana, OEIS A001263,
    T(n, k) = C(n, k) C(n, k - 1) / n; together the Catalan numbers, OEIS A000108."""
    n = pairs - 1
    narayana = [comb(n, k) * comb(n, k - 1) // n for k in range(1, n + 1)]
    piece = Square(14).piece("round")
    found = []
    for right in range(1, pairs):
        box = bar((-9, -2), right, pairs - right)
        fitting = [s for s in subsets(box) if _fills(s, right, pairs - right) and len(parts(s)) == 1]
        found.append(sum(faults(piece, s) == 0 for s in fitting))
    assert found == narayana
    assert sum(found) == {1: 1, 2: 2, 3: 5, 4: 14, 5: 42}[n]


def _fills(shape: Shape, right: int, left: int) -> bool:
    across = {(x + y) // 2 for x, y in shape}, {(y - x) // 2 for x, y in shape}
    return len(across[0]) == right and len(across[1]) == left


# --- said again by rows ----------------------------------------------------------------------------------


def one_worker_by_rows(shape: Shape) -> bool:
    """Worked downwards: every row of every part is one run, and both its ends move by one each row.

    The first and the last row are one pinhole: a parallelogram polyomino on its corner has no flat end.
    """
    for part in parts(shape):
        rows: dict[int, list[int]] = {}
        for x, y in part:
            rows.setdefault(y, []).append(x)
        if any(max(row) - min(row) != 2 * (len(row) - 1) for row in rows.values()):
            return False
        if len(rows[min(rows)]) > 1 or len(rows[max(rows)]) > 1:
            return False
        for y in sorted(rows)[1:]:
            if abs(min(rows[y]) - min(rows[y - 1])) != 1 or abs(max(rows[y]) - max(rows[y - 1])) != 1:
                return False
    return True


def diamonds_of(pinholes: set[tuple[int, int]], side: int) -> list[Shape]:
    every = (frozenset(diamond(top, side)) for top in pinholes)
    return [d for d in every if d <= pinholes]


def test_all_colourings_of_a_small_square_are_judged_as_the_rules_say() -> None:
    """Half-size 3, worked across: all 4096 sets of places inside the edge; four rules in plain sets."""
    pinholes = {(x, y) for x, y in product(range(-3, 4), repeat=2) if (x + y) % 2}
    inner = {p for p in pinholes if max(map(abs, p)) < 3}
    twos = diamonds_of(pinholes, 2)
    limits = Limits(narrowest=2, widest=1, narrowest_ground=2, splits=0)
    rules = [RULES[name] for name in ("one worker", "narrowest", "widest", "narrowest ground")]
    verdicts = set()
    for shape in [frozenset(), *subsets(inner)]:
        bare = pinholes - shape
        layout = lay(made(3, Block("cloth", tuple(shape)), worked="across"))
        found = tuple(not list(rule(layout, limits)) for rule in rules)
        assert found == (
            one_worker_by_rows(shape),
            shape == frozenset().union(*(d for d in twos if d <= shape)),
            not any(d <= shape for d in twos),
            bare & inner <= frozenset().union(*(d for d in twos if d <= bare)),
        ), sorted(shape)
        verdicts.add(found)
    assert len(verdicts) > 8


# --- at the corner lines ---------------------------------------------------------------------------------


def rows_in_turn(piece: Piece, part: Shape) -> bool:
    """Whether a worker can go through a part row by row without a second one, quarter after quarter.

    Rows are runs across the working direction, cut at the corner lines. One worker: the runs follow one
    another in a single line, each joined to the next by a pair; within a quarter both ends of a run move by
    one, from a first run of one pinhole to a last. (A trail turns at the corner line between such runs.)
    """
    runs: dict[tuple[int, int], list[tuple[int, int]]] = {}
    for x, y in part:
        zone = int(piece.zone[piece.index[x, y]])
        dx, dy = piece.directions[zone].tolist()
        runs.setdefault((zone, x * dx + y * dy), []).append((x, y))
    for run in runs.values():
        spread = max(max(p) - min(p) for p in zip(*run, strict=True))
        if spread != 2 * (len(run) - 1):
            return False
    # Left quarter downwards, then bottom quarter to the right (piece zones 0 and 1).
    order = sorted(runs)
    for zone in {key[0] for key in runs}:
        here = [key for key in order if key[0] == zone]
        if len(runs[here[0]]) > 1 or len(runs[here[-1]]) > 1:
            return False
    for first, second in pairwise(order):
        if not any(_passes(piece, p, q) for p in runs[first] for q in runs[second]):
            return False
        if first[0] == second[0]:
            axis = 0 if first[0] == 0 else 1
            ends = [[pick(p[axis] for p in runs[key]) for pick in (min, max)] for key in (first, second)]
            if any(abs(a - b) != 1 for a, b in zip(*ends, strict=True)):
                return False
    return True


def _passes(piece: Piece, p: tuple[int, int], q: tuple[int, int]) -> bool:
    dx, dy = piece.directions[piece.zone[piece.index[p]]].tolist()
    step = (q[0] - p[0], q[1] - p[1])
    return abs(step[0]) == abs(step[1]) == 1 and step[0] * dx + step[1] * dy == 1


@pytest.mark.parametrize(
    "top",
    [(-9, -4), (-8, 5), (-7, 6), (-9, 6), (-9, 8), (-8, 7), (-6, 7), (0, 7)],
    ids=str,
)
def test_one_worker_shapes_at_a_corner_line_are_those_worked_row_by_row(top: tuple[int, int]) -> None:
    piece = Square(14).piece("round")
    judged = {True: 0, False: 0}
    for shape in subsets(diamond(top, 3)):
        if len(parts(shape)) == 1:
            good = faults(piece, shape) == 0
            assert good == rows_in_turn(piece, shape), sorted(shape)
            judged[good] += 1
    assert min(judged.values()) > 20


def test_a_trail_turns_a_corner_with_one_worker_and_an_arm_takes_another() -> None:
    piece = Square(16).piece("round")
    corner = diamond((-8, 5), 4)
    without = {
        "top": diamond((-8, 5), 2),
        "right": diamond((-6, 7), 2),
        "left": diamond((-10, 7), 2),
        "bottom": diamond((-8, 9), 2),
    }
    found = {
        name: sorted(set(notches(piece, mask(piece, corner - part)).tolist()) - {NONE})
        for name, part in without.items()
    }
    assert found == {"top": [], "right": [], "left": [MERGE], "bottom": [SPLIT]}


def test_closed_trails_need_one_worker() -> None:
    for half_size, width in product((10, 13), (3, 5)):
        assert faults(Square(half_size).piece("round"), border_trail(half_size, 2, width)) == 0


def test_a_closed_trail_worked_across_splits_once_and_merges_once() -> None:
    piece = Square(12).piece("across")
    found = notches(piece, mask(piece, diamond((0, -9), 9) - diamond((0, -3), 3)))
    assert [(found == kind).sum() for kind in (SPLIT, MERGE)] == [1, 1]


# --- widths ----------------------------------------------------------------------------------------------


@pytest.mark.parametrize("side", [2, 3, 4])
def test_widths_are_those_of_the_narrowest_diamond_that_covers_and_the_widest_that_fits(side: int) -> None:
    design = made(16, *blocks("cloth", bar((-9, -4), side, 5)), brief={"narrowest": side, "widest": side})
    assert check(design) == []
    for changed in ({"narrowest": side + 1}, {"widest": side - 1, "narrowest": 1}):
        [finding] = check(made(16, *blocks("cloth", bar((-9, -4), side, 5)), brief=changed))
        assert len(finding.pinholes) == 5 * side


def test_absurd_widths_are_judged_at_once() -> None:
    design = made(5, Block("cloth", ((0, 1),)), brief={"narrowest": 10**9, "widest": 10**9})
    assert "narrowest" in {finding.rule for finding in check(design)}


# --- components ------------------------------------------------------------------------------------------


def test_components_are_those_of_networkx() -> None:
    networkx = pytest.importorskip("networkx")
    piece = Square(12).piece("round")
    random = np.random.default_rng(5)
    for share in (0.3, 0.6, 0.9):
        group = np.where(random.random(len(piece)) < share, random.integers(0, 2, len(piece)), -1)
        graph = networkx.Graph()
        graph.add_nodes_from(np.flatnonzero(group >= 0).tolist())
        for i, j in zip(*np.nonzero(piece.neighbours >= 0), strict=True):
            other = piece.neighbours[i, j]
            if group[i] == group[other] >= 0:
                graph.add_edge(int(i), int(other))
        expected = np.full(len(piece), -1)
        for part in networkx.connected_components(graph):
            expected[list(part)] = min(part)
        assert np.array_equal(components(piece.neighbours, group), expected)

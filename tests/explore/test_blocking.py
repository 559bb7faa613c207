"""The blocks that show a stamp best: beside every layout there is, beside another solver, and never worse for more.

Of small windows all layouts are gone through; of larger ones a weighted MaxSAT solver (RC2: Ignatiev, Morgado and
Marques-Silva, "RC2: an efficient MaxSAT solver", 2019, in python-sat) finds the best of the same clauses.
"""

import itertools
from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
from pysat.examples.rc2 import RC2
from pysat.formula import WCNF
from shapely.geometry import MultiPolygon, Point

from constraints import rulebook
from constraints.forms import Square
from constraints.formula import FALSE, TRUE
from constraints.lattice import BoolArray, IntArray
from constraints.piece import ACROSS, ROUND, Piece
from constraints.ruleset import Rules
from constraints.stamp import outlines, shape_of
from constraints.stitches import CLOTH
from constraints.targets import Target, target
from constraints.variables import Model
from explore.reading import built_in, read
from explore.search.laying.blocking import best_blocking, blockings
from explore.search.laying.hulls import best_run, hulls
from explore.search.laying.noticed import FULL, noticed
from explore.search.laying.simplified import simplified

ALONE = replace(Rules(), stitches=(CLOTH,), solid=(0.0, 1.0))


def laid(shape: MultiPolygon, splits: int = 0) -> tuple[Model, Target, IntArray]:
    reach = max(abs(value) for value in shape.bounds)
    piece = Square(int(np.ceil(reach)) + ALONE.margin).piece(ROUND)
    rules = replace(ALONE, splits=splits)
    aim = target(piece, shape)
    return rulebook.build(piece, rules, rulebook.BLOCK_RULES), aim, noticed(piece, aim, simplified(shape, rules))


def built(name: str, size: float, splits: int = 0) -> tuple[Model, Target, IntArray]:
    return laid(shape_of(outlines(read(built_in(name)).placed(size, 0.0, (0.0, 0.0)))), splits)


def kept_by_hand(piece: Piece, blocks: BoolArray) -> BoolArray:
    """(k,) which layouts, (k, n), keep the rules on shape and width, written from the words of the rules."""
    holes = piece.holes
    zone = piece.zone[holes]
    whole = (zone == zone[:, :1]).all(axis=1)
    good = np.ones(len(blocks), dtype=bool)
    for hole in holes[whole]:
        ahead = piece.pinholes[hole] @ piece.directions[piece.zone[hole[0]]]
        for missing in (hole[ahead.argmin()], hole[ahead.argmax()]):
            others = hole[hole != missing]
            good &= ~(blocks[:, others].all(axis=1) & ~blocks[:, missing])
    for state, squares in ((True, holes[whole]), (False, holes)):
        covered = np.zeros_like(blocks)
        for square in squares:
            covered[:, square] |= (blocks[:, square] == state).all(axis=1)[:, None]
        told = (blocks == state) & ((piece.depth >= 1) | state)
        good &= (covered | ~told).all(axis=1)
    return good


@pytest.mark.parametrize("seed", range(6))
def test_of_every_layout_on_a_small_piece_none_is_worth_more(seed: int) -> None:
    """All ways to fill the thirteen pinholes that keep a margin of three, whatever each is worth."""
    piece = Square(5).piece(ACROSS)
    model = rulebook.build(piece, replace(ALONE, margin=3), rulebook.BLOCK_RULES)
    aim = target(piece, MultiPolygon([Point(0, 0).buffer(4)]))
    worth = np.random.default_rng(seed).integers(-90, 140, size=len(piece))
    free = np.flatnonzero(model.block > 0)
    assert len(free) in (12, 13)
    blocks = np.zeros((2 ** len(free), len(piece)), dtype=bool)
    blocks[:, free] = (np.arange(2 ** len(free))[:, None] >> np.arange(len(free))) & 1
    most = int((blocks[kept_by_hand(piece, blocks)] @ worth).max())
    found = best_blocking(model, aim, worth, 2.0)
    assert found is not None
    assert most > 0
    assert found.worth == most <= found.most


@pytest.mark.parametrize(("name", "splits"), [("tulip", 0), ("leaf", 0), ("bee", 2)])
def test_another_solver_finds_nothing_worth_more(name: str, splits: int) -> None:
    model, aim, worth = built(name, 7.0, splits)
    found = best_blocking(model, aim, worth, 2.0)
    assert found is not None
    most = most_by_maxsat(model, aim, worth)
    assert 0.99 * most <= found.worth <= most <= found.most


def most_by_maxsat(model: Model, aim: Target, worth: IntArray) -> int:
    clauses = WCNF()
    off = ~aim.touched(len(model.piece)) & (model.block > 0)
    for literal in model.block[off]:
        clauses.append([-int(literal) - 1])
    for table in model.formula.clauses:
        for row in table.rows.tolist():
            clauses.append([each + 1 if each >= 0 else -(~each + 1) for each in row if each != FALSE])
    clauses.append([TRUE + 1])
    for each in model.formula.linears:
        clauses.extend(at_most(each.variables.tolist(), each.weights.tolist(), each.most, model.formula.size))
    gain = 0
    for literal, own in zip(model.block.tolist(), worth.tolist(), strict=True):
        if literal > 0 and own:
            gain += max(own, 0)
            clauses.append([(literal + 1) * (1 if own > 0 else -1)], weight=abs(own))
    with RC2(clauses) as solver:
        assert solver.compute() is not None
        return gain - int(solver.cost)


def at_most(variables: list[int], weights: list[int], most: int, size: int) -> list[list[int]]:
    """Clauses of a sum by a table of what is reached after each variable."""
    assert set(weights) == {1}
    reached = [[size + 2 + i * (most + 1) + k for k in range(most + 1)] for i in range(len(variables))]
    clauses = []
    for i, variable in enumerate(variables):
        clauses.append([-(variable + 1), reached[i][0]])
        for k in range(most + 1):
            if i:
                clauses.append([-reached[i - 1][k], reached[i][k]])
                further = [reached[i][k + 1]] if k < most else []
                clauses.append([-(variable + 1), -reached[i - 1][k], *further])
    return clauses


@pytest.mark.parametrize("name", ["snail", "watering-can", "bee"])
def test_a_further_split_never_makes_a_print_worth_less(name: str) -> None:
    """Than without any; than with fewer but for the hundredth part within which an answer counts as the best."""
    by_splits = []
    for splits in range(4):
        found = best_blocking(*built(name, 10.0, splits), 0.2)
        assert found is not None
        by_splits.append(found.worth)
    assert all(later >= 0.99 * earlier for earlier, later in itertools.pairwise(by_splits))
    assert min(by_splits) == by_splits[0] < by_splits[-1]
    plain, split = blockings(*built(name, 10.0, 3), 0.2)
    assert [plain.worth, split.worth] == [by_splits[0], by_splits[-1]]


@pytest.mark.parametrize("name", ["snail", "tulip"])
def test_more_effort_never_makes_a_print_worth_less(name: str) -> None:
    """But for the hundredth within which an answer counts as the best."""
    found = [best_blocking(*built(name, 14.0), effort) for effort in (0.1, 0.2, 0.4)]
    worth = [0 if each is None else each.worth for each in found]
    assert all(later >= 0.99 * earlier > 0 for earlier, later in itertools.pairwise(worth))


@pytest.mark.parametrize("name", ["snail", "bee"])
def test_a_print_too_large_for_one_solve_comes_near_the_most_that_a_long_one_proves(name: str) -> None:
    """22 pitches with six splits, in a quarter of a second: without windows it is a tenth behind."""
    quick, long = (best_blocking(*built(name, 22.0, 6), effort) for effort in (0.1, 1.0))
    assert quick is not None
    assert long is not None
    assert quick.worth >= 0.93 * long.most > 0


def test_the_least_match_is_reached_where_the_best_for_the_eye_falls_short_of_it() -> None:
    model, aim, worth = built("snail", 10.0)
    free = best_blocking(model, aim, worth, 0.3)
    assert free is not None
    least = free.match + 0.005
    held = best_blocking(model, aim, worth, 0.3, least=least)
    assert held is not None
    assert held.match >= least
    assert held.worth <= free.most


@pytest.mark.parametrize("seed", range(6))
def test_the_best_run_is_worth_as_much_as_the_best_of_all_sets_of_places(seed: int) -> None:
    """Every set of places of a table of 4 by 4 gone through."""
    worth = np.random.default_rng(seed).integers(-9, 10, size=(4, 4)).astype(float)
    sets = ((np.arange(2**16)[:, None] >> np.arange(16)) & 1).astype(bool).reshape(-1, 4, 4)
    best = max((float(worth[each].sum()) for each in sets if is_run(each)), default=0.0)
    found = best_run(worth)
    reached = 0.0 if found is None else sum(worth[row, first : last + 1].sum() for row, first, last in found.rows)
    assert reached == pytest.approx(max(best, 0.0))


def is_run(places: BoolArray) -> bool:
    rows = [np.flatnonzero(row).tolist() for row in places]
    used = [number for number, row in enumerate(rows) if row]
    if len(used) < 2 or used != list(range(used[0], used[-1] + 1)):
        return False
    ends = [(rows[number][0], rows[number][-1]) for number in used]
    if any(len(rows[number]) != last - first + 1 for number, (first, last) in zip(used, ends, strict=True)):
        return False
    steps = list(pairwise(ends))
    if not all(a[0] <= b[0] and a[1] <= b[1] and a[1] - b[0] >= 1 for a, b in steps):
        return False
    return ends[0][0] == ends[1][0] and ends[-1][1] == ends[-2][1]


def test_blocks_laid_one_by_one_keep_the_rules_where_they_lie_clear_of_each_other() -> None:
    shape = shape_of(outlines(MultiPolygon([Point(-9, 0).buffer(5), Point(9, 0).buffer(5)])))
    model, aim, worth = laid(shape)
    block = hulls(model.piece, worth, aim.touched(len(model.piece)) & (model.block > 0), FULL)
    values = np.zeros(model.formula.size, dtype=bool)
    values[model.block[block]] = True
    assert model.formula.broken(model.formula.complete(values)) == []
    best = best_blocking(model, aim, worth, 1.0)
    assert best is not None
    assert int(worth[block].sum()) >= 0.9 * best.worth

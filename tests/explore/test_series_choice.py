"""Order and choice: a series reads along the wall, holds what it states, and is never less different than others."""

from __future__ import annotations

import json
from collections import Counter
from dataclasses import replace
from functools import cache
from itertools import combinations, pairwise
from typing import Any

import numpy as np
import pytest
from walls import Shape, contrast, diamond, four, grid, hand_made, ring, worked

from constraints.design import Design
from constraints.design_file import to_text
from constraints.lattice import Matrix
from constraints.symmetry import SYMMETRIES, matrices
from explore.editing.series.contrast import stated
from explore.editing.series.family import Family
from explore.editing.series.making import choose
from explore.editing.series.order import LOOSENING, ORDERS, even, every, filling, ladders, ordered_by, solid, standing
from explore.editing.series.pool import Member
from explore.editing.series.reading import WallReading, reading

FAMILY = Family("stamp", "nothing in particular", {})


# Those that a square may have; of strips there are more.
SQUARES = [name for name in LOOSENING if name in SYMMETRIES]


def random_squares(count: int, sizes: tuple[int, ...] = (9,), seed: int = 1) -> list[Design]:
    """Squares with a few blocks and figures here and there."""
    rng = np.random.default_rng(seed)
    found = []
    for number in range(1, count + 1):
        n = int(rng.choice(sizes))
        places = [(int(x), int(y), int(s)) for x, y, s in rng.integers((0, 0, 1), (n - 2, n - 2, 5), (3, 3))]
        blocks = [("cloth" if i % 2 else "half", four(x, y, s)) for i, (x, y, s) in enumerate(places)]
        if rng.random() < 0.4:
            blocks.append(("cloth", ring(n - 2, n - 3)))
        spots = _free_spots(n, blocks, rng.integers(-n + 3, n - 3, (int(rng.integers(0, 9)), 2)).tolist())
        half = len(spots) // 2 if number % 2 else 0
        symmetry = str(rng.choice(SQUARES))
        design = hand_made(n, blocks, number=number, symmetry=symmetry, roses=spots[half:], spiders=spots[:half])
        found.append(design)
    return found


def _free_spots(n: int, blocks: list[tuple[str, Shape]], drawn: list[list[int]]) -> list[tuple[int, int]]:
    """The places drawn where a figure of four pinholes meets no block and no other figure."""
    taken = {(x, y) for x, y in grid(n) if any(shape(x, y) for _, shape in blocks)}
    kept = []
    for x, y in drawn:
        around = {(x + 1, y), (x - 1, y), (x, y + 1), (x, y - 1)}
        if (x + y) % 2 == 0 and not around & taken:
            taken |= around
            kept.append((x, y))
    return kept


def members(designs: list[Design], chosen: int = 1) -> list[Member]:
    return [Member(design, design.number if i < chosen else 0) for i, design in enumerate(designs)]


@pytest.mark.parametrize("order", ORDERS)
@pytest.mark.parametrize("seed", [1, 2])
def test_the_order_can_be_read_from_the_files(order: str, seed: int) -> None:
    pool = random_squares(24, (7, 8, 9, 10) if order == "pairs" else (9,), seed)
    series = choose(members(pool), 1, FAMILY, order, 7, 1)
    assert [design.number for design in series.designs] == [1, 2, 3, 4, 5, 6, 7]
    if order == "pairs":
        read = [float(design.half_size + 2) for design in series.designs]
    elif order == "density":
        read = [sum(n in ("cloth", "half") for n in worked(s).values()) / len(worked(s)) for s in series.designs]
    elif order == "symmetry":
        read = [float(-len(SYMMETRIES[_kept(design)])) for design in series.designs]
    else:
        names = ("plain ground", "rose", "spider", "double-ground", "mixed")
        read = [float(names.index(_seen(design))) for design in series.designs]
    assert read == sorted(read)


def _kept(design: Design) -> str:
    """The most turns and reflections that leave what the file lists as it is, the first in the order of a wall."""
    figures = ("rose", "spider")
    listed = {(name, *point) for point, name in worked(design).items() if not name.startswith(figures)}
    data = json.loads(to_text(design))
    listed |= {(str(f.get("legs")), *p) for f in data["fillings"] for p in f.get("holes", f.get("centres", []))}

    def moved(matrix: Matrix) -> set[tuple[str, int, int]]:
        (a, b), (c, d) = matrix
        return {(words, a * x + b * y, c * x + d * y) for words, x, y in listed}

    return next(name for name in SQUARES if all(moved(matrix) == listed for matrix in SYMMETRIES[name]))


def _seen(design: Design) -> str:
    """The filling that a square shows, counted in its file: one that has four fifths of what is filled."""
    names = [name.split()[0] for name in worked(design).values()]
    count = Counter(name for name in names if name in ("rose", "spider", "double"))
    total = sum(count.values())
    if total < 0.02 * len(worked(design)):
        return "plain ground"
    name, most = count.most_common(1)[0]
    return {"double": "double-ground"}.get(name, name) if most >= 0.8 * total else "mixed"


def test_pairs_rise_strictly_where_there_are_as_many_sizes() -> None:
    pool = random_squares(40, tuple(range(5, 14)))
    series = choose(members(pool), 1, FAMILY, "pairs", 6, 1)
    pairs = [design.pairs for design in series.designs]
    assert all(a < b for a, b in pairwise(pairs))


@cache
def pool_of_forty() -> tuple[list[Design], dict[tuple[int, int], float]]:
    """A pool and the difference of every two, from the files alone, pinhole by pinhole."""
    pool = random_squares(40, (7,), seed=3)
    return pool, {(i, j): contrast(pool[i], pool[j]) for i, j in combinations(range(len(pool)), 2)}


@pytest.mark.parametrize("order", ORDERS)
def test_the_stated_difference_holds_and_no_rival_is_more_different(order: str) -> None:
    pool, table = pool_of_forty()
    chosen, count = 2, 9
    series = choose(members(pool, chosen), chosen, FAMILY, order, count, 1)
    found = [contrast(a, b) for a, b in combinations(series.designs, 2)]
    assert stated(series.least) <= min(found) < stated(series.least) + 1e-4
    first, second = series.alike
    assert contrast(series.designs[first - 1], series.designs[second - 1]) == pytest.approx(min(found))

    def least(numbers: list[int]) -> float:
        return min(table[min(a, b), max(a, b)] for a, b in combinations(numbers, 2) if max(a, b) >= chosen)

    rng = np.random.default_rng(7)
    others = range(chosen, len(pool))
    rivals = [[0, 1, *(int(n) for n in rng.choice(others, count - chosen, replace=False))] for _ in range(300)]
    greedy = [0, 1]
    while len(greedy) < count:
        greedy.append(max(others, key=lambda n: min(table[min(n, m), max(n, m)] if n != m else -1.0 for m in greedy)))
    own = [next(i for i, p in enumerate(pool) if replace(p, number=0) == replace(s, number=0)) for s in series.designs]
    assert least(own) >= max(map(least, [greedy, *rivals])) - 1e-12
    assert {0, 1} <= set(own)
    assert sorted(series.chosen) == sorted(own.index(n) + 1 for n in (0, 1))
    assert [series.sources[n - 1] for n in series.chosen] == [own[n - 1] + 1 for n in series.chosen]


def open_to_dense(*sides: int, half_size: int = 9, **others: Any) -> list[Design]:
    return [hand_made(half_size, [("cloth", diamond(0, 0, side))], **others) for side in sides]


GROWING = open_to_dense(2, 4, 6)
PLAIN = [hand_made(9, symmetry="none"), hand_made(9, symmetry="full")]
TURNED = hand_made(9, roses=[(2, 4), (-4, 2), (-2, -4), (4, -2)], symmetry="none")
ASKEW = hand_made(9, roses=[(2, 4)], symmetry="none")


@pytest.mark.parametrize(
    ("order", "wall", "short", "words"),
    [
        ("pairs", GROWING, "all of 11 pairs", "all of 11 pairs, from open to dense"),
        ("pairs", PLAIN, "all of 11 pairs", "all of 11 pairs"),
        ("pairs", [*PLAIN, hand_made(12)], "pairs rising", "pairs rising from 11 to 14, 2 different numbers of pairs"),
        ("pairs", [hand_made(7), hand_made(9)], "pairs rising", "pairs rising from 9 to 11, each has more than the one "
         "before"),
        ("density", GROWING, "from open to dense", "from open to dense, 2.2 % to 20 % in blocks, each 6.7 to 11.1 "
         "points more than the one before"),  # 4, 16 and 36 of 180 pinholes
        ("density", GROWING[:2], "from open to dense", "from open to dense, 2.2 % to 8.9 % in blocks, each 6.7 points "
         "more than the one before"),
        ("density", PLAIN, "all with 0 % in blocks", "all with 0 % in blocks"),
        ("symmetry", PLAIN, "all with full symmetry", "all with full symmetry"),
        ("symmetry", [ASKEW, ASKEW], "all with no symmetry", "all with no symmetry"),
        ("symmetry", [*PLAIN, TURNED, ASKEW], "symmetry loosening", "symmetry loosening: full (2), quarter-turn, none"),
        ("filling", [*PLAIN, TURNED], "one filling after another", "one filling after another: plain ground (2), rose "
         "ground"),
        ("filling", [TURNED, TURNED], "all with rose ground", "all with rose ground"),
    ],
)  # fmt: skip
def test_a_wall_reads_as_it_hangs(order: str, wall: list[Design], short: str, words: str) -> None:
    assert reading(order, wall) == WallReading(short, words)


def test_an_order_says_what_hangs_and_not_what_was_asked() -> None:
    pool = members(random_squares(9), 1)
    assert choose(pool, 1, FAMILY, "pairs", 9, 1).reads.short == "all of 11 pairs"
    rising = choose(members(random_squares(30, (7, 8, 9))), 1, FAMILY, "pairs", 9, 1)
    assert rising.reads.words == "pairs rising from 9 to 11, 3 different numbers of pairs"


@pytest.mark.parametrize("order", ORDERS)
def test_no_choice_is_more_different_than_the_most_that_is_told(order: str) -> None:
    """A local search of its own, by swaps from many chance choices, stays below; a choice that reaches it is known."""
    pool, table = pool_of_forty()
    series = choose(members(pool, 1), 1, FAMILY, order, 9, 1)
    assert series.at_most is not None
    assert series.least <= series.at_most + 1e-12

    def least(numbers: set[int]) -> float:
        return min(table[pair] for pair in combinations(sorted(numbers), 2))

    rng = np.random.default_rng(11)
    for _ in range(6):
        held = {0, *(int(each) for each in rng.choice(range(1, 40), 8, replace=False))}
        while True:
            swaps = [(held - {out}) | {into} for out in held - {0} for into in {*range(40)} - held]
            better = max(swaps, key=least)
            if least(better) <= least(held):
                break
            held = better
        assert least(held) <= series.at_most + 1e-12


def test_the_choice_is_the_same_again() -> None:
    pool = members(random_squares(20))
    first, second = (choose(pool, 1, FAMILY, "density", 5, 1) for _ in range(2))
    assert first.designs == second.designs


def test_all_of_a_pool_may_hang() -> None:
    pool = random_squares(3)
    series = choose(members(pool, 3), 3, FAMILY, "density", 3, 1)
    assert sorted(series.sources) == [1, 2, 3]


def test_rungs_are_filled_like_a_row_of_glasses() -> None:
    rungs = np.array([0] * 5 + [1] * 1 + [2] * 5)
    bounds = even(rungs, [0], 9)
    assert (bounds.least.tolist(), bounds.most.tolist()) == ([3, 1, 3], [4, 1, 4])
    held = even(rungs, [0, 1, 2, 3], 6)  # four given on one rung
    assert (held.least.tolist(), held.most.tolist()) == ([4, 0, 0], [4, 1, 1])
    loose = even(rungs, [0], 9, slack=1)
    assert (loose.least.tolist(), loose.most.tolist()) == ([2, 1, 2], [5, 1, 5])
    assert every(rungs, 9).least.tolist() == [1, 1, 1]
    assert every(rungs, 2).least.tolist() == [0, 0, 0]


@pytest.mark.parametrize("order", ORDERS)
def test_every_way_of_spreading_can_be_kept(order: str) -> None:
    pool = random_squares(24, (7, 8, 9))
    for bounds in ladders(order, pool, [0], 9):
        assert len(bounds.of) == len(pool)
        assert bounds.least.sum() <= 9 <= bounds.most.sum()
        there = np.bincount(bounds.of, minlength=len(bounds.least))
        assert (bounds.least <= bounds.most).all()
        assert (bounds.least <= there).all()


def test_symmetries_loosen_from_most_to_least() -> None:
    sizes = [len(matrices(name)) for name in LOOSENING]
    assert sizes == sorted(sizes, reverse=True)
    assert (LOOSENING[0], LOOSENING[-1]) == ("full", "none")


@pytest.mark.parametrize(
    ("design", "name"),
    [
        (hand_made(9), "plain ground"),
        (hand_made(9, roses=[(0, 2), (2, 0)]), "rose"),
        (hand_made(9, spiders=[(0, 2), (2, 0)]), "spider"),
        (hand_made(9, double=[(1, 0), (0, 1), (2, 1), (1, 2)]), "double-ground"),
        (hand_made(9, roses=[(0, 2)], spiders=[(4, 0)]), "mixed"),
        (hand_made(20, roses=[(0, 2)]), "plain ground"),
    ],
)
def test_a_filling_is_named_if_it_has_most_of_the_filled_ground(design: Design, name: str) -> None:
    assert filling(design) == ordered_by("filling", design) == _seen(design) == name


def test_density_is_the_share_of_pinholes_in_blocks() -> None:
    design = hand_made(9, [("cloth", diamond(0, 0, 4))])
    assert solid(design) == 16 / (2 * 9 * 10)
    assert standing("density", design)[0] == solid(design)

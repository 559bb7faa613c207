"""Where two squares differ is what their places say, recomputed here from the listed places alone."""

from __future__ import annotations

import pytest
from designs import blocks, double, made, roses, spiders

from constraints.check import check
from constraints.design import Design
from constraints.difference import difference
from constraints.differing import TURNS, PinholeChange, differences, turned
from constraints.lattice import Matrix

EIGHT = list(TURNS)
# A lopsided square: every turn and reflection of it is another one.
HOOK = {(-2, -1), (-1, -2), (-1, 0), (0, -1), (0, 1), (1, 0)}


def lopsided(half_size: int = 8, stitch: str = "cloth", worked: str = "round") -> Design:
    return made(half_size, *blocks(stitch, HOOK), spiders({(-4, 2)}, 8), roses({(4, 2)}), worked=worked)


def told(design: Design) -> dict[tuple[int, int], str]:
    """How each pinhole is worked, from the lists of the square."""
    n = design.half_size
    found = {(x, y): "ground" for x in range(-n, n + 1) for y in range(-n, n + 1) if (x + y) % 2}
    for filling in design.fillings:
        for x, y in filling.places:
            if filling.kind != "double-ground":
                side = {"rose": 2, "spider-8": 2, "spider-12": 3, "spider-16": 4}[filling.kind]
                near = [p for p in found if abs(p[0] - x) + abs(p[1] - y) < side]
                found.update(dict.fromkeys(near, filling.kind))
            elif found[x, y] == "ground":
                found[x, y] = filling.kind
    for block in design.blocks:
        found.update(dict.fromkeys(block.pinholes, f"block {block.stitch}"))
    return found


def counts(first: Design, second: Design, matrix: Matrix) -> dict[PinholeChange, int]:
    (a, b), (c, d) = matrix
    one = told(first)
    other = {(a * x + b * y, c * x + d * y): words for (x, y), words in told(second).items()}
    found = dict.fromkeys(PinholeChange, 0)
    for place in one.keys() & other.keys():
        was, now = one[place].startswith("block"), other[place].startswith("block")
        change = {
            (False, True): PinholeChange.GAINED,
            (True, False): PinholeChange.LOST,
            (True, True): PinholeChange.ALIKE,
        }
        same, legs = one[place] == other[place], one[place].startswith("spider") and other[place].startswith("spider")
        unlike = PinholeChange.ALIKE if legs else change.get((was, now), PinholeChange.FILLING)
        found[PinholeChange.SAME if same else unlike] += 1
    return found


def unlike(found: dict[PinholeChange, int]) -> int:
    return sum(count for change, count in found.items() if change not in (PinholeChange.SAME, PinholeChange.ALIKE))


PAIRS = [
    (lopsided(), lopsided(stitch="half")),
    (lopsided(), made(8, *blocks("cloth", {(-1, 0), (0, -1), (0, 1), (1, 0)}), spiders({(4, 2)}, 8))),
    (lopsided(), made(8, *blocks("cloth", HOOK), double({(-4, 1), (-4, 3), (-5, 2), (-3, 2)}), roses({(4, 2)}))),
    (lopsided(worked="across"), lopsided(stitch="half", worked="across")),
    (lopsided(), made(8, *blocks("cloth", HOOK), spiders({(-4, 3)}, 12), roses({(4, 2)}))),
    (lopsided(8), lopsided(11)),
    (lopsided(11), lopsided(7, "whole")),
    (lopsided(), lopsided(worked="across")),
]


@pytest.mark.parametrize(("first", "second"), PAIRS)
def test_every_change_is_counted_and_the_closest_turn_taken(first: Design, second: Design) -> None:
    across = "across" in (first.worked, second.worked)
    ways = [matrix for matrix in EIGHT if not (across and matrix[0][1])]
    found = differences(first, second)
    by_turn = {TURNS[matrix]: counts(first, second, matrix) for matrix in ways}
    assert {change: found.count(change) for change in PinholeChange} == by_turn[found.turn]
    least = min(map(unlike, by_turn.values()))
    assert found.share == least / sum(by_turn[found.turn].values())


@pytest.mark.parametrize(("first", "second"), PAIRS)
def test_what_is_compared_is_the_one_measure_of_difference(first: Design, second: Design) -> None:
    assert differences(first, second).share == difference(first, second) == difference(second, first)


def test_another_stitch_and_other_legs_are_told_and_make_no_difference() -> None:
    found = differences(lopsided(), lopsided(stitch="half"))
    assert (found.share, found.count(PinholeChange.ALIKE)) == (0.0, len(HOOK))
    assert difference(lopsided(), lopsided(9)) == 0.0  # centre on centre


@pytest.mark.parametrize("matrix", EIGHT, ids=TURNS.get)
def test_a_turned_square_is_found_to_be_the_same(matrix: Matrix) -> None:
    design = lopsided()
    moved = turned(design, matrix)
    found = differences(design, moved)
    assert found.share == 0
    assert told(found.second) == told(design)
    assert (found.turn == "as it lies") == (matrix == EIGHT[0])


@pytest.mark.parametrize("matrix", EIGHT, ids=TURNS.get)
def test_a_square_worked_round_can_still_be_worked_when_turned(matrix: Matrix) -> None:
    design = made(8, *blocks("cloth", HOOK), spiders({(-4, 2)}, 8))
    assert check(design) == []
    assert check(turned(design, matrix)) == []


def test_what_a_turn_is_called_is_what_it_does() -> None:
    """Seen on the page, x to the right and y down: where the top left corner and the top middle go."""
    ends = {words: ((-a - b, -c - d), (-b, -d)) for ((a, b), (c, d)), words in TURNS.items()}
    assert ends == {
        "as it lies": ((-1, -1), (0, -1)),
        "turned a quarter to the right": ((1, -1), (1, 0)),
        "turned upside down": ((1, 1), (0, 1)),
        "turned a quarter to the left": ((-1, 1), (-1, 0)),
        "mirrored left to right": ((1, -1), (0, -1)),
        "mirrored top to bottom": ((-1, 1), (0, 1)),
        "mirrored across the corner line from top left": ((-1, -1), (-1, 0)),
        "mirrored across the corner line from top right": ((1, 1), (1, 0)),
    }


def test_a_square_is_not_turned_against_its_way_of_working() -> None:
    design = lopsided(worked="across")
    quarter = turned(design, EIGHT[1])
    assert differences(design, quarter).share > 0
    assert differences(design, turned(design, EIGHT[4])).share == 0

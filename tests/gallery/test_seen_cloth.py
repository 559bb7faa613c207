"""The picture is true: the thread drawing shows, part by part, the cloth that the tidy look shows.

On squares as single jobs of the search make them. The measures are areas by shapely; that passives lie 0.3 to 0.8
pitch apart in cloth is common practice, no source.
"""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np
import pytest
import shapely
from examples import bar, diamond, make
from seen_cloth import MOST, Part, parts, ways_in_turn
from strips import worked_round

from constraints import forms
from constraints.brief import Brief
from constraints.check import check
from constraints.design import Design
from constraints.edgings import Fan, Scallop
from constraints.forms import Square
from constraints.lattice import BoolArray, IntArray
from constraints.symmetry import matrices
from constraints.working.habits import CORNER, HORIZONTAL, OPEN, Habits
from constraints.working.work import work
from explore.search.squares.workshop import SquareWorkshop

# Symmetry, half-size, seed, start, habits.
CASES = {
    "full": ("full", 12, 3, "top-left", Habits()),
    "full, level start": ("full", 13, 5, "bottom-left", Habits(start_line=HORIZONTAL)),
    "quarter-turn": ("quarter-turn", 11, 2, "top-right", Habits()),
    "upright-mirror": ("upright-mirror", 12, 7, "bottom-right", Habits()),
    "diagonal-mirrors": ("diagonal-mirrors", 11, 4, "top-left", Habits()),
    "none": ("none", 10, 9, "top-left", Habits()),
    "quarter-turn, open seams": ("quarter-turn", 11, 2, "top-left", Habits(seam=OPEN)),
    "none, open seams": ("none", 10, 9, "bottom-left", Habits(seam=OPEN)),
}
# Parts of less cloth than this have hardly a passive that does not join or leave at once, square units.
SMALL = 8.0


@cache
def square_of(case: str) -> Design:
    symmetry, half_size, seed, start, _ = CASES[case]
    brief = Brief.of(
        half_size=(half_size, half_size), pairs=Square(half_size).pairs("round", 1), symmetry=symmetry, seed=seed,
        stitches=("cloth", "half", "rose"), solid=(0.1, 0.6), effort=0.2,
    )  # fmt: skip
    workshop = SquareWorkshop(brief, ())
    found = (workshop.run(job, None)[0] for job in range(20))
    design = replace(next(each for each in found if each is not None), number=1, start=start)
    assert check(design) == []
    return design


@cache
def parts_of(case: str) -> list[Part]:
    return list(parts(work(square_of(case), CASES[case][-1])))


@pytest.mark.parametrize("case", CASES)
def test_passives_lie_as_near_as_in_cloth_on_nearly_all_of_every_part(case: str) -> None:
    assert parts_of(case)
    for part in parts_of(case):
        assert part.even >= 0.95, part


@pytest.mark.parametrize("case", CASES)
def test_passives_hang_straight_on_from_way_to_way(case: str) -> None:
    """But for those beside which one joins or leaves, in a small part all; common practice, no source."""
    for part in parts_of(case):
        assert part.in_line >= 0.75 or part.tidy.area < SMALL, part


@pytest.mark.parametrize("case", CASES)
def test_threads_close_the_cloth_that_the_tidy_look_closes(case: str) -> None:
    for part in parts_of(case):
        assert part.covered >= 0.9, part


@pytest.mark.parametrize("case", [case for case in CASES if "mirror" in case or "full" in case])
def test_mirror_halves_are_alike_also_where_the_work_begins(case: str) -> None:
    found = parts_of(case)
    middle = {tuple(np.round(part.tidy.centroid.coords[0], 3) + 0.0): part for part in found}
    pairs = [
        (part, middle[tuple(np.round(matrix @ np.array(place), 3) + 0.0)])
        for place, part in middle.items()
        for matrix in matrices(square_of(case).symmetry)
        if np.linalg.det(matrix) < 0
    ]
    assert pairs
    for one, other in pairs:
        assert one.tidy.area == pytest.approx(other.tidy.area)
        assert abs(one.even - other.even) <= 0.05
        assert abs(one.covered - other.covered) <= 0.05


NARROW = {
    "slanting": [("cloth", bar(-8, -4, 6, 2))],
    "slanting the other way": [("half", bar(-5, -5, 2, 6))],
    "diamonds of four": [("cloth", diamond(-8, 0, 2)), ("half", diamond(0, -8, 2))],
    "over a corner line": [("cloth", diamond(7, 7, 4))],
}


@pytest.mark.parametrize("narrow", NARROW)
@pytest.mark.parametrize("start", ["top-left", "bottom-right"])
def test_trails_two_places_wide_are_as_even(narrow: str, start: str) -> None:
    design = replace(make(12, NARROW[narrow], symmetry="quarter-turn"), start=start)
    found = list(parts(work(design)))
    assert len(found) >= 4
    for part in found:
        assert part.even >= 0.95
        assert part.covered >= 0.9


@pytest.mark.parametrize("line", [CORNER, HORIZONTAL])
def test_a_trail_round_the_middle_is_as_even_where_it_comes_back_to_its_beginning(line: str) -> None:
    """Its last ways, in the quarter of its first ones, do not draw these near."""

    def ring(x: IntArray, y: IntArray) -> BoolArray:
        """Three lines of pinholes, whose corners are cut off, so that it swings round them."""
        outer = np.maximum(np.abs(x), np.abs(y))
        return (outer >= 8) & (outer <= 10) & (np.abs(x) + np.abs(y) <= 17)

    for part in parts(work(make(13, [("cloth", ring)]), Habits(start_line=line))):
        assert part.even >= 0.95
        assert part.covered >= 0.9


@pytest.mark.parametrize("narrow", NARROW)
def test_no_ladder_stands_beside_a_pin_at_which_two_pairs_meet(narrow: str) -> None:
    """They meet before it and after it, and the ways beyond part evenly: every place lies near two of them."""
    for part in parts(work(make(12, NARROW[narrow], symmetry="quarter-turn"))):
        level = np.sort(np.concatenate(part.ways) @ part.along)
        assert np.diff(level).max() <= MOST / 2


HEADSIDES = {
    "fans of depth 3": Fan("cloth", 3, 2, 1),
    "fans of depth 5": Fan("cloth", 5, 2, 1),
    "fans of half stitch": Fan("half", 3, 2, 1),
    "scallops of cloth": Scallop("cloth", 3, 6, 0),
    "scallops of half stitch": Scallop("half", 4, 5, 0),
}


@pytest.mark.parametrize("headside", HEADSIDES)
def test_ways_turn_little_by_little_where_a_headside_goes_round_a_corner(headside: str) -> None:
    """No way crosses the one before, and none leaves more room beside it than there is between passives of cloth."""
    found = list(ways_in_turn(work(worked_round(forms.Square(17, HEADSIDES[headside]), passives=1))))
    assert len(found) > 100
    for one, other in found:
        assert not shapely.intersects(one, other)
        assert shapely.hausdorff_distance(one, other) <= MOST


@pytest.mark.parametrize("headside", [name for name in HEADSIDES if "fans" in name])
def test_passives_of_fans_hang_straight_on_as_well(headside: str) -> None:
    design = worked_round(forms.Square(17, HEADSIDES[headside]), passives=1)
    fans = [part for part in parts(work(design), headsides=True) if abs(part.tidy.centroid.coords[0] @ part.along) < 9]
    assert len(fans) >= 4
    for part in fans:
        assert part.in_line >= 0.8, part


def test_cloth_whose_threads_are_drawn_to_one_side_is_seen_to_gape() -> None:
    part = max(parts_of("full"), key=lambda part: part.tidy.area)
    sideways = np.array([part.along[1], -part.along[0]])
    pulled = [way + 0.5 * ((way @ sideways).min() - way @ sideways)[:, None] * sideways for way in part.ways]
    assert replace(part, ways=pulled).even < 0.7


def test_cloth_without_some_of_its_threads_is_seen_not_to_be_closed() -> None:
    part = max(parts_of("full"), key=lambda part: part.tidy.area)
    middle = part.tidy.centroid.x
    kept = [line for line in shapely.get_parts(part.threads) if line.centroid.x < middle]
    assert replace(part, threads=shapely.multilinestrings(kept)).covered < 0.7

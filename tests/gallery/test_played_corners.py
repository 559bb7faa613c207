"""Orders of work of blocks at corner lines, followed in their words alone, by the player."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path
from random import Random

import designs
import numpy as np
import pytest
from before_her import pricking_of, text_of
from examples import diamond, make
from player.following import follow
from playing import played, refused

from constraints.check import check
from constraints.design import Design
from constraints.design_file import from_text
from constraints.flow import START_LINES
from constraints.lattice import BoolArray, IntArray
from constraints.working.habits import CORNER, HORIZONTAL, Habits
from constraints.working.work import work
from gallery.order.words import Telling


def swung(name: str) -> Design:
    """Trails that go round corners in slanting rows: along the edge or across the line, so many pinholes wide."""
    way, width = name.split()
    if way == "along":
        places = designs.border_trail(16, 4, int(width))
    else:
        places = designs.trail_round(int(width), 8, "across", "across") | designs.trail_round(3, 18, "along", "across")
    brief = {"corners": "swung", "narrowest": 1}
    return designs.made(16 if way == "along" else 30, *designs.blocks("cloth", places), brief=brief)


@pytest.mark.parametrize("name", ["along 3", "along 4", "along 5", "across 3", "across 5"])
def test_rows_that_slant_round_a_corner_can_be_followed(name: str) -> None:
    design = swung(name)
    for start in START_LINES:
        played(replace(design, start=start))
    played(design, Habits(turning_from=2))
    played(design, Habits(start_line=HORIZONTAL))


def test_rows_that_slant_are_told_of() -> None:
    told = "Slanting rows, where a trail goes round a corner"
    assert told in text_of(work(swung("along 4")), Telling("trail"))
    assert told not in text_of(work(replace(swung("along 4"), brief={"narrowest": 1})), Telling("trail"))


def test_a_text_of_slanting_rows_with_a_false_pin_or_pair_cannot_be_followed() -> None:
    done, random = work(swung("across 5")), Random(5)
    refused(text_of(done, Telling("trail")), pricking_of(done), random, 20)


def test_rings_beside_a_corner_line_can_be_followed() -> None:
    """Over the line go three pairs side by side, with pins between them: no row slants."""
    for x, y, inner, outer in ((4, 4, 3, 7), (5, 4, 2, 6)):
        near = {(x + a, y + b) for a in range(-8, 9) for b in range(-8, 9) if inner <= abs(a) + abs(b) <= outer}
        played(designs.made(12, *designs.blocks("cloth", {(a, b) for a, b in near if (a + b) % 2})))


@pytest.mark.parametrize("start", START_LINES)
@pytest.mark.parametrize("line", [CORNER, HORIZONTAL])
def test_on_a_fine_pricking_one_pin_in_the_very_middle_serves_all_four_quarters(line: str, start: str) -> None:
    """Pins nearer than 2 mm to each other are one."""
    design = replace(make(9, [("cloth", diamond(0, 0, 4))], symmetry="none"), pitch_mm=3.0, start=start)
    assert (0.0, 0.0) in pricking_of(work(design)).pins.values()
    played(design, Habits(start_line=line))


@pytest.mark.parametrize(("across", "down", "outer", "inner"), [(6, 6, 5, 3), (6, 5, 4, 2), (5, 5, 6, 3), (5, 6, 6, 3)])
def test_a_ring_over_a_corner_line_that_splits_and_merges_can_be_followed(
    across: int, down: int, outer: int, inner: int
) -> None:
    def trail(x: IntArray, y: IntArray) -> BoolArray:
        away = np.abs(x - across) + np.abs(y - down)
        return (away <= outer) & (away >= inner)

    design = make(12, [("half", trail)], symmetry="none", splits=2)
    assert check(design) == []
    played(design)


def test_arms_that_merge_at_a_pin_on_a_corner_line_can_be_followed() -> None:
    """A pair that waited at the pin on the line is taken in and is no worker; a square that the search found."""
    played(from_text(Path(__file__).with_name("merging_at_a_seam.json").read_text("utf-8")))


@pytest.mark.parametrize("mirrored", [False, True])
@pytest.mark.parametrize("line", [CORNER, HORIZONTAL])
def test_an_arm_level_with_the_first_row_over_a_corner_line_can_be_followed(line: str, mirrored: bool) -> None:
    """Its worker turns to the same side first as in the rows after it; a square that the search found."""
    design = from_text(Path(__file__).with_name("level_with_a_seam.json").read_text("utf-8"))
    played(design, Habits(start_line=line), Telling("Order of work 07, greenhouse", mirrored=mirrored))


@pytest.mark.parametrize("start", START_LINES)
@pytest.mark.parametrize("line", [CORNER, HORIZONTAL])
def test_a_ring_across_corner_lines_beside_the_middle_can_be_followed(line: str, start: str) -> None:
    """Its row of two places, one beside either line, begins at a pin on one line and ends at one on the other: what
    goes from it leaves at the second, what comes to it is taken in at the first."""
    span = range(-12, 13)
    places = {(x, y) for x in span for y in span if (x + y) % 2 and 3 <= abs(x - 2) + abs(y - 2) <= 8}
    brief = {"splits": 2, "widest": 30, "solid": [0, 1]}
    design = replace(designs.made(12, *designs.blocks("cloth", places), brief=brief), splits=2, start=start)
    assert check(design) == []
    played(design, Habits(start_line=line))


def test_a_worker_that_was_one_in_another_part_of_its_block_can_be_followed() -> None:
    """The start line and corner lines make several parts of one block; a square that the search found."""
    design = from_text(Path(__file__).with_name("three_parts_of_a_block.json").read_text("utf-8"))
    done = work(design, Habits(start_line=HORIZONTAL))
    text = text_of(done, Telling("Order of work 07, greenhouse"))
    follow(text, pricking_of(done))
    # Of its five parts that end before all is worked, the start line cuts the first two.
    rest = re.findall(r"It\s+ends\s+with\s+pairs\s+[\d\u2013\s]+(?:and\s\d+)?:\s+(the\s+start|another)", text)
    assert [each.split()[0] for each in rest] == ["the", "the", "another", "another"]


@pytest.mark.parametrize("mirrored", [False, True])
def test_a_gimp_round_two_lobes_that_meet_at_a_corner_line_can_be_followed(mirrored: bool) -> None:
    """Between the lobes the thread beside the edge passes all pairs, on either side of the line."""
    places = [
        (-15, 12), (-14, 11), (-14, 13), (-14, 15), (-13, 10), (-13, 12), (-13, 14), (-13, 16), (-12, 9), (-12, 11),
        (-12, 13), (-12, 15), (-11, 8), (-11, 10), (-11, 12), (-11, 14), (-10, 9), (-10, 11), (-10, 13), (-9, 10),
        (-9, 12), (-8, 11),
    ]  # fmt: skip
    design = designs.made(20, *designs.blocks("cloth", set(places)))
    played(design, Habits(gimp=(1,)), Telling("Order of work 07, greenhouse", mirrored=mirrored))

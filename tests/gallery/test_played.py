"""Orders of work followed in their words alone, by the player."""

from __future__ import annotations

import re
import sys
from dataclasses import replace
from functools import cache
from pathlib import Path
from random import Random

import numpy as np
import pytest

sys.path.append(str(Path(__file__).parents[1] / "constraints"))

import designs
import strips
from before_her import pricking_of, text_of
from changed_texts import changed
from examples import diamond, gallery_of, make
from player.fault import Fault
from player.following import follow
from player.pricking import Pricking
from player.said_of_ground import FOURS, GROUNDS
from random_pieces import Cell, Drawn, cells, drawn
from strips import worked_round
from test_order_forms import FANS, FRAME, LONG_FRAME, STRIPS
from test_order_words import GOOD

from constraints import fillings
from constraints.check import check
from constraints.design import Design
from constraints.design_file import from_text
from constraints.flow import START_LINES
from constraints.lattice import BoolArray, IntArray
from constraints.working.ends import SEWINGS
from constraints.working.habits import CORNER, HORIZONTAL, OPEN, Habits
from constraints.working.work import work
from gallery.order.words import Telling

SHELF = {
    f"{worked} {n}": design for worked in ("round", "across") for n, design in enumerate(gallery_of(8, 14, worked))
}
PIECES = {
    **{f"by hand: {name}": design for name, design in designs.GOOD.items()},
    **{f"words: {name}": design for name, design in GOOD.items()},
    **{f"shelf: {name}": design for name, design in SHELF.items()},
    **{f"strip: {name}": design for name, design in STRIPS.items()},
    "fans all round": FANS,
    "frame": FRAME,
    "long frame": LONG_FRAME,
    "plain frame": worked_round(strips.FRAME, passives=1),
    "frame with diamonds": worked_round(
        strips.FRAME, ("cloth", designs.spread(designs.diamond((0, -23), 3), designs.UPRIGHT)), passives=2
    ),
}
STRIPED = [name for name in PIECES if name.startswith("strip")]
# Those whose outer edge is a footside, as corner pins want it.
ROUND = [name for name, design in PIECES.items() if design.worked == "round" and design.form.headside is None]
# Roses all over leave no room for a horizontal start, four pins no ground.
LEVEL = [name for name in ROUND if "rose" not in name and "smallest" not in name][::3]


CELLS = list(cells())


@cache
def piece_of(cell: Cell) -> Drawn | None:
    return drawn(cell, 1)


def played(design: Design, habits: Habits | None = None, telling: Telling | None = None) -> None:
    """The order of work of a square, followed to its end. Fault where it cannot be."""
    done, telling = work(design, habits), telling or Telling("Order of work 07, greenhouse")
    follow(text_of(done, telling), pricking_of(done, telling.mirrored))


@pytest.mark.parametrize("name", PIECES)
def test_the_words_of_a_piece_can_be_followed_to_its_end(name: str) -> None:
    played(PIECES[name])


@pytest.mark.parametrize("name", ["shelf: round 3", "frame", *STRIPED[::2]])
def test_with_the_footside_on_the_right_they_can_be_followed_too(name: str) -> None:
    played(PIECES[name], telling=Telling("Order of work 07, greenhouse", mirrored=True))


@pytest.mark.parametrize("name", STRIPED)
def test_a_strip_sewn_to_its_own_beginning_can_be_followed(name: str) -> None:
    played(PIECES[name], telling=Telling("Order of work 07, greenhouse", finish=SEWINGS))


@pytest.mark.parametrize("name", ROUND)
def test_with_corner_pins_they_can_be_followed(name: str) -> None:
    played(PIECES[name], Habits(corner_pins=True))


@pytest.mark.parametrize("name", LEVEL)
@pytest.mark.parametrize("corner_pins", [False, True])
def test_from_a_horizontal_start_they_can_be_followed(name: str, corner_pins: bool) -> None:
    played(PIECES[name], Habits(start_line=HORIZONTAL, corner_pins=corner_pins))


@pytest.mark.parametrize("start", START_LINES)
@pytest.mark.parametrize("line", [CORNER, HORIZONTAL])
@pytest.mark.parametrize("name", ["shelf: round 3", "plain frame"])
def test_begun_at_any_corner_they_can_be_followed(name: str, line: str, start: str) -> None:
    played(replace(PIECES[name], start=start), Habits(start_line=line))


@pytest.mark.parametrize("cell", CELLS, ids=str)
def test_a_piece_of_every_form_symmetry_and_edging_can_be_followed(cell: Cell) -> None:
    piece = piece_of(cell)
    assert piece is not None
    follow(text_of(piece.work, piece.telling), pricking_of(piece.work, piece.telling.mirrored))


def refused(text: str, pricking: Pricking, random: Random, times: int) -> None:
    """That so many texts, each with something changed, cannot be followed."""
    for _ in range(times):
        false, what = changed(text, random)
        try:
            follow(false, pricking)
        except Fault:
            continue
        pytest.fail(f"followed although {what}")


@pytest.mark.parametrize("number", range(20))
def test_no_text_with_one_pin_pair_or_side_changed_can_be_followed(number: int) -> None:
    random = Random(number)
    piece = piece_of(random.choice(CELLS))
    assert piece is not None
    text, pricking = text_of(piece.work, piece.telling), pricking_of(piece.work, piece.telling.mirrored)
    follow(text, pricking)
    refused(text, pricking, random, 10)


@pytest.mark.parametrize("name", LEVEL)
def test_with_open_seams_they_can_be_followed(name: str) -> None:
    played(PIECES[name], Habits(seam=OPEN))


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


def test_double_ground_that_plain_ground_interrupts_is_told_run_by_run() -> None:
    inner = [(x, y) for x in range(-6, 7) for y in range(-6, 7) if (x + y) % 2]
    design = designs.made(8, designs.double({(x, y) for x, y in inner if (x + 2 * y) % 5}))
    played(design)
    assert re.search(r"\d and \d+[^;)]* in double ground", text_of(work(design), Telling("double")))


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


def test_a_gimp_round_a_block_that_begins_and_ends_with_several_pins_can_be_followed() -> None:
    for rows in (3, 4, 5, 6):
        places = {(x, y) for x in range(-15, -8) for y in range(-2, rows - 2) if (x + y) % 2}
        played(designs.made(18, *designs.blocks("cloth", places)), Habits(gimp=(1,)))


def test_a_pair_from_elsewhere_is_a_fault() -> None:
    done = work(GOOD["diamond"])
    text = text_of(done, Telling("Order of work 07, greenhouse"))
    with pytest.raises(Fault, match="begins outermost, 9 is told"):
        follow(text.replace("worker 8", "worker 9"), pricking_of(done))


# Cross-overs before rows of blocks, along diagonals, on the start line.
ROSES = [
    (Cell("square", "round", "half-turn", "footside"), 2),
    (Cell("rectangle", "across", "full", "footside"), 1),
    (Cell("square", "round", "none", "scallop"), 1),
]


@pytest.mark.parametrize(("cell", "seed"), ROSES, ids=str)
def test_no_cross_over_can_be_left_out_or_told_before_another_pin(cell: Cell, seed: int) -> None:
    # Edkins, teaching pages on Torchon lace, Rose ground: pairs cross over above a rose and below it on either side.
    piece = drawn(cell, seed)
    assert piece is not None
    text, pricking = text_of(piece.work, piece.telling), pricking_of(piece.work, piece.telling.mirrored)
    follow(text, pricking)
    left_out = [("", each.span()) for each in re.finditer(r"; (first )?cross\s+over[\d,\s]+(?=\))", text)]
    moved = [
        (str(int(each[1]) + by), each.span(1))
        for each in re.finditer(r"cross\s+over\s[\d,\sand]+\sbefore\s+pin\s+(\d+)", text)
        for by in (-2, -1, 1, 2)
    ]
    assert left_out or moved
    for new, (begin, end) in (left_out + moved)[:24]:
        with pytest.raises(Fault):
            follow(text[:begin] + new + text[end:], pricking)


def test_the_player_knows_every_ground_and_every_figure_worked_pin_by_pin_by_its_name() -> None:
    """One that it does not know it cannot follow where a piece has it."""
    assert set(GROUNDS) == {ground.field for ground in fillings.GROUNDS.values()}
    assert set(FOURS) == {each.one for each in fillings.FIGURES.values() if not any(u.gathered for u in each.units)}

"""Orders of work followed in their words alone, by the player."""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache
from random import Random

import designs
import pytest
import strips
from before_her import pricking_of, text_of
from examples import gallery_of
from player.fault import Fault
from player.following import follow
from player.said_of_ground import FOURS, GROUNDS
from playing import played, refused
from random_pieces import Cell, Drawn, drawn, few_cells
from strips import worked_round
from test_order_forms import FANS, FRAME, LONG_FRAME, STRIPS
from test_order_words import GOOD

from constraints import fillings
from constraints.flow import START_LINES
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


CELLS = few_cells()


@cache
def piece_of(cell: Cell) -> Drawn | None:
    return drawn(cell, 1)


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


def test_double_ground_that_plain_ground_interrupts_is_told_run_by_run() -> None:
    inner = [(x, y) for x in range(-6, 7) for y in range(-6, 7) if (x + y) % 2]
    design = designs.made(8, designs.double({(x, y) for x, y in inner if (x + 2 * y) % 5}))
    played(design)
    assert re.search(r"\d and \d+[^;)]* in double ground", text_of(work(design), Telling("double")))


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

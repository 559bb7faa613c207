"""Where every pair should hang on the way, against the pillow of the player of the words."""

from __future__ import annotations

import re
from dataclasses import replace
from random import Random

import pytest
from before_her import Told, told_after_all
from player.fault import Fault
from playing import looked
from random_pieces import Cell, few_cells
from test_order_forms import STRIPS
from test_order_words import GOOD
from test_played import LEVEL, PIECES, ROUND, STRIPED, piece_of

from constraints.working.habits import HORIZONTAL, Habits
from constraints.working.work import Work, work
from gallery.order.checks import checks
from gallery.order.words import STEP, TEXT, Telling, order_lines

PLAIN = Telling("Order of work 07, greenhouse")


def all_true(done: Work, telling: Telling = PLAIN) -> None:
    looked(done, telling, told_after_all(done, telling))


@pytest.mark.parametrize("name", PIECES)
def test_after_every_sentence_every_pair_hangs_where_it_is_told(name: str) -> None:
    all_true(work(PIECES[name]))


@pytest.mark.parametrize("cell", few_cells(), ids=str)
def test_so_it_is_on_pieces_drawn_at_random_however_she_works(cell: Cell) -> None:
    piece = piece_of(cell)
    if piece is not None:
        all_true(piece.work, piece.telling)


@pytest.mark.parametrize("name", LEVEL)
def test_so_it_is_from_a_horizontal_start(name: str) -> None:
    all_true(work(PIECES[name], Habits(start_line=HORIZONTAL)), replace(PLAIN, mirrored=True))


@pytest.mark.parametrize("name", ROUND[::2])
def test_at_a_corner_pin_the_pairs_of_the_edge_hang_round_it(name: str) -> None:
    all_true(work(PIECES[name], Habits(corner_pins=True)))


# --- what is false is seen ---------------------------------------------------------------------------------


def elsewhere(look: Told, at: int) -> list[str]:
    """Places at which the pairs of one entry of a look do not hang, told as if they did."""
    where = look[at][2]
    # A row of pins fits no other number of pairs.
    others = sorted({place for _, _, place in look if "pins" not in place} - {where})
    if row := re.fullmatch(r"pins (\d+)\N{EN DASH}(\d+), one at each", where):
        first, last = int(row[1]), int(row[2])
        return [*others, *(f"pins {a}\N{EN DASH}{b}, one at each" for a, b in ((last, first), (first + 1, last + 1)))]
    *words, last_word = where.split()
    nearby = [" ".join([*words, str(int(last_word) + by)]) for by in (-1, 1)] if last_word.isdecimal() else []
    return [*others, *nearby]


def changed(told: list[Told], random: Random) -> list[Told]:
    """The same with one place of one look changed."""
    every = [(n, at) for n, look in enumerate(told) for at in range(len(look)) if elsewhere(look, at)]
    number, at = random.choice(every)
    false = list(told[number])
    false[at] = (*false[at][:2], random.choice(elsewhere(false, at)))
    return [*told[:number], false, *told[number + 1 :]]


@pytest.mark.parametrize(
    "name", ["by hand: reversed print", "words: plain", "words: across", "frame", "strip: edging of 1886"]
)
def test_a_pair_told_elsewhere_is_seen(name: str) -> None:
    done, random = work(PIECES[name]), Random(name)
    told = told_after_all(done, PLAIN)
    for _ in range(20):
        with pytest.raises(Fault, match="is told"):
            looked(done, PLAIN, changed(told, random))


def test_pairs_left_out_or_told_twice_are_seen() -> None:
    done = work(GOOD["plain"])
    told = told_after_all(done, PLAIN)
    first, *others = told[0]
    for false in ([first, first, *others], others, [first, *others[:-1]]):
        with pytest.raises(Fault, match="told"):
            looked(done, PLAIN, [false, *told[1:]])


# --- where she looks ---------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", PIECES)
def test_she_looks_where_a_part_ends_and_soon_after_a_block(name: str) -> None:
    done = work(PIECES[name])
    lines = order_lines(done, PLAIN)
    at = checks(done, lines)
    last = max(number for number, line in enumerate(lines) if line.steps)
    ends = [n for n, line in enumerate(lines[:last]) if line.steps and lines[n + 1].kind != STEP]
    assert set(at) >= set(ends)
    assert last not in at
    since = 0
    for number, line in enumerate(lines[:last]):
        since = 0 if number in at else since + (line.kind == STEP)
        assert since <= 8 or name in STRIPED or done.design.form.has_opening


def test_within_what_comes_again_she_looks_at_its_end_alone() -> None:
    done = work(next(design for name, design in STRIPS.items() if "plain" in name))
    lines = order_lines(done, PLAIN)
    again = next(number for number, line in enumerate(lines) if line.again)
    assert lines[again].kind == TEXT
    first = next(number for number, line in enumerate(lines) if line.number == lines[again].again)
    assert [number for number in checks(done, lines) if first <= number <= again] == [again - 1, again]

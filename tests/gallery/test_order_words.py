"""The order of work in words and on pages.

Pages are read back with pypdf; sizes: ISO 216 (A4 is 210 x 297 mm) and ANSI/ASME Y14.1 (letter is 8.5 x 11 in).
"""

from __future__ import annotations

import re
from dataclasses import replace
from itertools import groupby
from pathlib import Path

import numpy as np
import pypdf
import pytest
from examples import band, diamond, make

from constraints.design import Design
from constraints.working.habits import OPEN, Habits
from constraints.working.work import work
from gallery.order.pages import order_pages
from gallery.order.words import HEADING, STEP, TEXT, Telling, order_lines
from gallery.paper import page

PLAIN = Telling("Order of work 07, greenhouse")
EIGHT = make(14, [], spiders=[(8, diamond(-8, 0, 1))], symmetry="none")
GOOD = {
    "plain": make(5, []),
    "diamond": make(12, [("cloth", diamond(-6, 0, 4))], symmetry="none"),
    "diamonds": make(12, [("cloth", diamond(-6, 0, 4))]),
    "corners": make(14, [("half", band(11, 9))]),
    "roses": make(13, [("whole", diamond(0, 0, 3))], rose=lambda x, y: np.abs(x) + np.abs(y) > 6, alignment=(1, 1)),
    "doubled": make(12, [("cloth", band(9, 7))], double=lambda x, y: np.maximum(np.abs(x), np.abs(y)) < 6),
    "across": make(9, [("cloth", diamond(0, -3, 3))], worked="across", symmetry="upright-mirror"),
    "in sections": make(16, [("half", diamond(0, -3, 4))], worked="across", symmetry="upright-mirror"),
}


def told(design: Design, telling: Telling = PLAIN, habits: Habits | None = None) -> str:
    return "\n".join(line.words for line in order_lines(work(design, habits), telling))


def test_a_diamond_is_told_with_its_pins_pairs_and_sides() -> None:
    words = told(GOOD["diamond"])
    assert (
        "Block 1 in cloth stitch, pairs 5\N{EN DASH}12 in all, pins 34\N{EN DASH}45, 7 rows. Begin with pairs 8 and 9, "
        "worker 8. Left: in at 35 and 37, in and out at 39, out at 41 and 43; "
        "right: in at 36 and 38, in and out at 40, out at 42 and 44. It ends with pairs 8 and 9."
    ) in words
    assert "Cloth stitch: cross, twist, cross." in words
    assert "Half stitch" not in words


def test_a_spider_is_told_with_its_legs_pin_and_pairs() -> None:
    words = told(EIGHT)
    [spider] = re.findall(r"Spider with 8 legs: pin (\d+) \(pairs (\d+)\N{EN DASH}(\d+)\)", words)
    assert int(spider[2]) - int(spider[1]) == 3
    assert "Spider: twist every leg twice." in words


def test_left_and_right_change_places_with_the_footside_and_numbers_do_not() -> None:
    for design in GOOD.values():
        left, right = told(design), told(design, replace(PLAIN, mirrored=True))
        swapped = re.sub(r"\b(left|right)\b", lambda each: {"left": "right", "right": "left"}[each[0]], left)
        swapped = re.sub(r"\b(Left|Right)\b", lambda each: {"Left": "Right", "Right": "Left"}[each[0]], swapped)
        # The moves stay: a cross is left over right on either hand, a twist right over left.
        both = [re.sub(r"(anti)?clockwise|^(Cross|Spider):.*$", "", words, flags=re.M) for words in (swapped, right)]
        assert both[0] == both[1]
        assert left != right


def test_the_pillow_is_turned_the_way_that_brings_the_next_quarter_before_her() -> None:
    # On the left quarter the work runs down, on the bottom one to the right: turned clockwise, right becomes down.
    assert told(GOOD["plain"]).count("Turn the pillow a quarter clockwise") == 3
    assert told(GOOD["plain"], replace(PLAIN, mirrored=True)).count("Turn the pillow a quarter anticlockwise") == 3
    assert "Turn the pillow" not in told(GOOD["across"])


@pytest.mark.parametrize("name", GOOD)
def test_every_pin_is_named_once_in_rising_order(name: str) -> None:
    done = work(GOOD[name])
    steps = [line.words for line in order_lines(done, PLAIN) if line.kind == STEP]
    numbers: list[int] = []
    for words in steps:
        # What follows in brackets or after the rows of a block are pairs, or pins a second time.
        bare = re.sub(r"\([^)]*\)|\d+ rows?[.;].*|^(First c|C)ross over[^.]*\.", "", words)
        bare = re.sub(r"\d+ (diagonals|roses|spiders)|[Bb]lock \d+|\d+ legs|pairs \d+[^,]*in all", "", bare)
        for first, last in re.findall(r"(\d+)f?(?:\N{EN DASH}(\d+))?", bare):
            numbers += range(int(first), int(last or first) + 1)
    assert numbers == list(range(1, len(done.pins) + 1))


def test_steps_are_numbered_through_and_stand_below_their_quarter() -> None:
    lines = order_lines(work(GOOD["diamonds"]), PLAIN)
    numbers = [line.number for line in lines if line.kind == STEP]
    assert numbers == list(range(1, len(numbers) + 1))
    quarters = [line.words.split(",")[0] for line in lines if line.kind == HEADING and "quarter" in line.words]
    assert quarters == ["The left quarter", "The bottom quarter", "The right quarter", "The top quarter"]


def test_the_method_of_the_ground_is_hers() -> None:
    # Issue of the trade: CT pin CT closed, TC pin TC open.
    assert "Ground, closed method: cross, twist, pin, cross, twist." in told(GOOD["plain"])
    assert "Ground, open method: twist, cross, pin, twist, cross." in told(GOOD["plain"], habits=Habits(ground=OPEN))


def test_double_ground_is_told_apart() -> None:
    words = told(GOOD["doubled"])
    assert "Double ground: cross, twist, cross, twist, pin, cross, twist, cross, twist." in words
    assert re.search(r"Double ground, |in double ground", words)
    assert "Double ground" not in told(GOOD["plain"])


@pytest.mark.parametrize(("finish", "said"), [("knots", "reef knot"), ("plaits", "Plait"), ("fringe", "fringe")])
def test_the_last_edge_is_finished_as_she_likes(finish: str, said: str) -> None:
    across = told(GOOD["across"], replace(PLAIN, finish=finish))
    assert said in across
    assert "Sew" not in across
    assert "7 sewings" in told(GOOD["plain"], replace(PLAIN, finish=finish))


@pytest.mark.parametrize(("paper", "size"), [("a4", (210, 297)), ("letter", (215.9, 279.4))])
def test_pages_hold_every_step_once_and_are_numbered(tmp_path: Path, paper: str, size: tuple[float, float]) -> None:
    done = work(GOOD["corners"])
    file = tmp_path / "work.pdf"
    page.write(order_pages(done, PLAIN, paper), file)
    read = pypdf.PdfReader(file).pages
    assert len(read) > 1
    for number, each in enumerate(read, 1):
        width, height = (float(side) / 72 * 25.4 for side in (each.mediabox.width, each.mediabox.height))
        assert (width, height) == pytest.approx(size, abs=0.05)
        assert f"{number} of {len(read)}" in each.extract_text()
    lines = order_lines(done, PLAIN)
    text = re.sub(r"\s+", "", "".join(each.extract_text() for each in read))
    for line in lines:
        if line.kind in (STEP, TEXT):
            assert re.sub(r"\s+", "", line.words)[:40] in text
    assert len([kind for kind, _ in groupby(lines, key=lambda line: line.kind)]) > 5

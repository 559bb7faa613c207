"""Orders of work of strips, frames and pieces with a headside."""

from __future__ import annotations

import re
from dataclasses import replace
from itertools import groupby
from pathlib import Path

import numpy as np
import pypdfium2
import pytest
from designs import diamond, made, spiders
from matplotlib.patches import PathPatch
from strips import SCALLOP_OF_1886, strip, worked_round

from constraints import forms
from constraints.design import Design
from constraints.edgings import Fan
from constraints.forms import Frame, Strip
from constraints.working.ends import SEWINGS, ends_of, ring
from constraints.working.habits import HORIZONTAL, Habits
from constraints.working.steps import steps_of
from constraints.working.work import work
from gallery.order.called import called
from gallery.order.pages import order_pages
from gallery.order.repeats import coming_again, told_once
from gallery.order.steps import words_of
from gallery.order.words import HEADING, STEP, TEXT, Telling, order_lines
from gallery.paper import page

PLAIN = Telling("Order of work 07, greenhouse")
DIAMOND = ("cloth", {(x, y % 12) for x, y in diamond((6, 1), 3)})
TRAIL = {(x, y) for y in range(8) for x in range(20) if (x + y) % 2 and abs(x - 4 - abs(y - 4)) <= 2}
STRIPS = {
    "a trail and diamonds": strip(
        Strip(20, 8, 6), ("half", TRAIL), ("cloth", {(x, y % 8) for x, y in diamond((14, 1), 2)}), passives=1
    ),
    "diamonds and spiders": strip(Strip(13, 12, 5), DIAMOND, spiders({(6, 8)}, 8), passives=2),
    "plain, of even columns": strip(Strip(8, 8, 4), passives=1),
    "edging of 1886": strip(Strip(5, 6, 6, SCALLOP_OF_1886), passives=1),
    "fans on both sides": strip(Strip(15, 16, 4, Fan("cloth", 4, 2, 1), True)),
    "fans cut by the ends": strip(Strip(12, 12, 4, Fan("half", 3, 2, 3))),
}
FANS = worked_round(forms.Square(17, Fan("cloth", 4, 2, 2)))
FRAME = worked_round(Frame(20, 26, 12, Fan("half", 3, 2, 2)), passives=1)

LONG_FRAME = worked_round(Frame(50, 58, 12, Fan("half", 3, 2, 2)), passives=1)


def told(design: Design, telling: Telling = PLAIN) -> str:
    return "\n".join(line.words for line in order_lines(work(design), telling))


@pytest.mark.parametrize("name", STRIPS)
def test_steps_told_once_are_those_worked_every_time(name: str) -> None:
    done = work(STRIPS[name])
    steps = steps_of(done)
    names = called(done, steps)
    found = coming_again(steps, names)
    assert found is not None
    assert found.times >= 2
    period = found.end - found.first

    def shown(number: int) -> str:
        return words_of(done, [steps[number]], names, str)

    for number in range(found.first, found.first + (found.times - 1) * period):
        # A pin is the only number that rises by as many as pins come again: the text of the next time, read back.
        later = [int(each) for each in re.findall(r"\d+", shown(number + period))]
        now = [int(each) for each in re.findall(r"\d+", shown(number))]
        assert {b - a for a, b in zip(now, later, strict=True)} <= {0, found.pins, found.blocks}
        assert re.sub(r"\d+", "#", shown(number)) == re.sub(r"\d+", "#", shown(number + period))
        assert [pin + found.pins for pin in steps[number].pins] == list(steps[number + period].pins)


@pytest.mark.parametrize("name", STRIPS)
def test_what_comes_again_from_the_first_step_on_is_told_from_the_first(name: str) -> None:
    done = work(STRIPS[name])
    steps = steps_of(done)
    names = called(done, steps)
    found = coming_again(steps, names)
    assert found is not None
    own = coming_again(steps[found.first :], names)
    assert own == replace(found, first=0, end=found.end - found.first)


def test_along_the_side_of_a_frame_what_comes_again_is_told_once() -> None:
    """Read back, the order holds every step of the work: those told, and those told to be worked again."""
    done = work(LONG_FRAME)
    steps = steps_of(done)
    names = called(done, steps)
    saved = 0
    for _, group in groupby(steps, key=lambda step: step.zone):
        held = list(group)
        stretches = told_once(held, names)
        assert [first for first, _, _ in stretches] == [0, *(end for _, end, _ in stretches[:-1])]
        assert stretches[-1][1] == len(held)
        for first, end, again in stretches:
            if again is None:
                continue
            assert end - first == again.times * again.end
            for number in range(first, end - again.end):
                now, later = (words_of(done, [held[each]], names, str) for each in (number, number + again.end))
                assert re.sub(r"\d+", "#", now) == re.sub(r"\d+", "#", later)
                before, after = (map(int, re.findall(r"\d+", each)) for each in (now, later))
                rises = {b - a for a, b in zip(before, after, strict=True)}
                assert rises <= {0, again.pins, again.blocks}
            saved += end - first - again.end
    assert saved > len(steps) / 3
    lines = order_lines(done, PLAIN)
    assert sum(line.words.startswith("Work step") for line in lines) >= 4
    numbers = [line.number for line in lines if line.kind == STEP]
    assert numbers == list(range(1, len(numbers) + 1))


@pytest.mark.parametrize("name", STRIPS)
def test_every_pin_of_a_strip_is_in_one_of_its_sections(name: str) -> None:
    done = work(STRIPS[name])
    lines = order_lines(done, PLAIN)
    headings = [line.words for line in lines if line.kind == HEADING and ", pins" in line.words]
    runs = [tuple(map(int, re.findall(r"\d+", each.split("pins ")[1]))) for each in headings]
    [more] = [line.words for line in lines if line.words.startswith("Work step")]
    on = int(re.findall(r"every pin is (\d+) on", more)[0])
    begins = [int(each) for each in re.findall(r"\d+", more.split("pin", 1)[1].split(":")[0])]
    pins: list[int] = []
    for heading, run in zip(headings, runs, strict=True):
        pins += range(run[0], run[-1] + 1)
        if heading.startswith("What comes"):
            assert on == run[-1] - run[0] + 1
            pins += [pin for begin in begins for pin in range(begin, begin + on)]
    assert pins == list(range(1, len(done.pins) + 1))


def test_a_block_that_goes_on_all_along_keeps_its_number() -> None:
    words = told(STRIPS["a trail and diamonds"])
    [more] = [line for line in words.splitlines() if line.startswith("Work step")]
    assert re.search(r"every block or fan 1; block \d goes on\.$", more)


def test_a_longer_strip_takes_no_more_words() -> None:
    short, long = (told(strip(Strip(13, 12, repeats), DIAMOND, passives=1)) for repeats in (5, 60))
    assert len(long.splitlines()) == len(short.splitlines())
    assert "What comes 4 times" in short
    assert "What comes 59 times" in long


@pytest.mark.parametrize("name", STRIPS)
def test_a_strip_sewn_to_a_ring_has_every_pair_sewn_straight_below_its_end(name: str) -> None:
    done = work(STRIPS[name])
    ends = ends_of(done)
    sewings = ring(done, ends)
    place = {length: held.place for held in ends.last for length in held.segments}
    assert sorted(each.finished for each in sewings) == sorted(place)
    assert len({each.loop for each in sewings}) == done.design.pairs
    # The next row of pinholes lies one unit to the left or right of the last one, the edge pair two rows on.
    assert all(abs(place[each.finished][0] - each.place[0]) <= 1 for each in sewings)
    words = told(STRIPS[name], replace(PLAIN, finish=SEWINGS))
    assert f"{done.design.pairs} sewings" in words
    assert "leave their loops open" in words
    with pytest.raises(ValueError, match="only a strip"):
        ring(work(made(6)), ends)


def test_a_closed_strip_is_as_long_as_all_its_repeats() -> None:
    # 5 repeats of 12 rows, half a pitch of 5 mm each.
    words = told(STRIPS["diamonds and spiders"], replace(PLAIN, finish=SEWINGS))
    assert "Closed, the lace measures 150 mm round" in words
    assert "Closed" not in told(STRIPS["diamonds and spiders"])


def test_the_outline_is_told_with_its_own_sizes() -> None:
    assert (
        told(STRIPS["diamonds and spiders"])
        .splitlines()[1]
        .startswith(
            "A strip 30 mm by 147.5 mm, 5 repeats of 12 rows (30 mm) at a pitch of 5 mm, worked down from the top row. "
        )
    )
    words = told(FRAME).splitlines()[1]
    assert "round an opening of 40 mm by 70 mm" in words
    assert "fans in half stitch at the outer edge, footside of cloth with 1 passive at the inner edge" in words
    assert "headside all round of fans in cloth stitch" in told(FANS)
    assert "Footside, at each of its pins" not in told(FANS)


def test_a_scallop_is_one_block_with_its_own_passives() -> None:
    # D: six pairs at its narrowest, so four beside the edge pair and the pair of the row (fig. 799).
    words = told(STRIPS["edging of 1886"])
    assert "footside of cloth with 1 passive on the left, headside, a scallop in half stitch with 6 pairs" in words
    assert "the edge pair and its 4 passives on a false pin half a pitch above the first pin of the right side" in words
    assert "Go on with the scallop, pins" in words


@pytest.mark.parametrize("design", [FANS, FRAME])
def test_valley_pins_are_marked_and_lie_at_both_ends_of_fans(design: Design) -> None:
    done = work(design)
    words = "\n".join(line.words for line in order_lines(done, PLAIN) if line.kind == STEP)
    marked = {int(a or b) for a, b in re.findall(r"(\d+)v|Valley pin (\d+)", words)}
    between = [(int(a), int(b)) for a, b in re.findall(r"between the valley pins (\d+) and (\d+)", words)]
    assert between
    # Every valley has a fan on either side.
    assert sorted([a for a, _ in between] + [b for _, b in between]) == sorted([*marked, *marked])
    assert words.count("Corner fan") == 4


def test_left_and_right_change_places_on_a_strip() -> None:
    words = told(STRIPS["edging of 1886"], replace(PLAIN, mirrored=True))
    assert "footside of cloth with 1 passive on the right, headside" in words
    assert "6 pairs at its narrowest on the left" in words


@pytest.mark.parametrize("design", [LONG_FRAME, strip(Strip(13, 12, 90), DIAMOND, passives=2)])
def test_every_time_that_steps_are_worked_again_has_its_box_to_tick(design: Design) -> None:
    done = work(design)
    lines = order_lines(done, PLAIN)
    again = [line.words for line in lines if line.words.startswith("Work ")]
    often = [re.search(r"(once|twice|(\d+) times) more", words) for words in again]
    times = [{"once": 1, "twice": 2}.get(found[1]) or int(found[2]) for found in often if found]
    assert [line.boxes for line in lines if line.boxes] == times
    assert times
    boxes = set()
    for number, each in enumerate(order_pages(done, PLAIN, "a4")):
        for patch in each.findobj(PathPatch):
            assert isinstance(patch, PathPatch)
            corners = patch.get_path().vertices.reshape(-1, 5, 2) if not len(patch.get_path().vertices) % 5 else []
            designs = [ring for ring in corners if np.allclose(ring[:4].max(axis=0) - ring[:4].min(axis=0), 2.4)]
            boxes |= {(number, *np.round(ring[0], 3).tolist()) for ring in designs}
    assert len(boxes) == sum(times) + sum(line.kind == STEP for line in lines)
    assert all(20 <= x <= 190 - 2.4 and y < 280 for _, x, y in boxes)


def test_no_heading_stands_alone_at_the_foot_of_a_page(tmp_path: Path) -> None:
    small = [worked_round(Frame(*sides, 8), passives=0) for sides in ((13, 17), (14, 18), (16, 16))]
    for number, design in enumerate((FANS, *small)):
        done = work(design)
        file = tmp_path / f"{number}.pdf"
        page.write(order_pages(done, PLAIN, "a4"), file)
        headings = {line.words for line in order_lines(done, PLAIN) if line.kind == HEADING}
        for each in pypdfium2.PdfDocument(file):
            text = each.get_textpage()
            boxes = [text.get_rect(rect) for rect in range(text.count_rects())]
            # Above the foot of the page, which stands 10 mm from its lower edge.
            _, lowest = min((box[1], box) for box in boxes if box[1] > 15 * 72 / 25.4)
            last = text.get_text_bounded(*lowest).strip()
            assert not any(heading.startswith(last) or heading.endswith(last) for heading in headings)


def test_a_headside_all_round_has_no_horizontal_start() -> None:
    with pytest.raises(ValueError, match="cuts a fan or scallop of the headside: start along the corner line"):
        work(FANS, Habits(start_line=HORIZONTAL))


def test_a_gimp_round_one_of_many_blocks_is_told_once() -> None:
    # Blocks come again with every repeat; a gimp goes round the third of them alone.
    design = strip(Strip(13, 12, 8), DIAMOND, passives=2)
    done = work(design, Habits(gimp=(3,)))
    words = "\n".join(line.words for line in order_lines(done, PLAIN) if line.kind in (STEP, TEXT))
    again = [re.search(r"every block or fan (\d+)", line) for line in words.splitlines() if line.startswith("Work ")]
    assert words.count("Lay in a gimp pair") == words.count("Its gimp ends") == 1
    [before] = [line for line in words.splitlines() if "Lay in a gimp pair" in line]
    assert "Block 3 in cloth stitch" in before
    assert all(again)

"""Corner pins, the two start lines, the two methods and gimps: every paper tells and draws the same of them."""

from __future__ import annotations

import colorsys
import re
from itertools import product

import numpy as np
import pytest
from examples import band, diamond, make

from constraints.design import Design
from constraints.working.habits import CLOSED, CORNER, HORIZONTAL, OPEN, Habits
from constraints.working.numbers import number_at
from constraints.working.work import Work, work
from gallery.diagram.drawn import GIMP_COLOUR, Diagram, DiagramOptions
from gallery.diagram.legend import legend
from gallery.diagram.pages import facts
from gallery.order.words import STEP, Telling, order_lines
from gallery.paper.layers import Dots, Layer, Lines, Words
from gallery.pricking.drawn import Pricking, PrickingOptions
from gallery.pricking.parts import parts_of

DIAMONDS = make(12, [("cloth", diamond(-7, 0, 3))], symmetry="none", passives=2)
CORNERS = make(14, [("half", band(11, 9))], passives=0)
SQUARES = {"diamonds": DIAMONDS, "corners": CORNERS}
HABITS = [
    Habits(ground=ground, start_line=line, corner_pins=corner)
    for ground, line, corner in product((CLOSED, OPEN), (CORNER, HORIZONTAL), (False, True))
]
every = pytest.mark.parametrize("design", SQUARES.values(), ids=SQUARES)
worked = pytest.mark.parametrize("habits", HABITS, ids=str)


def told(done: Work, mirrored: bool = False) -> str:
    return "\n".join(line.words for line in order_lines(done, Telling("Order of work 07, greenhouse", mirrored)))


def words(layers: tuple[Layer, ...], name: str) -> list[Words]:
    return [mark for layer in layers if layer.name == name for mark in layer.marks if isinstance(mark, Words)]


@every
@worked
def test_the_same_pins_stand_on_pricking_and_diagram_and_in_the_order(design: Design, habits: Habits) -> None:
    done = work(design, habits)
    places = sorted(pin.place for pin in done.pins)
    (part,) = parts_of(design, "whole")
    pricking = Pricking(done, PrickingOptions(numbers=True))
    drawn = pricking.drawn(part)
    assert len(drawn.pins) == len(places)
    assert sorted(map(tuple, pricking.places.tolist())) == places
    assert len(words(drawn.layers, "numbers")) == len(places)
    diagram = Diagram(done, DiagramOptions(numbers=True))
    assert np.allclose(diagram.pins, diagram.mm(np.array([pin.place for pin in done.pins])))
    assert sorted(int(each.text) for each in words(diagram.layers, "numbers")) == list(range(1, len(places) + 1))
    text = told(done)
    assert f"{len(places)} pins" in text
    corners = [number_at(done)[x, y] for x, y in product((-design.half_size, design.half_size), repeat=2)
               if (x, y) in number_at(done)]  # fmt: skip
    steps = [line.words for line in order_lines(done, Telling("x")) if line.kind == STEP]
    said = [int(found[1]) for each in steps if (found := re.match(r"Corner pin (\d+):", each))]
    assert sorted(said) == sorted(corners)
    assert len(corners) == (4 if habits.corner_pins else 0)


@every
@worked
def test_every_pair_has_its_number_on_the_start_line(design: Design, habits: Habits) -> None:
    diagram = Diagram(work(design, habits), DiagramOptions())
    numbers = [int(each.text) for each in words(diagram.layers, "start")]
    assert numbers == list(range(1, design.pairs + 1))
    gaps = np.hypot(*(diagram.start.discs[:, None] - diagram.start.discs[None]).T)
    assert (gaps[~np.eye(len(gaps), dtype=bool)] > 0.54 - 1e-9).all()  # the discs are 0.54 units wide
    pins = np.array([pin.place for pin in diagram.work.pins])
    assert np.hypot(*(diagram.start.discs[:, None] - pins[None]).T).min() > 0.27 + 0.085  # and cover no pin


@every
@pytest.mark.parametrize("method", [CLOSED, OPEN])
def test_the_diagram_says_which_method_is_drawn(design: Design, method: str) -> None:
    diagram = Diagram(work(design, Habits(ground=method)), DiagramOptions())
    moves = {CLOSED: "CT, pin, CT", OPEN: "TC, pin, TC"}[method]
    said = [entry.words for entry in legend(diagram)]
    assert f"pair of the ground: {moves} where two meet at a pin" in said
    assert any(f"ground by the {method} method" in line for line in facts(diagram))
    if not design.passives:
        assert f"twisted footside: edge pair and pair of the ground, {moves}" in said


def test_footsides_are_called_by_their_kind() -> None:
    assert "twisted footside" in told(work(CORNERS))
    assert "footside of cloth with 2 passives" in told(work(DIAMONDS))
    said = [entry.words for entry in legend(Diagram(work(DIAMONDS), DiagramOptions()))]
    assert any(words.startswith("footside of cloth, 2 passives") for words in said)


@every
def test_a_horizontal_start_turns_the_pillow_once_more(design: Design) -> None:
    for mirrored, quarter in ((False, "left"), (True, "right")):
        text = told(work(design, Habits(start_line=HORIZONTAL)), mirrored)
        assert "horizontal start line" in text
        assert f"the {quarter} quarter" in text
        assert "turned four times" in text
        assert text.count("Turn the pillow a quarter") == 4
        assert f"The {quarter} quarter again, up to the start line" in text
    assert told(work(design)).count("Turn the pillow a quarter") == 3


def test_a_gimp_is_yellow_once_round_its_block_and_told() -> None:
    # Yellow: the list of the World Lace Congress Bruges 2018 (workshop page); hues from gold to yellow in CSS Color 4.
    hue, _, _ = colorsys.rgb_to_hsv(*(int(GIMP_COLOUR[i : i + 2], 16) / 255 for i in (1, 3, 5)))
    assert 40 <= 360 * hue <= 62
    done = work(DIAMONDS, Habits(gimp=(1,)))
    diagram = Diagram(done, DiagramOptions())
    lines = [mark for layer in diagram.layers if layer.name == "gimps" for mark in layer.marks]
    assert [mark.colour for mark in lines if isinstance(mark, Lines)] == [GIMP_COLOUR] * 2
    ends = [np.asarray(mark.path.vertices)[[0, -1]] for mark in lines if isinstance(mark, Lines)]
    assert np.allclose(ends[0], ends[1])
    assert any(entry.words.startswith("gimp pair round block 1:") for entry in legend(diagram))
    text = told(done)
    # A diamond of 3 x 3 pinholes: three pairs in and three out on either side.
    assert "it passes 6 pairs in and out, on the right 6. Block 1" in text
    assert text.count("Its gimp ends below the last pin.") == 1
    assert "gimp" not in told(work(DIAMONDS)).lower()
    assert "gimps" not in [layer.name for layer in Diagram(work(DIAMONDS), DiagramOptions()).layers]


def test_a_pin_of_a_corner_is_a_dot_like_others() -> None:
    done = work(DIAMONDS, Habits(corner_pins=True))
    (part,) = parts_of(DIAMONDS, "whole")
    layer = next(each for each in Pricking(done, PrickingOptions()).drawn(part).layers if each.name == "pinholes")
    assert sum(len(mark.centres) for mark in layer.marks if isinstance(mark, Dots)) == len(done.pins)

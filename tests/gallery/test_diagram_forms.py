"""Working diagrams of strips, frames and pieces with a headside; what they take; the parts of their prickings."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from designs import diamond, made
from strips import SCALLOP_OF_1886, strip, worked_across, worked_round

from constraints import forms
from constraints.check import check
from constraints.design import Design
from constraints.edgings import Fan, Scallop
from constraints.edgings.outer_side import curved
from constraints.forms import Frame, Rectangle, Strip
from constraints.materials import Allowances, materials
from constraints.working.work import work
from explore.papers.materials import swatch_of, told
from gallery.diagram.drawn import RIM, STRIP_RIM, Diagram, DiagramOptions, size_of
from gallery.diagram.legend import legend
from gallery.diagram.pages import clear_scale, facts, pages, tiles_of
from gallery.paper.layers import Dots, Words
from gallery.pricking.drawn import Pricking, PrickingOptions
from gallery.pricking.parts import QUARTER, parts_of

FAN, SCALLOP = Fan("cloth", 4, 2, 2), Scallop("half", 4, 5, 2)
PIECES = {
    "frame": worked_round(Frame(20, 26, 12), ("half", diamond((-13, 2), 3)), passives=1),
    "frame with fans": worked_round(Frame(20, 26, 12, Fan("half", 3, 2, 2)), passives=2),
    "square with fans": worked_round(forms.Square(17, FAN)),
    "square with a scallop": worked_round(forms.Square(17, SCALLOP)),
    "strip": strip(Strip(13, 12, 3), ("cloth", {(x, y % 12) for x, y in diamond((6, 1), 3)}), passives=2),
    "edging of 1886": strip(Strip(5, 6, 4, SCALLOP_OF_1886), passives=1),
    "rectangle with fans": worked_across(Rectangle(14, 21, Fan("half", 4, 2, 20)), ("cloth", diamond((0, 0), 3))),
    "fans on both sides": strip(Strip(15, 16, 3, Fan("cloth", 4, 2, 1), True)),
}
every = pytest.mark.parametrize("design", PIECES.values(), ids=PIECES)


def drawn(design: Design, footside: str = "left") -> Diagram:
    return Diagram(work(design), DiagramOptions(2.0, footside, True))


@every
def test_pins_stand_where_the_pricking_has_them(design: Design) -> None:
    diagram = drawn(design)
    pricked = curved(diagram.piece, np.array([pin.place for pin in diagram.work.pins]))
    # Twice as large: a pitch of 5 mm is two units, so a unit is 5 mm on the drawing.
    apart = diagram.pins[:, None] - diagram.pins[None]
    assert np.allclose(apart, 5.0 * (pricked[:, None] - pricked[None]))
    left, top, right, bottom = design.form.bounds
    beside = STRIP_RIM if isinstance(design.form, Strip) else RIM
    assert diagram.size == pytest.approx((5.0 * (right - left + 2 * beside), 5.0 * (bottom - top + 2 * RIM)))
    low, high = diagram.pins.min(axis=0), diagram.pins.max(axis=0)
    assert (low > 0).all()
    assert (high < diagram.size).all()


@every
def test_every_line_lies_on_the_drawing_and_every_pair_has_its_number(design: Design) -> None:
    diagram = drawn(design)
    points = diagram.lace(np.concatenate([each.points.reshape(-1, 2) for each in diagram.inking.inked]))
    assert (points > 0).all()
    assert (points < diagram.size).all()
    start = next(layer for layer in diagram.layers if layer.name == "start")
    discs = [mark for mark in start.marks if isinstance(mark, Words)]
    assert [int(each.text) for each in discs] == list(range(1, design.pairs + 1))
    places = np.array([(each.x, each.y) for each in discs])
    assert (places > 0).all()
    assert (places < diagram.size).all()


@every
def test_the_other_hand_mirrors_the_whole_drawing(design: Design) -> None:
    left, right = drawn(design), drawn(design, "right")
    assert np.allclose(left.pins * (-1, 1) + (left.size[0], 0), right.pins)


def test_passives_of_a_scallop_are_hung_in_the_order_of_its_row() -> None:
    # Told from the left: passives, then the edge pair outermost; so their lines do not cross above the first row.
    diagram = drawn(PIECES["edging of 1886"])
    pairs = diagram.start.hung[-5:]
    x = diagram.lines.first[pairs][:, 0]
    assert (np.diff(x) > 0).all()
    assert set(pairs[:-1]) == set(diagram.work.passives_hung[1:])


def test_legend_and_facts_name_the_edges_that_there_are() -> None:
    words = {name: "; ".join(entry.words for entry in legend(drawn(design))) for name, design in PIECES.items()}
    assert "valley pin between two fans" in words["square with fans"]
    assert "footside" not in words["square with fans"]
    assert "the same colour at valley pins" in words["frame with fans"]
    assert "a pair hung on, counted from the headside" in words["square with a scallop"]
    assert "corner line" in words["frame"]
    assert "corner line" not in words["strip"]
    assert facts(drawn(PIECES["strip"]))[0].startswith("Finished size 30 x 87.5 mm")
    assert facts(drawn(PIECES["strip"]))[2].startswith("Worked down from the top row")
    assert "headside on the right" in facts(drawn(PIECES["square with fans"], "right"))[2]


def test_a_strip_goes_on_pages_one_below_the_other() -> None:
    tiled = tiles_of(drawn(strip(Strip(13, 12, 12), passives=2)).size, "a4")
    assert (tiled.columns, tiled.rows) == (1, 3)


def test_a_strip_is_drawn_as_large_as_goes_on_one_page_side_by_side() -> None:
    # 24 columns and fans 1.5 units deep: 61.25 mm wide, and 2.6 units of room on either side; A4 takes 194 mm.
    wide = strip(Strip(24, 12, 3, Fan("cloth", 3, 2, 0)), passives=1)
    scale = clear_scale(wide, "a4")
    assert (61.25 + 2 * 2.6 * 2.5) * scale <= 194 < (61.25 + 2 * 2.6 * 2.5) * (scale + 0.05)
    assert tiles_of(size_of(wide, scale), "a4").columns == 1


def test_of_a_long_strip_the_first_repeats_are_drawn() -> None:
    diagram = Diagram(work(strip(Strip(13, 12, 60), passives=2)), DiagramOptions(3.0))
    held = pages(diagram, "greenhouse", "a4")
    assert len(held) == 13
    words = [mark.text for layer in held[0].layers for mark in layer.marks if isinstance(mark, Words)]
    [said] = [each for each in words if "drawn are the first" in each]
    count = int(said.split("drawn are the first ")[1].split()[0])
    # 12 rows of 7.5 mm each: one repeat more would need another page of 267 mm, with 10 mm laid over the next.
    assert 12 * 7.5 * count < 12 * 274 < 12 * 7.5 * (count + 3) + 12 * 15
    assert "drawn are" not in " ".join(facts(drawn(PIECES["strip"])))


# --- materials and prickings -----------------------------------------------------------------------------


def test_a_strip_needs_a_pillow_for_its_width_and_a_frame_for_its_longer_side() -> None:
    long = materials(work(strip(Strip(13, 12, 20), passives=2)))
    # 30 mm wide, 597.5 mm long; 20 mm of card and 120 mm of pillow beside it.
    assert long.card_mm == pytest.approx((70.0, 637.5))
    assert long.pillow_mm == pytest.approx(270.0)
    assert materials(work(PIECES["frame"])).pillow_mm == pytest.approx(130.0 + 240.0)
    said = dict(told(long, Allowances()))
    assert said["Finished size"].startswith("30 x 597.5 mm")
    assert "whole repeats round a roller" in said["Card"]
    assert said["Passives"] == "2 at the left edge and 2 at the right edge"
    assert dict(told(materials(work(PIECES["frame"])), Allowances()))["Card"] == "at least 140 x 170 mm"


@pytest.mark.parametrize("name", ["strip", "edging of 1886", "square with fans", "rectangle with fans"])
def test_a_swatch_has_the_edges_of_the_piece(name: str) -> None:
    design = PIECES[name]
    swatch = swatch_of(design, cores=1)
    assert swatch is not None
    assert check(swatch) == []
    if isinstance(design.form, Strip):
        assert isinstance(swatch.form, Strip)
        assert (swatch.form.repeats, swatch.pairs) == (2, design.pairs)
    assert (swatch.form.headside is None) == (design.form.headside is None)


def test_the_name_of_a_quarter_keeps_off_the_word_at_the_start() -> None:
    for design in (made(8), PIECES["frame"]):
        pricking = Pricking(work(design), PrickingOptions())
        for part in parts_of(design, QUARTER):
            words = [mark for layer in pricking.drawn(part).layers for mark in layer.marks if isinstance(mark, Words)]
            boxes = [mark.box for mark in words if mark.text == "start" or mark.text.startswith("quarter")]
            for number, (a, b, c, d) in enumerate(boxes):
                for e, f, g, h in boxes[number + 1 :]:
                    assert a > g or c < e or b > h or d < f


def test_no_page_is_spent_on_the_opening_of_a_frame() -> None:
    """Pages are numbered through, every pin lies on one of them, and none is without a pair."""
    diagram = drawn(worked_round(Frame(60, 70, 10), passives=1))
    tiled = tiles_of(diagram.size, "a4")
    found = pages(diagram, "greenhouse", "a4")
    assert len(found) < len(tiled) + 1
    told = [mark.text for leaf in found[1:] for layer in leaf.layers for mark in layer.marks if isinstance(mark, Words)]
    said = [each for each in told if ", page " in each]
    assert [each.split(", page ")[1] for each in said] == [f"{n} of {len(found)}" for n in range(2, len(found) + 1)]
    pins = sum(len(mark.centres) for leaf in found[1:] for layer in leaf.layers if layer.name == "pins"
               for mark in layer.marks if isinstance(mark, Dots))  # fmt: skip
    assert pins >= len(diagram.work.pins)


def test_a_frame_is_drawn_smaller_where_its_band_then_goes_on_one_page_side_by_side() -> None:
    # At 4 mm a band of 24 units is 48 mm wide; with 3.4 units of room it takes 54.8 mm, and A4 has 194 mm for it: not
    # at 15 mm a pitch, 3.75 times as large, but at 3.54.
    design = replace(worked_round(Frame(50, 60, 24), passives=1), pitch_mm=4.0)
    scale = clear_scale(design, "a4")
    assert 12 / 4 <= scale <= 194 / 54.8
    taken = {
        each: len(pages(Diagram(work(design), DiagramOptions(each)), "greenhouse", "a4")) for each in (scale, 3.75)
    }
    assert taken[scale] - 1 <= (taken[3.75] - 1) * 2 / 3
    # One that takes few pages as it is keeps its clear scale.
    assert clear_scale(PIECES["frame"], "a4") >= 15 / PIECES["frame"].pitch_mm

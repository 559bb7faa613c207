"""Eyes of what commands make of a piece: kept where their block is whole, told where one must go.

Which pinholes have cloth of one block on every side is counted here on the files' places alone; that an eye needs it is
from a lacemaker's memory, no source.
"""

from __future__ import annotations

from dataclasses import replace

import pytest
from asked import Ask, Keep
from designs import Points, blocks, diamond, diamond_print, made
from reflected import folded
from strips import strip
from walls import BRIEF as WALL
from walls import four, hand_made

from constraints.brief import Brief
from constraints.check import check
from constraints.design import Design
from constraints.design_file import from_text
from constraints.differing import PinholeChange, differences
from constraints.forms import Frame, Strip
from constraints.lattice import Point
from constraints.mirrors import Corner, corners
from constraints.working.check import faults
from constraints.working.work import work
from explore.editing.mirroring.centres import filled
from explore.editing.mirroring.joining import Joined
from explore.editing.mirroring.offers import Mirrored
from explore.editing.series import kin
from explore.editing.series.family import family
from explore.editing.varying.cousins import cousins
from explore.editing.varying.kept import kept
from explore.editing.varying.setting import VaryingContext, values_of
from explore.editing.varying.steps import steps

ANY = {"solid": (0.0, 1.0)}
# A diamond of five pinholes a side in every repeat, and its middle.
STRIP, DIAMOND, EYE = Strip(13, 24, 3), diamond((6, 7), 5), (6, 11)
ASKED = Brief.of(form="strip", worked="across", symmetry="suits", pairs=40, rows=(24, 24), count=1, match=0.6)


def _strip(block: Points = DIAMOND, splits: int = 0) -> Design:
    found = strip(STRIP, ("cloth", block), brief={**ANY, "splits": splits})
    return replace(found, splits=splits, eyes=tuple((6, y) for y in (11, 35, 59)))


def _whole(design: Design, eye: Point, size: int = 5) -> bool:
    """Whether a diamond of cloth lies whole round an eye, as a block of its own."""
    wanted = diamond((eye[0], eye[1] - size + 1), size)
    return any({*block.pinholes} == wanted and block.stitch == "cloth" for block in design.blocks)


# --- frames and mats -------------------------------------------------------------------------------------


def _frame(piece: Design, corner: Corner, turnover: int, repeats: tuple[int, int]) -> Joined | None:
    return Mirrored(piece, ASKED).frame(corner, (turnover, turnover), repeats, 0.5)


def test_a_frame_has_an_eye_wherever_it_has_the_block_whole() -> None:
    piece, left_out, tried = _strip(), set(), 0
    for corner in corners(STRIP)[::3]:
        done = _frame(piece, corner, 0, (2, 1))
        if done is None:
            continue
        frame = done.frame
        assert isinstance(frame.form, Frame)
        asked = {place for place in frame.piece().index if folded(frame.form, STRIP, corner, place)[0] == EYE}
        assert {place for place in asked if _whole(frame, place)} <= {*frame.eyes} <= asked
        assert done.eyes_left_out == len(asked) - len(frame.eyes)
        assert (check(frame), faults(work(frame))) == ([], [])
        left_out.add(done.eyes_left_out)
        tried += len(frame.eyes)
    assert tried > 30
    # At some corners a diamond goes over the corner line, where its worker turns beside the eye.
    assert 0 in left_out
    assert max(left_out) > 0


def test_a_frame_tells_of_eyes_that_it_leaves_out(ask: Ask, keep: Keep) -> None:
    keep(ASKED, [_strip()])
    told = {}
    for number in ("1", "12"):
        status, lines, _ = ask("frame", "edgings", "1", "--corner", number, "--repeats", "1")
        assert status == 0
        told[lines[0].rpartition("eyes left out")[0].rpartition(", ")[2].strip()] = lines[0]
    assert "" in told
    assert len(told) > 1


def test_a_frame_may_split_in_every_repeat_as_often_as_the_strip() -> None:
    """Without its top pinhole the diamond has two arms at first, which merge: one split in every repeat."""
    block = DIAMOND - {(6, 7)}
    piece = _strip(block, splits=1)
    assert check(piece) == []
    done = _frame(piece, Corner(0, True), 0, (2, 2))
    assert done is not None
    assert not done.changed.any()
    assert (len(done.frame.blocks), done.frame.splits, check(done.frame)) == (16, 16, [])


def test_a_mat_has_the_eyes_of_its_frame_and_of_its_middle() -> None:
    done = _frame(_strip(), Corner(0, False), 0, (2, 2))
    assert done is not None
    frame = done.frame
    assert frame.eyes
    half = frame.form.opening[0]
    centre = made(half, *blocks("cloth", diamond((0, 5 - half), 5)), symmetry="none").opened([(0, 9 - half)])
    mat = filled(frame, centre, Mirrored(_strip(), ASKED).brief)
    assert mat is not None
    assert {*mat.design.eyes} == {*frame.eyes, *centre.eyes}


# --- cousins and small steps -----------------------------------------------------------------------------

TOP = (-10, -3)
LEFT: Points = diamond(TOP, 5)
BOTH = ((10, -1), (-10, 1))
SQUARE = replace(
    made(18, *blocks("cloth", LEFT), *blocks("cloth", {(-x, -y) for x, y in LEFT}), symmetry="half-turn"),
    eyes=BOTH,
)
VARIED = Brief.of(pairs=20, half_size=(18, 18), symmetry="half-turn", worked="round", count=3, solid=(0.0, 1.0))


def _setting(design: Design) -> VaryingContext:
    return VaryingContext(design, VARIED, (), kept(design, []))


def test_small_steps_keep_the_eyes_of_every_block_that_they_leave() -> None:
    """Without a print: these may be of a piece with another edging, or written into its file."""
    found = [step.design for step in steps(_setting(SQUARE)) if step.design is not None]
    assert len(found) > 5
    for design in found:
        whole = all(_whole(design, eye) for eye in BOTH)
        assert design.eyes == BOTH or not whole
    assert {design.eyes for design in found} == {(), BOTH}


def test_cousins_keep_the_eyes_of_every_block_that_is_kept() -> None:
    every = cousins(SQUARE, VARIED, (), kept(SQUARE, ["-18,-5:-2,7"]), (0.05, 0.3), count=3, cores=1)
    found = [step.design for step in every if step.design is not None]
    assert len(found) == 3
    assert {design.eyes for design in found} == {BOTH}


def test_a_square_that_would_lose_an_eye_which_is_kept_is_not_made() -> None:
    """All pinholes round it stay in a block, but that block goes over a corner line in its row."""
    chosen = made(18, *blocks("cloth", LEFT), symmetry="none").opened([(-10, 1)])
    brief = VARIED.changed(symmetry="none", narrowest=1)
    other = replace(chosen, blocks=tuple(blocks("cloth", diamond((-7, -6), 8))), eyes=())
    for keep, same in ((["-11,0:-9,2"], False), (["-18,10:18,18"], True)):
        setting = VaryingContext(chosen, brief, (), kept(chosen, keep))
        again = setting.made(values_of(setting.context.model, other), "another")
        assert (again is not None and (again.blocks, again.eyes) == (other.blocks, ())) == same


@pytest.mark.parametrize("eyes", [BOTH, ()])
def test_a_varied_square_has_no_eyes_of_its_own(eyes: tuple[Point, ...]) -> None:
    """As in the chosen square, though its print has a hole there: a step changes one thing."""
    hole = tuple((x, y) for x, y in ((-10.9, 0.1), (-9.1, 0.1), (-9.1, 1.9), (-10.9, 1.9)))
    printed = diamond_print((-10.0, 1.0), 5.0)
    printed = replace(printed, outlines=(*printed.outlines, hole))
    setting = _setting(replace(SQUARE, eyes=eyes, prints=(printed,)))
    again = setting.made(setting.values, "the same")
    assert again is not None
    assert ({*again.blocks}, again.eyes) == ({*SQUARE.blocks}, eyes)


# --- series, fit, compare --------------------------------------------------------------------------------


def test_new_squares_of_a_series_have_the_eyes_of_the_part_they_share() -> None:
    wall = WALL.changed(stitches=("cloth", "half", "rose", "double-ground"))
    eyes = ((0, -7), (-7, 0), (7, 0), (0, 7))
    model = replace(hand_made(14, [("cloth", four(8, 0, 4))]), eyes=eyes, brief=wall.rules.told())
    assert check(model) == []
    shared = family("trail", [model])
    found = [design for design in kin.kin(wall, (), shared, model, [model], 2, 1) if design is not None]
    assert found
    for design in found:
        assert {*design.eyes} == {*eyes}
        assert check(design) == []


def test_what_is_made_to_fit_has_an_eye_in_every_block(ask: Ask, keep: Keep) -> None:
    study = keep(ASKED, [_strip()])
    ways = (["--for", "30x300mm"], ["--for", "45x300mm", "--edging", "cloth fan 4"])
    for number, way in enumerate(ways, 2):
        status, lines, _ = ask("fit", "edgings", "1", *way, "--ease", "40mm", "--apply", "1")
        assert status == 0, lines
        found = from_text((study.folder / "squares" / f"{number:02d}.json").read_text())
        diamonds = [block for block in found.blocks if len(block.pinholes) == 25]
        assert len(diamonds) > 3
        assert {*found.eyes} == {(block.pinholes[0][0], block.pinholes[0][1] + 4) for block in diamonds}
        assert check(found) == []


def test_a_comparison_tells_of_an_eye_that_one_has_alone(ask: Ask, keep: Keep) -> None:
    keep(VARIED, [SQUARE, replace(SQUARE.opened(()), number=2)])
    status, lines, _ = ask("compare", "edgings", "1", "2")
    assert status == 0
    words = "alike but for stitch, legs or an eye"
    assert [line.split()[-3:] for line in lines if line.startswith(words)] == [["2", "pinholes,", "0.3%"]]
    assert "the same, pinhole for pinhole" not in lines
    found = differences(SQUARE, SQUARE.opened(()))
    assert (found.count(PinholeChange.ALIKE), found.share) == (2, 0.0)
    # Turned, its eyes turn along.
    assert not differences(SQUARE, replace(SQUARE, symmetry="none")).eyes_differ

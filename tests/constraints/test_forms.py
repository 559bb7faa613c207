"""Every form is a piece on which pairs balance, and takes the pairs that the trade says."""

from __future__ import annotations

import json
from dataclasses import replace

import networkx
import numpy as np
import pytest
from designs import diamond, spiders
from flows import single_pins
from hypothesis import given, settings
from hypothesis import strategies as some
from strips import SCALLOP_OF_1886, strip, worked_round

from constraints import forms
from constraints.check import check
from constraints.design_file import from_text, to_text
from constraints.edgings import EDGINGS, Fan
from constraints.edgings.headside import corner, fits_corner, offsets
from constraints.flow import flow_of, pair_arcs
from constraints.forms import Form, Frame, Rectangle, Strip
from constraints.reader import Reader
from constraints.repeats import repeat_of, unrolled
from constraints.symmetry import OF_STRIPS
from constraints.whole import whole

HALF_SIZES = some.integers(2, 14)


@some.composite
def frames(draw: some.DrawFn) -> Frame:
    width, height = draw(HALF_SIZES), draw(HALF_SIZES)
    return Frame(width, height, draw(some.integers(1, min(width, height) - 1)))


@settings(max_examples=60)
@given(
    frames()
    | some.builds(Rectangle, HALF_SIZES, HALF_SIZES)
    | some.builds(Strip, some.integers(2, 15), some.integers(1, 10).map(lambda n: 2 * n), some.integers(2, 3))
)
def test_every_form_has_two_pairs_in_and_out_everywhere_and_the_pairs_of_the_table(form: Form) -> None:
    """Irvine and Ruskey 2014: 2-in 2-out; frame (N - M) + 2(1 + p), strip c + 1 + 2p (Edkins' strips, plain edges)."""
    [worked] = form.ways
    piece = form.piece(worked, "none")
    run = flow_of(piece, single_pins(piece))
    assert set(run.pairs_in.tolist()) == set(run.pairs_out.tolist()) == {2}
    assert set(run.across_cuts.tolist()) == {form.pairs(worked, 0)}
    arcs = run.arcs[(run.arcs >= 0).all(axis=1)]
    assert networkx.is_directed_acyclic_graph(networkx.DiGraph(arcs.tolist()))
    ends = run.between[~run.at_start & (run.between < 0).any(axis=1)].max(axis=1)
    assert piece.free[ends].all()
    expected = {Frame: lambda f: f.band + 2, Rectangle: lambda f: 2 * f.half_width + 2, Strip: lambda f: f.columns + 1}
    assert run.pairs == expected[type(form)](form)


@given(frames())
def test_no_pinhole_of_a_frame_lies_on_a_corner_line(frame: Frame) -> None:
    piece = frame.piece("round", "none")
    from_side = np.array([frame.half_width, frame.half_height]) - np.abs(piece.pinholes)
    assert (from_side[:, 0] != from_side[:, 1]).all()


@given(frames())
def test_one_more_step_crosses_each_corner_line_than_the_band_has_lines(frame: Frame) -> None:
    """N - M + 1 steps: the inner edge pair makes one of them."""
    piece = frame.piece("round", "none")
    tails, steps = np.nonzero(piece.runs_out & (piece.neighbours >= 0))
    heads = piece.neighbours[tails, steps]
    for before in range(4):
        over = (piece.zone[tails] == before) & (piece.zone[heads] == (before + 1) % 4)
        assert over.sum() == frame.band + 1


# --- headsides -------------------------------------------------------------------------------------------


def test_the_edging_of_1886_takes_ten_pairs() -> None:
    """Dillmont 1886, fig. 799: three lines, six pairs at the valley, one edge pair."""
    edging = strip(Strip(5, 6, 3, SCALLOP_OF_1886))
    assert check(edging) == []
    assert edging.pairs == 3 + 6 + 1 == 10


def test_a_sampler_with_fans_on_both_sides_takes_twelve_pairs() -> None:
    """Jo Edkins' teaching sampler: a diamond of five pinholes a side between pointed fans, 8 + 2 + 2 pairs."""
    form = Strip(11, 8, 2, Fan("cloth", 2, 2, 1), both=True)
    assert form.pairs("across", 1) == 8 + 2 + 2


@pytest.mark.parametrize("depth", range(2, 7))
def test_whole_fans_fit_a_square_just_where_building_them_one_by_one_ends_alike(depth: int) -> None:
    """The congruence N = 2t + 1 (mod h) against fans set one after the other along the side."""
    for side in range(1, 41):
        for t in range(1, side):
            last = side - 1 - 2 * t
            row = last
            while row > -last:
                row -= 2 * depth
            built = last >= 0 and row == -last
            assert fits_corner(side, Fan("cloth", depth, 2, t)) == built, (side, t)


@pytest.mark.parametrize("depth", [2, 3, 4, 5])
@pytest.mark.parametrize("side", [13, 14])
def test_as_few_pairs_cross_a_corner_line_within_a_corner_fan_as_whole_fans_allow(depth: int, side: int) -> None:
    """Corner fans are turned about an inner pin; three pairs over the line beside the edge pair look well, more form a
    knot (by eye, in drawings of the threads)."""

    def over_line(first: int) -> int:
        piece = forms.Square(side, Fan("cloth", depth, 2, first)).piece("round", "none")
        before, after = pair_arcs(piece).T
        both = piece.fan[before] & piece.fan[after] & (piece.zone[before] != piece.zone[after])
        edge = piece.edge_next[before] == after
        return int((both & ~edge).sum()) // 4

    found = corner(side, Fan("cloth", depth, 2, 0))
    fitting = [t for t in range(1, side) if t in offsets(side, depth)]
    if found is not None:
        assert over_line(found.first) == min(over_line(t) for t in fitting)
    else:
        assert all(over_line(t) > depth for t in fitting)


@pytest.mark.parametrize("depth", range(2, 7))
def test_every_corner_has_a_fan_of_its_own(depth: int) -> None:
    """With t = 0 the valleys before and after a corner would be its last pins, 0.71 pitch apart, and nothing between
    them to be worked: no such headside fits, is offered or passes the check."""
    for side in range(4, 41):
        assert not fits_corner(side, Fan("cloth", depth, 2, 0))
        assert 0 not in offsets(side, depth)
        found = corner(side, Fan("cloth", depth, 2, 0))
        if found is not None:
            piece = forms.Square(side, found).piece("round", "full")
            beyond = side - 1 - 2 * found.first
            assert piece.fan[(abs(piece.pinholes) > beyond).all(axis=1)].any()
    refused = worked_round(forms.Square(depth * 4 + 1, Fan("cloth", depth, 2, 0)))
    assert any("corner" in str(each) or "fan" in str(each) for each in check(refused))


@pytest.mark.parametrize("depth", range(2, 7))
def test_whole_fans_fit_a_rectangle_just_where_building_them_one_by_one_ends_at_its_last_pin(depth: int) -> None:
    """From the first edge pin, a unit below the top edge, one fan after another."""
    for high in range(2, 30):
        row = 1 - high
        while row < high - 1:
            row += 2 * depth
        made = Rectangle.sized(12, high, None, Fan("cloth", depth, 2))
        assert (made is not None) == (row == high - 1)
        if made is not None:
            piece = made.piece("across")
            assert not piece.fan[abs(piece.pinholes[:, 1]) == high].any()
            one = sum((depth - abs(row)) // 2 + 1 for row in range(1 - depth, depth))
            assert piece.fan.sum() == 2 * (high - 1) // depth * one


def test_a_rectangle_takes_the_pairs_of_a_strip_as_wide_with_a_headside_on_both_sides() -> None:
    """As many lines, and at every valley the pairs that the headside says."""
    for kind in EDGINGS.values():
        for headside in kind.offered():
            rectangle = Rectangle.sized(12, 1 + 2 * headside.depth, None, headside)
            assert rectangle is not None
            strip_ = Strip(25, headside.period, 3, headside, both=True)
            assert rectangle.pairs("across", 1) == strip_.pairs("across", 1)


@pytest.mark.parametrize("kind", ["fan", "scallop"])
def test_a_square_with_a_headside_can_be_worked(kind: str) -> None:
    headside = EDGINGS[kind]("half", 4, 2 if kind == "fan" else 5, 2)
    design = worked_round(forms.Square(17, headside))
    assert check(design) == []
    # A round mat with pointed fans takes N + 1 pairs.
    assert design.pairs == 17 + 1 + headside.passives
    assert from_text(to_text(design)) == design


def test_a_frame_with_fans_and_blocks_can_be_worked() -> None:
    frame = worked_round(Frame(20, 26, 12, Fan("cloth", 3, 2, 2)), ("half", diamond((-12, 3), 3)))
    assert [str(each) for each in check(frame)] == []


# --- strips ----------------------------------------------------------------------------------------------


def test_blocks_and_spiders_over_the_seam_are_whole_in_every_repeat() -> None:
    form = Strip(13, 12, 3)
    made = strip(form, ("cloth", {(x, y % 12) for x, y in diamond((6, 1), 3)}), spiders({(6, 8)}, 8))
    assert check(made) == []
    assert len(made.fillings[0].places) == 3
    repeat = repeat_of(made)
    assert [len(block.pinholes) for block in repeat.design.blocks] == [9]
    assert unrolled(repeat.design, form) == made
    assert from_text(to_text(made)) == made


def test_repeats_that_differ_are_told() -> None:
    made = strip(Strip(13, 12, 3), ("cloth", diamond((6, 5), 3)))
    broken = replace(made, blocks=made.blocks[:-1])
    assert {each.rule for each in check(broken)} == {"repeat"}


@pytest.mark.parametrize("symmetry", OF_STRIPS)
def test_the_symmetries_of_a_strip_move_its_grid_onto_itself(symmetry: str) -> None:
    piece = Strip(9, 20, 2).repeat(symmetry)
    for moved in piece.images:
        assert sorted(moved.tolist()) == list(range(len(piece)))


def test_a_form_has_the_symmetries_that_its_grid_and_its_headside_allow() -> None:
    oblong = Frame(9, 12, 4).symmetries_allowed("round")
    assert oblong == ("half-turn", "upright-mirrors", "upright-mirror", "none")
    assert "full" in Frame(9, 9, 4).symmetries_allowed("round")
    fan = Fan("cloth", 3, 2, 3)
    assert Strip(9, 12, 2, fan).symmetries_allowed("across") == ("none", "level-mirror")
    assert "upright-mirrors" in Strip(9, 12, 2, fan, both=True).symmetries_allowed("across")
    assert "glide" not in Strip(9, 10, 2).symmetries_allowed("across")
    assert "glide" in Strip(9, 20, 2).symmetries_allowed("across")
    broken = replace(worked_round(Frame(9, 12, 4)), symmetry="full")
    assert [str(each) for each in check(broken)] == [
        f"values: this frame cannot have the symmetry full; it can: {', '.join(oblong)}"
    ]


# --- what every form tells --------------------------------------------------------------------------------

EVERY = (
    forms.Square(9),
    forms.Square(17, Fan("half", 4, 2, 2)),
    Rectangle(5, 9),
    Rectangle(8, 13, Fan("cloth", 3, 2, 12)),
    Frame(9, 12, 4),
    Frame(20, 26, 12, Fan("cloth", 3, 2, 2)),
    Strip(11, 12, 3),
    Strip(11, 8, 2, Fan("cloth", 2, 2, 1), both=True),
)


def test_a_form_that_lacks_a_part_is_refused_with_what_it_lacks() -> None:
    class Bookmark(Form):
        name = "bookmark"
        ways = ("across",)

    with pytest.raises(TypeError, match=r"^the form Bookmark lacks .*\bbox\b.*\bpiece\b.*\bcut\b"):
        whole(Bookmark, Form, "form")


def test_every_form_is_among_those_told_here() -> None:
    assert {form.name for form in EVERY} == set(forms.FORMS)


@pytest.mark.parametrize("form", EVERY, ids=str)
def test_a_form_comes_back_from_its_file(form: Form) -> None:
    assert forms.FORMS[form.name].decode(Reader(json.loads(json.dumps(form.encode())), "a form")) == form


@pytest.mark.parametrize("form", EVERY, ids=str)
def test_the_measures_of_a_form_are_those_of_its_piece(form: Form) -> None:
    """Counted on the pinholes themselves: none lies at the very corner, so that each outer line has one."""
    worked = form.ways[0]
    piece = form.piece(worked)
    low, high = piece.pinholes.min(axis=0), piece.pinholes.max(axis=0)
    assert (*low.tolist(), *high.tolist()) == form.box
    assert (form.width, form.height) == tuple((high - low).tolist())
    assert set((piece.pinholes.sum(axis=1) % 2).tolist()) == {form.parity}
    assert form.area == pytest.approx(len(piece), rel=0.25)
    hole = piece.pinholes[(np.abs(piece.pinholes) < np.array(form.opening)).all(axis=1)]
    assert len(hole) == 0
    assert form.has_opening == any(form.opening)
    assert piece.headside_edges == form.headside_edges


@pytest.mark.parametrize("form", EVERY, ids=str)
def test_what_is_composed_is_one_repeat_or_all_of_it(form: Form) -> None:
    once, whole = form.once(form.ways[0], "none"), form.piece(form.ways[0])
    times = 1 if form.repeating is None else form.repeating.repeats
    assert len(once) * times == len(whole)
    assert (once.setting.wrap.rows > 0) == (form.repeating is not None)


def test_squares_of_any_size_lie_on_each_other_and_others_on_pieces_of_one_outline_or_repeat() -> None:
    square, frame, strip = forms.Square(5), Frame(9, 12, 4), Strip(11, 12, 3)
    assert square.comparable(forms.Square(9))
    assert strip.comparable(replace(strip, repeats=7))
    assert frame.comparable(replace(frame))
    for one, other in ((square, Rectangle(5, 5)), (frame, Frame(9, 12, 3)), (strip, Strip(11, 10, 3)), (strip, square)):
        assert not one.comparable(other)
        assert not other.comparable(one)

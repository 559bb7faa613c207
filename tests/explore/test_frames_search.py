"""The search for frames and rectangles: every one can be worked, keeps its measures, and is the same on any machine."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from constraints.brief import Brief
from constraints.check import check
from constraints.design import Design
from constraints.design_file import to_text
from constraints.difference import difference
from constraints.edgings import named
from constraints.forms import Frame, Rectangle
from constraints.working import check as working
from constraints.working.work import work
from explore import asking
from explore.reading import built_in, read
from explore.search import memory
from explore.search.frames.measures import conflict, forms_of, further
from explore.search.search import Impossible, search

FANS = named("cloth fan 3")
FRAME = asking.from_toml('form = "frame"\nhalf_size = 20\ncount = 4\nstamp = ""', "a test")
OBLONG = FRAME.changed(half_height=27, symmetry="upright-mirrors")
MAT = asking.from_toml('form = "rectangle"\nhalf_size = 10\nhalf_height = 15\ncount = 4\nstamp = ""', "a test")


def found(brief: Brief, stamp: str = "", cores: int = 1) -> list[Design]:
    shape = read(built_in(stamp)) if stamp else None
    return [step.design for step in search(brief, shape, cores=cores) if step.design is not None]


@pytest.mark.parametrize(
    "brief",
    [
        FRAME,
        OBLONG,
        MAT,
        FRAME.changed(symmetry="quarter-turn"),
        FRAME.changed(half_size=(22, 22), half_height=25, symmetry="upright-mirrors", headside=FANS),
        FRAME.changed(half_size=(21, 21), headside=named("half scallop 2 with 4 pairs")),
        MAT.changed(half_size=(13, 13), half_height=19, pairs=34, headside=FANS),
        MAT.changed(half_size=(14, 14), half_height=21, pairs=34, headside=named("ground scallop 5 with 4 pairs")),
    ],
    ids=["frame", "oblong", "rectangle", "turned", "fans", "scallop", "rectangle with fans", "ground scallops"],
)
def test_all_that_is_found_is_as_asked_and_can_be_worked(brief: Brief) -> None:
    pieces = found(brief)
    assert len(pieces) == 4
    for number, each in enumerate(pieces):
        assert each.form in forms_of(brief)
        assert each.pairs <= brief.rules.pairs
        assert check(each) == []
        assert working.faults(work(each)) == []
        assert all(difference(each, other) >= brief.run.apart for other in pieces[:number])


def test_an_opening_is_half_as_large_as_the_frame_unless_she_names_the_band() -> None:
    (form,) = forms_of(FRAME)
    assert isinstance(form, Frame)
    assert form.opening == (10, 10)
    assert [each.opening for each in forms_of(FRAME.changed(band=7)) if isinstance(each, Frame)] == [(13, 13)]


def test_a_band_that_she_leaves_open_is_as_wide_as_her_pairs_allow_and_a_named_one_leaves_an_opening() -> None:
    """A frame takes a pair for every half pitch of its band and four at its edges; common practice, no source."""
    (narrow,) = forms_of(FRAME.changed(pairs=12))
    assert isinstance(narrow, Frame)
    assert (narrow.half_width, narrow.band, narrow.pairs("round", 1)) == (20, 8, 12)
    (named_band,) = forms_of(FRAME.changed(half_size=None, band=26, pairs=30))
    assert isinstance(named_band, Frame)
    assert min(named_band.opening) == named_band.band


@pytest.mark.parametrize("flags", [{"pairs": "30"}, {"half_size": "60"}, {"half_size": "42", "edging": "cloth fan 3"}])
def test_wider_bands_are_tried_as_far_as_the_pairs_go_round_an_opening_as_wide_as_the_band(
    flags: dict[str, str],
) -> None:
    brief = asking.read(None, {"stamp": "tulip", "form": "frame", **flags}).brief
    wider = further(brief)
    bands = [forms_of(brief)[-1].deep, *(form.deep for form in wider)]
    assert bands == sorted(set(bands))
    assert all(form.pairs("round", 1) <= brief.rules.pairs for form in wider)
    assert all(2 * min(form.opening) >= form.deep for form in wider)
    assert further(brief.changed(band=8)) == []


@pytest.mark.parametrize("edging", ["footside", "cloth fan 3", "half fan 4", "half scallop 2 with 4 pairs"])
@pytest.mark.parametrize(("width", "height"), [(290, 410), (240, 240), (133, 171)])
def test_a_frame_in_mm_is_the_nearest_that_its_pitch_and_fans_allow(edging: str, width: int, height: int) -> None:
    text = f'form = "frame"\nwidth = "{width}mm"\nheight = "{height}mm"\nedging = "{edging}"\npairs = 60'
    brief = asking.from_toml(text, "brief.toml")
    (form,) = forms_of(brief)
    assert isinstance(form, Frame)
    others = [
        Frame(wide, high, 8, replace(headside, first=t) if (headside := named(edging)) else None)
        for wide in range(form.half_width - 6, form.half_width + 7)
        for high in range(form.half_height - 6, form.half_height + 7)
        for t in range(1, 7)
    ]
    possible = [each for each in others if each.headside is None or _whole_fans(each)]
    best = min(_off(each, width, height) for each in possible)
    assert _off(form, width, height) == pytest.approx(best, abs=5.0 * (edging != "footside") + 1e-9)


def _whole_fans(form: Frame) -> bool:
    headside = form.headside
    assert headside is not None
    sides = (form.half_width, form.half_height)
    return headside.first <= headside.depth and all((n - 2 * headside.first - 1) % headside.depth == 0 for n in sides)


def _off(form: Frame, width: float, height: float) -> float:
    left, top, right, bottom = form.bounds
    return abs((right - left) / 2 * 5 - width) + abs((bottom - top) / 2 * 5 - height)


def test_a_rectangle_is_worked_across_with_a_pair_for_every_column_and_two_edges() -> None:
    """2A lines, two edge pairs and two passives: the count of a piece worked across; common practice, no source."""
    (form,) = forms_of(MAT)
    assert isinstance(form, Rectangle)
    assert {each.pairs for each in found(MAT.changed(count=2))} == {2 * 10 + 2 + 2}
    assert {each.worked for each in found(MAT.changed(count=2))} == {"across"}


def test_a_rectangle_with_fans_is_as_high_as_whole_fans_allow_and_as_she_asks_nearly() -> None:
    """Half-heights are one more than a multiple of 3; on every side fans from its first pin to its last."""
    for asked in range(60, 200, 7):
        text = f'form = "rectangle"\nwidth = "90mm"\nheight = "{asked}mm"\nedging = "cloth fan 3"\npairs = 60'
        (form,) = forms_of(asking.from_toml(text, "a test"))
        piece = form.piece("across")
        assert (form.height // 2) % 3 == 1
        assert abs(5 * form.height / 2 - asked) <= 5 * 1.5
        valleys = piece.pinholes[(piece.edge >= 0) & ~piece.fan]
        assert sorted({y for _, y in valleys.tolist()}) == list(range(1 - form.height // 2, form.height // 2, 6))
    usual = forms_of(MAT.changed(half_size=(12, 12), half_height=None, headside=FANS, pairs=60))
    assert [each.height // 2 for each in usual] == [19]


@pytest.mark.parametrize("brief", [FRAME.changed(band=14, half_size=(26, 26)), OBLONG, MAT])
def test_a_stamp_stands_in_every_piece_and_the_same_on_two_cores(brief: Brief) -> None:
    brief = brief.changed(stamp="tulip", count=3)
    pieces = found(brief, "tulip")
    memory.forget()
    assert [to_text(each) for each in pieces] == [to_text(each) for each in found(brief, "tulip", cores=2)]
    assert len(pieces) == 3
    for each in pieces:
        assert each.prints
        assert each.prints[0].match >= brief.rules.match
        points = np.array([point for ring in each.prints[0].outlines for point in ring])
        assert (np.abs(points) <= [each.form.box[2], each.form.box[3]]).all()


@pytest.mark.parametrize(
    ("brief", "words"),
    [
        (FRAME.changed(pairs=8), "a band of 6 half pitches takes 10 pairs; 8 pairs suffice for a band of 4"),
        (FRAME.changed(band=3), "a band of 3 half pitches does not suit a frame of half-sides 20 and 20: "
         "it is 6 at least and 19 at most"),
        (FRAME.changed(half_size=(20, 20), half_height=22, headside=FANS), "the nearest is half-size 19"),
        (OBLONG.changed(symmetry="full"), "cannot have the symmetry full; it can have: quarter"),
        (MAT.changed(pairs=20), "takes 24 pairs; 20 pairs suffice for half-size 8"),
        (MAT.changed(half_height=2), "is too small for a block"),
        (MAT.changed(half_height=15, headside=FANS), "one more than a multiple of 3 do, the nearest 13 and 16"),
        (MAT.changed(half_size=(8, 8), half_height=16, headside=FANS), "a cloth fan 3; they are 9 and 6 at least"),
    ],
)  # fmt: skip
def test_what_cannot_be_had_is_told_in_one_line_with_what_can(brief: Brief, words: str) -> None:
    line = conflict(brief)
    assert line is not None
    assert words.replace(": quarter", ": ") in line
    with pytest.raises(Impossible):
        next(search(brief, cores=1))


def test_the_offers_of_those_lines_hold() -> None:
    assert conflict(FRAME.changed(pairs=10, band=6)) is None
    assert conflict(MAT.changed(pairs=20, half_size=(8, 8))) is None
    brief = FRAME.changed(half_size=(19, 19), half_height=22, symmetry="none", headside=FANS)
    assert conflict(brief) is None


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ('form = "frame"\ncolumns = 20', "columns is given, but a frame has none"),
        ('form = "strip"\nband = 9', "band is given, but a strip has none"),
        ('form = "rectangle"\nsides = "both"', "sides is given, but a rectangle has none"),
        ('form = "frame"\nworked = "across"', "worked is across, but a frame is worked round"),
        ('form = "frame"\nsymmetry = "glide"', "which a frame cannot have"),
    ],
)
def test_keys_of_another_form_are_refused(text: str, words: str) -> None:
    with pytest.raises(asking.BriefError, match=words):
        asking.from_toml(text, "brief.toml")


def test_a_stamp_too_large_for_the_band_is_told_at_once() -> None:
    brief = FRAME.changed(stamp="snail", stamp_size=(12.0, 12.0))
    (step,) = search(brief, read(built_in("snail")), cores=1)
    assert step.design is None
    assert "snail finds no place in any frame of this size with full symmetry" in step.note

"""Strips, frames and headsides on sheets, walls, labels and beside each other."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from designs import diamond, made, spiders
from matplotlib.text import Text
from strips import SCALLOP_OF_1886, strip, worked_round

from constraints.design import Design
from constraints.difference import comparable
from constraints.differing import differences
from constraints.forms import Frame, Strip
from constraints.layout import lay
from gallery.exhibition.cover import cover
from gallery.exhibition.labels import label
from gallery.exhibition.wall import wall
from gallery.looks.excerpt import TALL, excerpt, shown
from gallery.sheets.captions import facts
from gallery.sheets.sheet import sheet
from gallery.web.telling import facts as facts_on_page
from gallery.web.telling import told_of

DIAMOND = ("cloth", {(x, y % 12) for x, y in diamond((6, 1), 3)})


def edging(repeats: int) -> Design:
    return strip(Strip(5, 6, repeats, SCALLOP_OF_1886), passives=1)


def band(repeats: int, *more: tuple[str, set[tuple[int, int]]]) -> Design:
    return strip(Strip(13, 12, repeats), DIAMOND, *more, spiders({(6, 8)}, 8), passives=2)


FRAME = worked_round(Frame(20, 26, 12), passives=1)


@pytest.mark.parametrize("most", [1.0, 2.5, 4.0])
def test_a_long_strip_is_shown_in_whole_repeats_that_fit(most: float) -> None:
    for design in (edging(40), band(20)):
        left, top, right, bottom = excerpt(design, most).form.bounds
        assert isinstance(design.form, Strip)
        assert (bottom - top + 1) % design.form.rows == 0
        assert bottom - top <= max(most * (right - left), 2 * design.form.rows)
        assert bottom - top + 1 + design.form.rows > most * (right - left)


def test_what_is_shown_of_a_strip_are_its_first_rows() -> None:
    whole, part = band(9), excerpt(band(9), 2.0)
    assert isinstance(part.form, Strip)
    layout, cut = lay(whole), lay(part)
    first = whole.piece().pinholes[:, 1] < part.form.length
    assert (layout.inside[first] == cut.inside).all()
    assert excerpt(band(2), 1.0).form == band(2).form
    assert excerpt(FRAME, 0.1) is FRAME


def test_sizes_are_told_as_width_and_height_and_repeats_are_counted() -> None:
    # 12 units of 2.5 mm across, 20 repeats of 12 rows less one: 30 and 597.5 mm.
    assert facts(band(20))[1] == "30 x 597.5 mm"
    assert "20 repeats" in facts(band(20))
    part = shown(band(20), TALL)
    assert facts(band(20), part)[-1] == part == "2 of 20 repeats shown"
    assert "20 repeats" not in facts(band(20), part)
    assert facts(FRAME)[1] == "100 x 130 mm"
    assert "frame" in facts(FRAME)
    assert facts(made(6))[1] == "30 mm"
    assert label(FRAME, "Board", "Garden").facts[0] == "100 \N{MULTIPLICATION SIGN} 130 mm"


def test_a_cover_shows_a_bookmark_whole_and_a_long_edging_in_part() -> None:
    # 12 units wide, and 47 or 239 long.
    for repeats, said in ((4, False), (20, True)):
        words = [text.get_text() for text in cover(band(repeats), "Garden at Dusk").findobj(Text)]
        assert any(f"of {repeats} repeats shown" in each for each in words) == said


def test_a_sheet_says_what_it_shows() -> None:
    (page,) = sheet([replace(band(20), number=4), replace(FRAME, number=5)], title="Forms")
    words = " ".join(text.get_text() for text in page.axes[0].texts)
    assert "2 of 20 repeats shown" in words
    assert "100 x 130 mm" in words


def test_on_a_wall_every_piece_has_a_mount_of_its_own_shape() -> None:
    (page,) = wall([band(3), FRAME], ["A", "B"], ["", ""], title="T", note="n", paper="screen", detailed=False)
    white = pytest.approx((0.992, 0.988, 0.976), abs=2e-3)
    boards = [patch for patch in page.axes[0].patches if patch.get_facecolor()[:3] == white]
    assert len(boards) == 2
    sizes = [np.ptp(patch.get_path().vertices, axis=0) for patch in boards]
    assert sizes[0][1] > 2 * sizes[0][0]
    assert 1.1 < sizes[1][1] / sizes[1][0] < 1.4


def test_strips_are_compared_as_they_lie_and_only_with_their_like() -> None:
    other = strip(Strip(13, 12, 5), passives=2)
    assert comparable(band(3), other)
    found = differences(band(3), other)
    assert found.turn == "as it lies"
    # The diamond of each repeat (16 pinholes) and the spider (4 of its ring) are missing.
    lost = int(lay(band(3)).inside.sum())
    assert found.count(2) == lost
    assert not comparable(band(3), edging(3))
    assert not comparable(FRAME, made(20))
    assert not comparable(FRAME, worked_round(Frame(20, 26, 10), passives=1))
    assert comparable(made(5), made(9))


def test_on_the_page_all_squares_tell_the_same_facts_in_the_same_order() -> None:
    mirrored = strip(Strip(13, 12, 20), DIAMOND, symmetry="upright-mirror", passives=2)
    told = [told_of(design) for design in (made(6), FRAME, band(20), edging(2), replace(mirrored, symmetry="glide"))]
    rows = [[label for label, _ in facts_on_page(each, True)] for each in told]
    assert all(each == rows[0] for each in rows)
    words = [dict(facts_on_page(each, True)) for each in told]
    assert [each["Size"] for each in words[:3]] == ["30 mm", "100 x 130 mm", "30 x 597.5 mm"]
    assert words[2]["Form"] == "strip, 2 of 20 repeats shown"
    assert words[3]["Form"].startswith("strip, 2 repeats, half scallop 3")
    assert "Form" not in dict(facts_on_page(told[0], False))
    # Symmetries of strips have their rank too: more is less.
    assert told[0]["rank"] > told[4]["rank"]


def test_an_oblong_frame_is_not_turned_by_a_quarter() -> None:
    block = ("half", diamond((-13, 2), 3))
    found = differences(worked_round(Frame(20, 26, 12), block, passives=1), FRAME)
    assert "quarter" not in found.turn
    assert "corner line" not in found.turn
    turned = worked_round(Frame(20, 26, 12), ("half", {(-x, -y) for x, y in block[1]}), passives=1)
    same = differences(worked_round(Frame(20, 26, 12), block, passives=1), turned)
    assert (same.turn, same.share) == ("turned upside down", 0.0)

"""`mirror`, `frame` and `fit`: what they offer can be worked, and what they make is kept."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from asked import STRIPS, Ask, Keep

from constraints.brief import Brief
from constraints.check import check
from constraints.design import Design
from constraints.design_file import from_text
from constraints.edgings import named
from constraints.forms import Frame, Strip
from constraints.layout import lay
from constraints.mirrors import corners, frame_of, laid
from constraints.repeats import repeat_of
from constraints.working import check as working
from constraints.working.work import work
from explore import cli
from explore.editing.mirroring.making import Frames, Parts
from explore.editing.mirroring.offers import Mirrored, Offers
from explore.search.search import search
from explore.storage.study import Study


@pytest.fixture(scope="module")
def offered(mirrored: list[Design]) -> list[Offers]:
    return [Mirrored(strip, STRIPS).offers() for strip in mirrored]


@pytest.fixture
def study(keep: Keep, mirrored: list[Design]) -> Study:
    return keep(STRIPS, mirrored)


def test_every_corner_and_turnover_offered_can_be_worked(offered: list[Offers]) -> None:
    for offers in offered:
        assert offers.corners
        for each in (offers.corners, offers.down, offers.up):
            assert [offer.changed.changed for offer in each] == sorted(offer.changed.changed for offer in each)
        for frame in _shown(offers):
            assert check(frame) == []
            assert working.faults(work(frame)) == []


def _shown(offers: Offers) -> list[Design]:
    """The frames of all corners and of all turnovers."""
    return [each.shown for each in (*offers.corners, *offers.down, *offers.up)]


def test_offers_tell_the_pairs_and_splits_of_the_frames_shown(mirrored: list[Design], offered: list[Offers]) -> None:
    """Pairs: the lines of the band and two edges with their passives, the outer one with fans taking one line less and
    two pairs at the valley (the count of teaching pages of Jo Edkins, for a strip). Splits: holes that lack one."""
    for strip, offers in zip(mirrored, offered, strict=True):
        fans = strip.form.headside is not None
        for frame in _shown(offers):
            assert isinstance(frame.form, Frame)
            edge = 1 + strip.passives
            assert frame.pairs == frame.form.band + edge + (1 if fans else edge)
            assert frame.splits == _splits(frame)


def _splits(frame: Design) -> int:
    """Holes with three pinholes in one block, of which the middle one passes on both of its pairs in it or neither."""
    piece = frame.piece()
    block = {point: number for number, each in enumerate(frame.blocks) for point in each.pinholes}
    found = 0
    for x, y in piece.hole_centres.tolist():
        around = [(x, y - 1), (x + 1, y), (x, y + 1), (x - 1, y)]
        inside = [point in block for point in around]
        if sum(inside) == 3:
            middle = around[(inside.index(False) + 2) % 4]
            beside = [point for point in around if point in block and point != middle]
            forward = piece.directions[piece.zone[piece.index[middle]]]
            ahead = sum(int(np.dot(np.subtract(point, middle), forward)) > 0 for point in beside)
            found += ahead != 1
    return found


def test_a_strip_laid_round_a_frame_and_looked_at_twice_in_the_mirror_is_the_strip(mirrored: list[Design]) -> None:
    """The side of a frame, read back from corner to turnover, has the stitches of the strip row by row."""
    for strip in mirrored:
        form = strip.form
        assert isinstance(form, Strip)
        repeat = repeat_of(strip)
        compared = 0
        for corner in corners(form)[:6]:
            row = form.headside.first if form.headside else 3
            frame = frame_of(form, corner, (row, row), (3, 3))
            if frame is None:
                continue
            draft = laid(repeat, frame, corner)
            compared += 1
            index = {point: number for number, point in enumerate(frame.piece("round", "none").index)}
            for along in range(frame.band + 1, frame.half_height + 1):
                for across in range(frame.band + 1):
                    left = index.get((-frame.half_width + across, -frame.half_height + along))
                    if left is None:
                        continue
                    top = index[-frame.half_width + along, -frame.half_height + across]
                    assert draft.stitch[left] == draft.stitch[top]
                    under = index[-frame.half_width + across, frame.half_height - along]
                    assert draft.stitch[left] == draft.stitch[under]
        assert compared > 0


def test_a_frame_is_made_and_kept(ask: Ask, study: Study) -> None:
    status, lines, errors = ask("mirror", "edgings", "3")
    assert (status, errors[0].startswith("note: a corner line from row")) == (0, True)
    assert lines[0].startswith("corners, ")
    assert (study.folder / "mirror-03.png").exists()
    assert (study.folder / "mirror-03.pdf").exists()
    status, lines, _ = ask("frame", "edgings", "3", "--corner", "2", "--repeats", "2x3")
    assert status == 0
    assert "frame of strip 03" in lines[0]
    made = from_text((study.folder / "squares" / "04.json").read_text())
    assert isinstance(made.form, Frame)
    assert made.form.half_width < made.form.half_height
    assert check(made) == []
    assert lay(made).inside.any()
    status, lines, _ = ask("frame", "edgings", "3", "--corner", "2", "--repeats", "2x3", "--pitch", "4.5mm")
    assert status == 0
    finer = from_text((study.folder / "squares" / "05.json").read_text())
    assert finer.width_mm == pytest.approx(made.width_mm * 4.5 / 5)


def test_without_repeats_a_frame_is_the_smallest_whose_corners_and_turnovers_do_not_meet(
    ask: Ask, study: Study, mirrored: list[Design]
) -> None:
    for number, strip in enumerate(mirrored, 1):
        status, _, errors = ask("frame", "edgings", f"{number}")
        assert (status, errors) == (0, [])
        made = from_text((study.folder / "squares" / f"{len(mirrored) + number:02d}.json").read_text())
        assert isinstance(made.form, Frame)
        assert isinstance(strip.form, Strip)
        # What lies between the bands is open; with a repeat less on every half side, less than 10 half pitches are.
        open_half = made.form.half_width - made.form.band
        assert 10 <= open_half < 10 + strip.form.rows
        assert made.form.half_height == made.form.half_width
        assert check(made) == []


def test_where_the_smallest_frame_is_not_found_the_next_is_made(study: Study, monkeypatch: pytest.MonkeyPatch) -> None:
    frames, tried = Frames(study.folder, 1, None), []
    make = Mirrored.frame

    def make_all_but_the_first(self: Mirrored, *asked: Any) -> object:
        tried.append(asked[2])
        return None if len(tried) == 1 else make(self, *asked)

    assert frames.corners
    assert frames.turnovers(frames.corners[0].corner.up)
    monkeypatch.setattr(Mirrored, "frame", make_all_but_the_first)
    frame = frames.framed(Parts(1, (1, 1))).made.frame
    assert tried[1][0] == tried[0][0] + 1
    assert frame.form == frames.frame_of(Parts(1, (1, 1), tried[1]))


def test_after_a_piece_of_which_nothing_is_drawn_comes_the_command_that_draws_it(
    study: Study, capsys: pytest.CaptureFixture[str]
) -> None:
    fitted = ["fit", "edgings", "1", "--for", "150x200mm", "--as", "frame", "--pitch", "4-6mm", "--apply", "1"]
    edged = ["edgings", "edgings", "1", "--apply", "cloth fan 4"]
    for made, words in enumerate((["frame", "edgings", "1"], fitted, edged), len(study.designs) + 1):
        assert cli.run(words) == 0
        assert capsys.readouterr().err.splitlines()[-1] == f"next: stampwork show edgings {made}"


def test_a_long_side_may_have_another_turnover_than_a_short_one(ask: Ask, study: Study, mirrored: list[Design]) -> None:
    offers = Mirrored(mirrored[0], STRIPS).offers()
    corner = offers.corners[0].corner
    rows = [each.row for each in offers.turnovers(corner)]
    status, _, _ = ask("frame", "edgings", "1", "--turnover", "1x3", "--repeats", "2")
    assert status == 0
    made = from_text((study.folder / "squares" / "04.json").read_text())
    form = mirrored[0].form
    assert isinstance(form, Strip)
    assert made.form == frame_of(form, corner, (rows[0], rows[2]), (2, 2))
    assert check(made) == []


def test_a_piece_is_made_to_fit(ask: Ask, study: Study) -> None:
    asked = ("fit", "edgings", "1", "--for", "150x200mm", "--as", "frame", "--pitch", "4-6mm")
    status, lines, _ = ask(*asked)
    assert status == 0
    assert lines[1].startswith("1    ")
    status, lines, _ = ask(*asked, "--apply", "1")
    assert status == 0
    made = from_text((study.folder / "squares" / "04.json").read_text())
    assert (made.width_mm, made.height_mm) == pytest.approx((150, 200), abs=5)
    assert check(made) == []
    assert working.faults(work(made)) == []


@pytest.mark.parametrize(
    ("asked", "code", "told"),
    [
        (("mirror", "edgings", "9"), 2, "the nearest is 3"),
        (("mirror", "edgings", "1", "--out", "corners"), 2, "the name of a picture ends in .png: corners.png"),
        (("edgings", "edgings", "1", "--out", "edges.gif"), 2, "the name of a picture ends in .png: edges.png"),
        (("frame", "edgings", "1", "--corner", "400"), 2, "corners of 01 are 1 to"),
        (("frame", "edgings", "1", "--repeats", "two"), 2, '--repeats is "two"; allowed: a whole number from 0'),
        (("frame", "edgings", "1", "--turnover", "0x2"), 2, '--turnover is "0x2"; allowed: a whole number from 1'),
        (("fit", "edgings", "1", "--for", "wide"), 2, "such as 290x410mm"),
        (("fit", "edgings", "1", "--for", "20x20mm", "--as", "mat"), 2, "it can be: strip, frame, edging"),
        (("fit", "edgings", "1", "--for", "999x7mm"), 3, "nothing fits within 5 mm"),
    ],
)
def test_what_cannot_be_is_one_line(ask: Ask, study: Study, asked: tuple[str, ...], code: int, told: str) -> None:
    status, _, errors = ask(*asked)
    assert status == code
    assert told in errors[-1]


@pytest.mark.parametrize(
    "asked",
    [
        ("mirror", "edgings", "1"),
        ("frame", "edgings", "1"),
        ("edgings", "edgings", "1"),
        ("fit", "edgings", "1", "--for", "150x200mm", "--as", "frame"),
    ],
)
def test_a_strip_with_its_edging_on_both_sides_is_refused_in_one_line(
    ask: Ask, keep: Keep, asked: tuple[str, ...]
) -> None:
    brief = Brief.of(
        form="strip",
        worked="across",
        symmetry="suits",
        headside=named("cloth fan 2"),
        both_sides=True,
        pairs=16,
        rows=(8, 8),
    )
    found = next(step.design for step in search(brief, cores=1) if step.design is not None)
    keep(brief, [found])
    status, lines, errors = ask(*asked)
    assert (status, lines, len(errors)) == (2, [], 1)
    assert errors[0].startswith("stampwork: 01")
    assert "has its edging on both sides" in errors[0]
    # None of these commands makes such a strip, so none names an option that would.
    assert "--" not in errors[0]


def test_the_same_corners_and_turnovers_come_on_one_core_and_on_two(mirrored: list[Design]) -> None:
    one, two = (Mirrored(mirrored[0], STRIPS, cores).offers() for cores in (1, 2))
    assert [(each.corner, each.changed, each.shown) for each in one.corners] == [
        (each.corner, each.changed, each.shown) for each in two.corners
    ]
    assert [(each.row, each.changed) for each in (*one.down, *one.up)] == [
        (each.row, each.changed) for each in (*two.down, *two.up)
    ]

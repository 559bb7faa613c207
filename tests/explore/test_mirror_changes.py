"""What `mirror`, `frame` and `fit` say must change is what does change: counted again on the frames, place by place."""

from __future__ import annotations

import re

import pytest
from asked import Ask, Keep
from reflected import at_corners, changed

from constraints.brief import Brief
from constraints.design import Design
from constraints.design_file import from_text
from constraints.edgings import named
from constraints.forms import Frame
from constraints.mirrors import Corner
from explore.editing.mirroring import offers as offering
from explore.editing.mirroring.offers import Mirrored, Offers
from explore.editing.mirroring.where import Where
from explore.search.search import search
from explore.storage.study import Study

BRIEF = Brief.of(form="strip", worked="across", symmetry="suits", pairs=14, count=1, rows=(12, 12), match=0.6)
FOUND = {
    "plain": BRIEF.changed(count=2),
    "cloth fans": BRIEF.changed(headside=named("cloth fan 2"), pairs=16),
    "half fans": BRIEF.changed(headside=named("half fan 3"), pairs=18),
    "ground scallops": BRIEF.changed(headside=named("ground scallop 4 with 3 pairs"), pairs=20, rows=(16, 16)),
    "double ground": BRIEF.changed(stitches=("cloth", "double-ground"), least={"double-ground": 20}),
}


@pytest.fixture(scope="module")
def strips() -> list[tuple[Design, Offers]]:
    steps = [step for brief in FOUND.values() for step in search(brief, cores=1)]
    found = [step.design for step in steps if step.design is not None]
    numbered = [design.numbered(number) for number, design in enumerate(found, 1)]
    return [(design, Mirrored(design, BRIEF).offers()) for design in numbered]


@pytest.fixture
def study(keep: Keep, strips: list[tuple[Design, Offers]]) -> Study:
    return keep(BRIEF, [design for design, _ in strips])


def _apart(strip: Design, corner: Corner, frame: Design) -> tuple[int, int]:
    """How many pinholes are changed at all corners of a frame, and at all turnovers."""
    assert isinstance(frame.form, Frame)
    found = changed(strip, corner, frame)
    beside = at_corners(frame.form, found)
    return len(beside), len(found) - len(beside)


def test_what_is_told_of_every_offer_is_true_of_the_frame_shown(strips: list[tuple[Design, Offers]]) -> None:
    """A frame has four corners and four turnovers, all alike."""
    told = set()
    for strip, offers in strips:
        for corner in offers.corners:
            assert _apart(strip, corner.corner, corner.shown)[0] == 4 * corner.changed.changed
            told.add(corner.changed.changed)
        for up, turnovers in ((False, offers.down), (True, offers.up)):
            for turnover in turnovers:
                assert turnover.corner.up is up
                assert _apart(strip, turnover.corner, turnover.shown)[1] == 4 * turnover.changed.changed
                told.add(turnover.changed.changed)
    assert len(told) > 5


def test_a_turnover_after_another_corner_of_the_same_way_takes_as_many_changes(
    strips: list[tuple[Design, Offers]],
) -> None:
    """And after a corner of the other way it may take others: both are listed."""
    differ = 0
    for strip, offers in strips[:3]:
        mirrored = Mirrored(strip, BRIEF)
        for up, turnovers in ((False, offers.down), (True, offers.up)):
            last = next(each.corner for each in reversed(offers.corners) if each.corner.up is up)
            for turnover in turnovers:
                done = mirrored.with_turnover(last, turnover.row)
                assert done is not None
                assert done.changed == turnover.changed
        down, up_ = ({each.row: each.changed.changed for each in listed} for listed in (offers.down, offers.up))
        differ += sum(down[row] != up_[row] for row in down.keys() & up_.keys())
    assert differ > 0


def test_a_frame_tells_its_changes_at_corners_and_turnovers_apart(
    ask: Ask, study: Study, strips: list[tuple[Design, Offers]]
) -> None:
    made = len(strips)
    for strip, offers in (strips[1], strips[2]):
        for number in (1, len(offers.corners)):
            corner = offers.corners[number - 1].corner
            turnover = len(offers.turnovers(corner))
            parts = ("--corner", f"{number}", "--turnover", f"1x{turnover}", "--repeats", "2x3")
            status, lines, _ = ask("frame", "edgings", f"{strip.number}", *parts)
            made += 1
            assert status == 0
            frame = from_text((study.folder / "squares" / f"{made:02d}.json").read_text())
            assert _told(lines[0]) == _apart(strip, corner, frame)
            rows = [offers.turnovers(corner)[each - 1].row for each in (1, turnover)]
            form = offering.frame_of(Mirrored(strip, BRIEF).form, corner, (rows[0], rows[1]), (2, 3))
            assert frame.form == form


def _told(line: str) -> tuple[int, int]:
    """Changed pinholes at the corners and the turnovers, as a line says them."""
    if "no pinhole changed" in line:
        return 0, 0
    said = re.search(r"(\d+|no) pinholes changed at the corners and (\d+|none) at the turnovers, (.*);", line)
    assert said is not None
    assert said[3] == "the fewest there can be" or re.fullmatch(r"at least \d+ must be", said[3])
    at_corner, at_turnover = (0 if each in ("no", "none") else int(each) for each in said.group(1, 2))
    return at_corner, at_turnover


def test_a_piece_made_to_fit_tells_what_changes_too(
    ask: Ask, study: Study, strips: list[tuple[Design, Offers]]
) -> None:
    strip, offers = strips[1]
    asked = ("fit", "edgings", f"{strip.number}", "--for", "160x210mm", "--as", "frame", "--pitch", "4-6mm")
    status, lines, _ = ask(*asked)
    assert status == 0
    heads = re.split(r"  +", lines[0])
    row = re.split(r"  +", lines[-1])
    status, applied, _ = ask(*asked, "--apply", row[0])
    assert status == 0
    frame = from_text((study.folder / "squares" / f"{len(strips) + 1:02d}.json").read_text())
    number = re.search(r"from corner (\d+)", lines[-1])
    assert number is not None
    found = _apart(strip, offers.corners[int(number[1]) - 1].corner, frame)
    assert _told(applied[0]) == found
    assert (row[heads.index("changed at corners")], row[heads.index("at turnovers")]) == tuple(map(str, found))


def test_what_is_not_proven_is_not_claimed(
    strips: list[tuple[Design, Offers]], monkeypatch: pytest.MonkeyPatch
) -> None:
    """In a small effort more may change than must; then at least so many are told as are proven, never more."""
    monkeypatch.setattr(offering, "LISTING", 0.03)
    unproven = 0
    for strip, offers in strips[1:4]:
        mirrored = Mirrored(strip, BRIEF)
        for best in offers.corners:
            assert best.changed.proven
            found = mirrored.with_corner(best.corner)
            if found is not None:
                count = found.changed
                assert 0 <= count.least <= best.changed.changed <= count.changed
                least = "" if count.least == count.changed else f" (at least {count.least})"
                assert count.told == f"{count.changed}{least}"
                unproven += not count.proven
    assert unproven > 0


def test_a_frame_with_fewer_changes_than_are_proven_to_be_needed_is_never_found(
    strips: list[tuple[Design, Offers]],
) -> None:
    """Corners and turnovers of long frames, side by side with those of the short ones that are shown."""
    for strip, offers in strips[:3]:
        mirrored = Mirrored(strip, BRIEF)
        for corner in offers.corners:
            turnover = offers.turnovers(corner.corner)[-1]
            done = mirrored.frame(corner.corner, (turnover.row, turnover.row), (4, 4), 2.0)
            assert done is not None
            assert done.count(Where.CORNERS).changed >= 4 * corner.changed.least
            assert done.count(Where.TURNOVERS).changed >= 4 * turnover.changed.least

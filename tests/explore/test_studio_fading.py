"""Wishes that change while a study lies on the table: what holds stays, the rest fades and can be brought back."""

from __future__ import annotations

import json
import sys
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

sys.path.append(str(Path(__file__).parents[1] / "gallery"))

from examples import gallery_of
from fakes import petal, plain_square
from studios import SVG, Visited, told

from constraints.brief import Brief
from constraints.design import Design
from explore.bad_input import BadInput
from explore.storage.study import create, open_study
from explore.studio import fading

# All with one passive, as the brief has it.
_EVERY = [design for design in gallery_of(16, 8) if design.passives == 1]
SQUARES = [replace(design, number=number) for number, design in enumerate(_EVERY, 1)]
NUMBERS = {design.number for design in SQUARES}


@pytest.fixture
def garden(house: Visited, tmp_path: Path) -> Path:
    folder = house.room.folder.path / f"garden-{tmp_path.name}"
    brief = Brief.of(stamp="petal", pairs=SQUARES[0].pairs, stitches=("cloth", "whole"), solid=(0.0, 1.0))
    made = create(folder, brief, (petal(),), (SVG.encode(),))
    for design in SQUARES:
        made = made.keep(design, design.number)
    return folder


def faded(house: Visited, folder: Path, **flags: str) -> set[int]:
    """The squares that fade once there are other wishes."""
    assert house.post(f"/study/{folder.name}/wish", json.dumps({"flags": flags}))[0] == 200
    # Whatever was asked of the easel before is told by then.
    house.room.easel.ask(int).result()
    return faded_now(house, folder)


def faded_now(house: Visited, folder: Path) -> set[int]:
    events: list[dict[str, Any]] = told(house, folder.name, lambda every: any(e["kind"] == "faded" for e in every))
    return {int(number) for number in next(each for each in events if each["kind"] == "faded")["whys"]}


def share_in_blocks(design: Design) -> float:
    """Pinholes in blocks of all, counted in the file: a square of half-size n has 2n(n + 1) holes and pinholes on its
    grid, half of them where two pairs meet (those whose coordinates add up to an odd number)."""
    half = 8
    every = sum((x + y) % 2 for x in range(-half, half + 1) for y in range(-half, half + 1))
    return sum(len(block.pinholes) for block in design.blocks) / every


def test_squares_in_a_stitch_that_is_left_out_fade(house: Visited, garden: Path) -> None:
    whole = {design.number for design in SQUARES if any(block.stitch == "whole" for block in design.blocks)}
    assert 0 < len(whole) < len(SQUARES)
    assert faded(house, garden, stitches="cloth,rose", solid="0-1") == whole
    assert open_study(garden).brief.rules.stitches == ("cloth", "rose")
    assert faded(house, garden, stitches="cloth,whole:1") == NUMBERS - whole


def test_what_is_kept_stays_what_faded_comes_back_and_all_is_there_after_the_end(house: Visited, garden: Path) -> None:
    assert faded(house, garden, pairs=str(SQUARES[0].pairs + 4)) == NUMBERS
    status, marks = house.post(f"/study/{garden.name}/mark", '{"number": 3, "state": "stays"}')
    assert (status, marks["stays"]) == (200, [3])
    assert house.post(f"/study/{garden.name}/undo")[1]["stays"] == []
    assert house.post(f"/study/{garden.name}/redo")[1]["stays"] == [3]
    # Another studio finds all that in the folder.
    del house.room._boards[garden.name]
    assert faded_now(house, garden) == NUMBERS
    assert house.room.board(garden.name).marks.told()["stays"] == [3]
    # As they were, all hold again.
    assert faded(house, garden, pairs=str(SQUARES[0].pairs)) == set()


@pytest.mark.parametrize("design", SQUARES, ids=lambda design: str(design.number))
def test_a_share_in_blocks_is_counted_as_in_the_file(design: Design) -> None:
    share = share_in_blocks(design)
    brief = Brief.of(pairs=design.pairs, stitches=tuple(fading.ALLOWED))
    assert fading.why_not(design, brief.changed(solid=(max(0, share - 0.01), share + 0.01))) == ""
    assert "lie in blocks; you want" in fading.why_not(design, brief.changed(solid=(share + 0.01, 1.0)))


@pytest.mark.parametrize(
    "flags",
    [
        {"pairs": "x"},
        {"pairs": "2"},
        {"stamp": "moth"},
        {"solid": "0.5-2"},
        {"stitches": "gold"},
        {"pairs": 20},
        "pairs",
    ],
)
def test_wishes_that_cannot_be_had_change_nothing(house: Visited, garden: Path, flags: object) -> None:
    before = (garden / "brief.toml").read_bytes()
    assert house.post(f"/study/{garden.name}/wish", json.dumps({"flags": flags}))[0] == 422
    assert (garden / "brief.toml").read_bytes() == before


def test_a_study_that_no_search_made_has_no_other_wishes(house: Visited) -> None:
    folder = house.room.folder.path / "cousins"
    made = create(folder, Brief.of(stamp="petal"), (petal(),), (SVG.encode(),), made_by={"command": "vary"})
    made.keep(plain_square(1), -1)
    assert house.post("/study/cousins/wish", '{"flags": {"pairs": "20"}}')[0] == 422
    with pytest.raises(BadInput):
        fading.changed(made.brief, {"taste": "calm"})

"""A mirror slid along a strip in the studio: its places, and the frame of two of them, are those of the commands."""

from __future__ import annotations

import json
import re
import shutil
from collections.abc import Iterator
from contextlib import chdir
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from fakes import plain_square
from studios import Visited, broken_off, heard, visited

from constraints.design_file import from_text
from explore import cli
from explore.editing.mirroring import offers
from explore.storage.study import open_study, square_path
from explore.studio.sliding import StripMirror

STRIP = "explore --no-stamp --form strip --pairs 10 --repeat 8 --count 1 --cores 1 --out strips -q"


@pytest.fixture(scope="module")
def garden(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("garden")
    with chdir(folder):
        assert cli.run(STRIP.split()) == 0
    return folder


@pytest.fixture(scope="module")
def house(garden: Path) -> Iterator[Visited]:
    with visited(garden) as found:
        yield found


def told_of(worked_out: StripMirror) -> list[dict[str, Any]]:
    """All that is told, up to the end."""
    return heard(worked_out.stream, "mirror", "failed")


@pytest.fixture(scope="module")
def listed(house: Visited, garden: Path) -> dict[str, Any]:
    """What the command tells of the same strip."""
    copy = garden.parent / "typed"
    shutil.copytree(garden / "strips", copy / "strips", dirs_exist_ok=True)
    with chdir(copy), pytest.MonkeyPatch.context() as patch:
        told: list[str] = []
        patch.setattr("explore.cli.tell_document", told.append)
        assert cli.run(["mirror", "strips", "1", "--cores", "1", "--json"]) == 0
    # What was tried is kept in mind, and not tried again.
    offers._found_before.cache_clear()
    found: dict[str, Any] = json.loads(told[0])
    return found


def test_places_come_as_they_are_tried_and_at_last_all_with_the_numbers_of_the_command(
    house: Visited, listed: dict[str, Any]
) -> None:
    *tried, last = told_of(house.room.mirror("strips", 1))
    by_place = {(each["what"], each["row"], each["way"]): each for each in tried}
    assert len(by_place) == len(tried)
    rows = {
        ("corner", each["row"], each["from_there"]): each for each in listed["corners"]
    } | {
        ("turnover", each["row"], way): each
        for way in ("down", "up")
        for each in listed[f"turnovers_{way}"]
    }  # fmt: skip
    assert {(each["what"], each["row"], each["way"]): each["number"] for each in last["places"]} == {
        place: row["number"] for place, row in rows.items()
    }
    assert {place for place, each in by_place.items() if each["words"]} == set(rows)
    for place, row in rows.items():
        few = {0: "no pinhole changes", 1: "1 pinhole changes"}.get(row["changed"], f"{row['changed']} pinholes change")
        assert by_place[place]["words"] == few
    # Whoever comes again is told all of it at once.
    assert told_of(house.room.mirror("strips", 1))[-1] == last


def test_what_a_place_gives_is_drawn_and_nothing_where_nothing_can_be_worked(house: Visited) -> None:
    page = "/study/strips/1/mirror"
    places = told_of(house.room.mirror("strips", 1))[-1]["places"]
    for each in places[:2] + places[-2:]:
        answer = house.client.get(f"{page}/{each['what']}-{each['way']}-{each['row']}.svg")
        assert answer.headers["content-type"] == "image/svg+xml"
        # The mirror lies across it.
        assert "#c2571a" in answer.text
    assert house.client.get(f"{page}/corner-down-77.svg").status_code == 422
    assert house.client.get(f"{page}/corner-sideways-0.svg").status_code == 422
    strip = house.client.get(f"{page}/strip.svg").text
    told = re.search(r'data-measures="([^"]*)"', house.client.get(page).text)
    assert told
    measures = json.loads(told[1].replace("&#34;", '"'))
    form = open_study(house.room.folder.path / "strips").numbered(1).form
    assert (measures["rows"], measures["across"]) == (form.rows, form.width)
    # The picture has the box that the mirror is laid over: 48 steps of its raster a unit.
    box = [float(each) / 48 for each in re.findall(r'viewBox="([^"]*)"', strip)[0].split()]
    wide, high = measures["box"][2:]
    assert box[2:] == pytest.approx([wide, high], abs=0.05)
    assert box[0] == pytest.approx(-wide / 2, abs=0.05)


def test_a_frame_of_them_is_the_one_that_the_command_makes(house: Visited, listed: dict[str, Any]) -> None:
    corner = next(each for each in listed["corners"] if listed[f"turnovers_{each['from_there']}"])["number"]
    status, answer = house.post("/study/strips/1/mirror/frame", json.dumps({"corner": corner, "turnover": 1}))
    assert (status, answer) == (200, {"number": 2})
    copy = house.room.folder.path.parent / "typed"
    with chdir(copy):
        assert cli.run(["frame", "strips", "1", "--corner", str(corner), "--turnover", "1", "--cores", "1", "-q"]) == 0
    made, typed = (from_text(square_path(at / "strips", 2).read_text()) for at in (house.room.folder.path, copy))
    assert made == typed


@pytest.mark.parametrize("given", ["{}", '{"corner": 0, "turnover": 1}', '{"corner": true, "turnover": 1}'])
def test_nonsense_makes_no_frame(house: Visited, given: str) -> None:
    before = len(open_study(house.room.folder.path / "strips").designs)
    assert house.post("/study/strips/1/mirror/frame", given)[0] == 422
    assert house.post("/study/strips/1/mirror/frame", '{"corner": 99, "turnover": 1}')[0] == 422
    assert len(open_study(house.room.folder.path / "strips").designs) == before


def test_along_a_square_no_mirror_slides(house: Visited) -> None:
    study = open_study(house.room.folder.path / "strips")
    number = study.next_number
    study.keep(replace(plain_square(number), number=number), -1)
    assert house.client.get(f"/study/strips/{number}/mirror").status_code == 422


@pytest.mark.filterwarnings("ignore::pytest.PytestUnhandledThreadExceptionWarning")
def test_a_search_that_breaks_off_is_told_and_the_defect_stays_one(
    house: Visited, monkeypatch: pytest.MonkeyPatch
) -> None:
    study, room = open_study(house.room.folder.path / "strips"), house.room
    mirrored = "explore.editing.mirroring.offers.Mirrored.offers"
    broken_off(
        monkeypatch,
        mirrored,
        lambda: StripMirror(study.numbered(1), study.brief, room.searches.share(), room.stream()).stream,
    )

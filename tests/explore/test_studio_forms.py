"""Strips, frames and rectangles in the studio: their sizes and outlines, the room of a print, and what is found."""

from __future__ import annotations

import html
import json
import re
from urllib.parse import parse_qsl

import numpy as np
import pytest
from studios import Visited, ended, told, visited

from constraints.check import check
from constraints.edgings.outer_side import curved, outer_pins
from constraints.forms import FORMS
from constraints.stamp import Stamp
from explore.reading import built_in, read
from explore.search.kinds import KindsWorkshop
from explore.search.sizing import SIZING
from explore.search.workshops import workshop
from explore.storage.study import open_study
from explore.studio import rooms, wishes
from explore.studio.choices import EDGES
from explore.studio.shapes import outline

STRIP = {"form": "strip", "pairs": "31", "edging": "cloth fan 3"}
FRAME = {"form": "frame", "width": "290mm", "height": "410mm"}


@pytest.fixture(scope="module")
def tulip() -> Stamp:
    return read(built_in("tulip"))


@pytest.mark.parametrize(
    ("flags", "words"),
    [
        # As the tables of the guide to strips and frames have them.
        (STRIP, "31 pairs: 73.75 mm wide, a repeat of 30 to 90 mm."),
        (
            {**FRAME, "pairs": "30", "band": "22"},
            "26 of your 30 pairs: 290 x 410 mm, a band of 55 mm round an opening of 180 x 300 mm.",
        ),
        (
            {"form": "rectangle", "pairs": "40", "width": "60mm", "height": "200mm"},
            "28 of your 40 pairs: 60 x 200 mm, a pitch of 5 mm.",
        ),
    ],
)
def test_the_size_of_every_form_is_told(flags: dict[str, str], words: str) -> None:
    assert wishes.measured(wishes.brief_of("tulip", flags))["words"] == words


def test_what_cannot_be_had_of_a_form_is_told_with_what_mends_it() -> None:
    """As the guide to strips and frames has it."""
    asked = {"form": "rectangle", "half_size": "18", "half_height": "35", "pairs": "50", "edging": "cloth fan 3"}
    found = wishes.measured(wishes.brief_of("tulip", asked))
    assert found["why"].startswith("Whole fans of a cloth fan 3 do not lie along half-height 35; half-heights one more")
    assert [each["flags"] for each in wishes.mends("tulip", asked)] == [
        {"half_height": "34"},
        {"edging": "cloth fan 2"},
    ]


def test_the_room_of_a_print_is_told_with_what_gives_it_more(tulip: Stamp) -> None:
    """As the guide to strips and frames has it: the tulip is known from 10 pitches, and the largest place has 7."""
    brief = wishes.brief_of("tulip", {"form": "frame", "half_size": "40", "pairs": "20"})
    assert rooms.room_for(tulip, brief, 10.0).size == 7
    assert rooms.wider_for(tulip, brief, 10.0) == {"pairs": "26", "band": "22"}


@pytest.mark.parametrize("flags", [STRIP, {"form": "rectangle", "pairs": "24"}], ids=["strip", "rectangle"])
def test_the_room_is_what_the_search_finds(tulip: Stamp, flags: dict[str, str]) -> None:
    brief = wishes.brief_of("tulip", flags)
    found = rooms.room_for(tulip, brief, 10.0)
    searched = workshop(brief, tulip)
    assert isinstance(searched, KindsWorkshop)
    assert found.size == searched.stages.largest(searched.stages.every)
    assert found.laid
    assert found.laid["prints"].startswith("M")
    assert rooms.rooms_by_symmetry(tulip, brief)["none"] == found.size


def on_the_edge(path: str) -> np.ndarray:
    """Points of an outline: its corners, and the middle of every curve, a quadratic one."""
    points, at = [], np.zeros(2)
    for command, numbers in re.findall(r"([MLQ])([^MLQZ]*)", path):
        given = np.array([float(each) for each in numbers.split()]).reshape(-1, 2)
        if command == "Q":
            points.append(at / 4 + given[0] / 2 + given[1] / 4)
        at = given[-1]
        points.append(at)
    return np.array(points)


@pytest.mark.parametrize(
    "flags",
    [
        STRIP,
        {**STRIP, "pairs": "40", "sides": "both"},
        {"form": "frame", "pairs": "30", "edging": "half fan 4"},
        {"form": "rectangle", "pairs": "40", "edging": "cloth fan 3"},
        {"pairs": "28", "edging": "cloth fan 3"},
    ],
    ids=["strip", "both sides", "frame", "rectangle", "square"],
)
def test_an_outline_has_a_curve_for_every_fan_as_the_drawings_have_them(flags: dict[str, str]) -> None:
    """Held against the pins of the outer side, which pricking and drawings curve in their own way."""
    brief = wishes.brief_of("tulip", flags)
    form = SIZING[brief.piece.form].allowed(brief)[0]
    told_of = outline(form)
    piece = form.piece(brief.piece.first_way)
    drawn = curved(piece, np.concatenate([outer_pins(piece), piece.pinholes]))
    edge = on_the_edge(told_of["edge"])
    if form.repeating is None:
        assert np.allclose(edge.min(axis=0), drawn.min(axis=0), atol=0.6)
    assert np.allclose(edge.max(axis=0)[0], drawn.max(axis=0)[0], atol=0.6)
    # The middle of a fan stands where its outermost pin does.
    right = edge[edge[:, 0] >= edge[:, 0].max() - 0.1]
    nearest = np.linalg.norm(drawn[None] - right[:, None], axis=2).min(axis=1)
    assert nearest.max() < 1.5


def test_every_edging_is_shown_as_a_picture_and_no_other_name_is_drawn(house: Visited) -> None:
    for name in (EDGES[0], EDGES[1], EDGES[-1]):
        answer = house.client.get(f"/edgings/{name}.svg")
        assert answer.text.startswith("<svg "), name
    assert house.client.get("/edgings/cloth fan 9.svg").status_code == 422
    page = house.client.get("/print?of=kite.svg").text
    assert all(f'name="edging" value="{"" if name == "footside" else name}"' in page for name in EDGES)
    assert all(f'name="form" value="{name}"' in page for name in FORMS)


def test_a_frame_is_found_and_told_as_one(house: Visited) -> None:
    flags = {"form": "frame", "pairs": "16", "known": "no", "count": "1"}
    asked = {"of": "kite.svg", "turn": None, "flags": flags}
    for path in ("/wishes", "/wishes/room", "/wishes/symmetries"):
        assert house.post(path, json.dumps(asked))[0] == 200
    name = str(house.post("/find", json.dumps(asked))[1]["study"])
    assert told(house, name, ended)[-1]["words"] == "1 frame found."
    (made,) = open_study(house.room.folder.path / name).designs
    assert made.form.name == "frame"
    assert check(made) == []
    assert "1 frame<" in house.client.get("/").text
    for path in ("", "/together", "/papers?of=1", "/1/pillow"):
        page = house.client.get(f"/study/{name}{path}").text
        assert 'data-what="frame"' in page, path
    assert "Frame 1 at the pillow" in page
    # A studio begun anew leads back to the same wishes, of which the folder tells.
    with visited(house.room.folder.path) as again:
        page = again.client.get(f"/study/{name}").text
    found = re.search(r'"/print\?([^"]*)"', page)
    assert found
    assert dict(parse_qsl(html.unescape(found[1]))) == {"of": "kite.svg", **flags}

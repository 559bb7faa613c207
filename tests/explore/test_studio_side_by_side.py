"""Several prints in one piece in the studio: asked for, laid clear of each other, found."""

from __future__ import annotations

import json
import re
from dataclasses import replace
from itertools import product

import pytest
import shapely
from studios import Visited, ended, told

from constraints.stamp import Stamp
from explore.asking.stamps import BETWEEN_STAMPS
from explore.reading import built_in, read
from explore.storage.study import open_study
from explore.studio import wishes
from explore.studio.asked import prints_asked
from explore.studio.side_by_side import room_together, told_together, wider_together

NAMES = ("tulip", "bee")
WORD = BETWEEN_STAMPS.join(NAMES)


@pytest.fixture(scope="module")
def stamps() -> tuple[Stamp, ...]:
    return tuple(replace(read(built_in(name)), name=name) for name in NAMES)


def shapes(path: str) -> shapely.Geometry:
    """What is filled of path data of straight lines, even-odd."""
    filled = shapely.Polygon()
    for ring in path.split("M")[1:]:
        points = [tuple(map(float, each.split())) for each in re.split("[LZ]", ring) if each]
        filled = filled.symmetric_difference(shapely.Polygon(points).buffer(0))
    return filled


@pytest.mark.parametrize("flags", [{}, {"form": "rectangle"}], ids=["square", "rectangle"])
def test_prints_lie_clear_of_each_other_within_the_piece(stamps: tuple[Stamp, ...], flags: dict[str, str]) -> None:
    brief = wishes.brief_of(WORD, {**flags, "pairs": "40"})
    found = room_together(stamps, brief, (10.0, 10.0))
    assert min(found.sizes) >= 10
    assert found.laid
    left, top, right, bottom = found.laid["outline"]["box"]
    drawn = shapes(found.laid["prints"])
    assert shapely.box(left, top, right, bottom).contains(drawn)
    # What is filled twice would be empty: the area is that of whole prints, some smoothing aside.
    alone = [stamp.placed(size, 0.0, (0.0, 0.0)).area for stamp, size in zip(stamps, found.sizes, strict=True)]
    copies = [one * alone[0] + other * alone[1] for one, other in product((1, 2), repeat=2)]
    assert min(abs(drawn.area / each - 1) for each in copies) < 0.02


def test_where_there_is_no_room_as_many_pairs_as_give_it_are_offered(stamps: tuple[Stamp, ...]) -> None:
    brief = wishes.brief_of(WORD, {"pairs": "20"})
    found = room_together(stamps, brief, (10.0, 12.0))
    assert told_together(NAMES, found, ())["why"] == "Tulip and bee find no place clear of each other."
    pairs = int(wider_together(stamps, brief, (10.0, 12.0))["pairs"])
    assert not room_together(stamps, brief.changed(pairs=pairs - 1), (10.0, 12.0)).sizes
    assert min(room_together(stamps, brief.changed(pairs=pairs), (10.0, 12.0)).sizes) >= 10


def test_two_prints_are_found_in_one_piece_and_the_page_is_told_how_it_was_asked(house: Visited) -> None:
    flags = {"pairs": "16", "symmetry": "none", "known": "no", "count": "1"}
    asked = {"of": "kite.svg", "turn": None, "beside": ["kite.svg"], "places": ["corners", "suits"], "flags": flags}
    line = house.post("/wishes", json.dumps(asked))[1]["command"]
    assert "explore kite.svg kite.svg --pairs 16" in str(line)
    assert "--place kite=corners" in str(line)
    answer = house.post("/wishes/room", json.dumps(asked))[1]
    assert str(answer["words"]).startswith("Side by side: kite up to ")
    name = str(house.post("/find", json.dumps(asked))[1]["study"])
    assert name == "kite-kite-2-study"
    assert told(house, name, ended)[-1]["words"] == "1 square found."
    (made,) = open_study(house.room.folder.path / name).designs
    assert [each.name for each in made.prints] == ["kite", "kite-2"]
    page = house.client.get(f"/study/{name}").text
    assert "/print?of=kite.svg&amp;beside=kite.svg&amp;place=corners&amp;place=suits&amp;pairs=16" in page


@pytest.mark.parametrize(
    "more",
    [{"beside": "bee"}, {"beside": [1]}, {"beside": ["bee"] * 4}, {"beside": ["bee"], "turn": 5},
     {"beside": ["../kite.svg"]}, {"places": ["under the table"]}, {"places": [["corners"]]}],
)  # fmt: skip
def test_nonsense_is_told_in_one_line(house: Visited, more: dict[str, object]) -> None:
    status, answer = house.post("/wishes", json.dumps({"of": "kite.svg", "flags": {}, **more}))
    assert status in (404, 422)
    assert set(answer) == {"why"}


def test_what_was_asked_is_told_as_it_was_sent() -> None:
    sent = {"of": "a b.svg", "turn": None, "beside": ["bee"], "places": ["suits", "middle"], "flags": {"pairs": "20"}}
    assert prints_asked(sent).told() == sent
    assert prints_asked({"of": "bee", "turn": 5}).address() == "/print?of=bee&turn=5"

"""A study on the table: found, told, kept and gone on with, on the folder that commands use too."""

from __future__ import annotations

import html
import json
import re
import shlex
import time
from collections.abc import Callable, Iterator
from contextlib import chdir
from pathlib import Path
from typing import Any

import pytest
from fakes import petal, plain_square
from studios import SVG, Visited, ended, told

from constraints.brief import Brief
from constraints.check import check
from explore import cli
from explore.files import write_whole
from explore.serving.events import End, Ended, Event, Found
from explore.serving.searches import Wanted
from explore.storage.picks import read_picks
from explore.storage.request import continued
from explore.storage.study import Study, create, open_study, square_path
from explore.studio.hunt import Errand, SearchHunt

# Squares of few pairs, however well the print is known in them.
EASY = {"pairs": "12", "symmetry": "none", "known": "no", "count": "2"}
ONE = {**EASY, "count": "1"}


@pytest.fixture
def study(house: Visited, tmp_path: Path, request: pytest.FixtureRequest) -> Study:
    """One of four plain squares."""
    folder = house.room.folder.path / f"study-{abs(hash(request.node.name))}"
    made = create(folder, Brief.of(stamp="petal"), (petal(),), (SVG.encode(),))
    for number in range(1, 5):
        made = made.keep(plain_square(number), number)
    return made


def test_squares_are_found_saved_and_told_and_more_go_on_from_there(house: Visited) -> None:
    asked = json.dumps({"of": "kite.svg", "turn": None, "flags": ONE})
    # What is worked out ahead, and whether it is done by then, changes nothing.
    assert house.post("/wishes/ahead", asked) == (200, {})
    status, answer = house.post("/find", asked)
    assert (status, answer) == (200, {"study": "kite-study"})
    events = told(house, "kite-study", ended)
    assert events[-1]["words"] == "1 square found."
    folder = house.room.folder.path / "kite-study"
    kept = open_study(folder)
    assert [design.number for design in kept.designs] == [1]
    assert [each["number"] for each in events if each["kind"] == "square"] == [1]
    assert all(check(design) == [] for design in kept.designs)
    # The command that the page shows finds the same.
    line = house.client.post(
        "/wishes",
        content=json.dumps({"of": "kite.svg", "flags": ONE, "out": "typed"}),
        headers={"origin": "http://127.0.0.1:4711"},
    ).json()["command"]
    words = line[line.index("explore kite.svg") :].split()
    with chdir(house.room.folder.path):
        assert cli.run([*words, "--cores", "1", "-q"]) == 0
    same = open_study(house.room.folder.path / "typed")
    assert [(d.blocks, d.fillings) for d in same.designs] == [(d.blocks, d.fillings) for d in kept.designs]
    # And so does going on.
    assert house.post("/study/kite-study/more", '{"count": 1}')[0] == 200
    events = told(house, "kite-study", lambda all_: ended(all_) and any(each.get("number") == 2 for each in all_))
    assert [each["number"] for each in events if each["kind"] == "square"] == [1, 2]
    assert [design.number for design in open_study(folder).designs] == [1, 2]


def test_a_search_is_stopped_at_once_and_a_second_one_has_a_name_of_its_own(house: Visited) -> None:
    # As many as no machine finds in a moment.
    flags = {"pairs": "40", "count": "100"}
    _, answer = house.post("/find", json.dumps({"of": "kite.svg", "turn": 10, "flags": flags}))
    name = str(answer["study"])
    _, other = house.post("/find", json.dumps({"of": "kite.svg", "turn": 20, "flags": flags}))
    assert other["study"] != name
    begun = time.monotonic()
    for each in (name, str(other["study"])):
        assert house.post(f"/study/{each}/stop")[0] == 200
        events = told(house, each, ended)
        assert events[-1]["words"].startswith("Stopped; ")
    assert time.monotonic() - begun < 3
    assert house.client.get(f"/study/{name}").status_code == 200


def test_more_like_one_are_found_for_a_study_of_their_own_as_the_command_does(
    house: Visited, monkeypatch: pytest.MonkeyPatch
) -> None:
    for module in ("likes", "workroom"):
        monkeypatch.setattr(f"explore.studio.{module}.COUNT", 2)
    folder = house.room.folder.path
    wanted = "explore kite.svg --pairs 12 --symmetry none --known no --count 1 -q --cores 1 --out liked"
    with chdir(folder):
        assert cli.run(wanted.split()) == 0
    status, answer = house.post("/study/liked/1/like", '{"amount": "lot", "keep": ["centre"]}')
    assert (status, answer["study"]) == (200, "liked-01-cousins")
    events = told(house, "liked-01-cousins", ended)
    assert "cousin" in events[-1]["words"]
    made = open_study(folder / "liked-01-cousins")
    assert made.made_by["command"] == "vary"
    line = str(answer["command"])
    with chdir(folder):
        words = shlex.split(line[line.index("vary ") :])
        assert cli.run([*words, "--out", "typed-cousins", "--cores", "1", "-q"]) == 0
    assert [d.blocks for d in open_study(folder / "typed-cousins").designs] == [d.blocks for d in made.designs]
    assert house.post("/study/liked-01-cousins/more", '{"count": 1}')[0] == 422
    assert house.post("/study/liked/1/like", '{"amount": "huge", "keep": []}')[0] == 422
    assert house.post("/study/liked/1/like", '{"amount": "lot", "keep": ["--out"]}')[0] == 422


def test_squares_looked_at_together_have_their_true_size(house: Visited, study: Study) -> None:
    house.post(f"/study/{study.folder.name}/mark", '{"number": 3, "state": "away"}')
    text = house.client.get(f"/study/{study.folder.name}/together").text
    found = re.search(r'data-squares="([^"]*)"', text)
    assert found
    squares = json.loads(html.unescape(found[1]))
    # Half-size 4 at a pitch of 5 mm is 20 mm wide (README: a square of N pitches); the picture shows the edge pair too,
    # which swings out beyond the pins.
    assert [each["number"] for each in squares] == [1, 2, 4]
    assert all(20 < each["side_mm"] < 30 for each in squares)


def test_two_tabs_and_a_command_see_each_others_ticks(house: Visited, study: Study) -> None:
    name = study.folder.name
    told(house, name, lambda events: events[-1]["kind"] == "marks")
    assert house.post(f"/study/{name}/mark", '{"number": 2, "state": "kept"}')[1]["kept"] == [2]
    with chdir(house.room.folder.path):
        assert cli.run(["pick", name, "3", "-q"]) == 0
    events = told(house, name, lambda all_: all_[-1].get("kept") == [2, 3])
    # Whoever comes now is not led through what was before.
    assert [each["kept"] for each in events if each["kind"] == "marks"] == [[2, 3]]
    assert house.post(f"/study/{name}/undo")[1]["kept"] == [3]
    assert read_picks(study.folder, name).numbers == (3,)


def test_squares_that_a_command_adds_are_told_too(house: Visited, study: Study) -> None:
    name = study.folder.name
    told(house, name, lambda events: events[-1]["kind"] == "marks")
    study.keep(plain_square(5), 5)
    events = told(house, name, lambda all_: any(each.get("number") == 5 for each in all_))
    assert sum(each["kind"] == "square" for each in events) == 5


@pytest.mark.parametrize(
    ("path", "content"),
    [
        ("mark", '{"number": 9, "state": "kept"}'),
        ("mark", '{"number": "../1", "state": "kept"}'),
        ("mark", '{"number": 1, "state": "stolen"}'),
        ("mark", "[1]"),
        ("colours", '{"thread": "#ffffff", "cloth": "url(x)"}'),
        ("colours", '{"thread": "#ffffff"}'),
        ("mark", "\xff"),
        ("mark", "[" * 5000),
        ("more", '{"count": 100000}'),
        ("more", '{"count": true}'),
    ],
)
def test_nonsense_changes_nothing(house: Visited, study: Study, path: str, content: str) -> None:
    before = {each: each.read_bytes() for each in study.folder.rglob("*") if each.is_file()}
    status, answer = house.post(f"/study/{study.folder.name}/{path}", content.encode("latin-1"))
    assert (status, set(answer)) == (422, {"why"})
    assert {each: each.read_bytes() for each in study.folder.rglob("*") if each.is_file()} == before


def test_a_drawing_is_an_svg_of_ours_and_never_changes(house: Visited, study: Study) -> None:
    for look in ("drawing", "lace", "threads"):
        answer = house.client.get(f"/study/{study.folder.name}/1/{look}.svg")
        assert answer.headers["content-type"].startswith("image/svg+xml")
        assert "immutable" in answer.headers["cache-control"]
        assert answer.text.startswith("<svg ")
    assert house.client.get(f"/study/{study.folder.name}/9/lace.svg").status_code == 422
    assert house.client.get(f"/study/{study.folder.name}/1/other.svg").status_code == 422


def test_lace_is_drawn_in_her_thread_on_her_cloth_and_other_drawings_are_not(house: Visited, study: Study) -> None:
    drawing = f"/study/{study.folder.name}/1"
    for look in ("lace", "threads"):
        usual = house.client.get(f"{drawing}/{look}.svg").text
        hers = house.client.get(f"{drawing}/{look}.svg?in=dcc9a0-2f5a45").text
        assert "#f8f2e5" in usual or look == "lace"
        assert "#1c2b39" in usual
        assert "#2f5a45" in hers
        assert not {"#1c2b39", "#f8f2e5"} & set(re.findall("#[0-9a-f]{6}", hers))
        # The same lace: nothing but colours differs.
        assert re.sub("#[0-9a-f]{6}", "", usual) == re.sub("#[0-9a-f]{6}", "", hers)
    assert (
        house.client.get(f"{drawing}/drawing.svg?in=dcc9a0-2f5a45").text
        == house.client.get(f"{drawing}/drawing.svg").text
    )
    for ink in ("dcc9a0", "dcc9a0-", "dcc9a0-2f5a4z", 'dcc9a0-2f5a45"/><script'):
        assert house.client.get(f"{drawing}/lace.svg", params={"in": ink}).status_code == 422


def test_her_colours_are_kept_and_told_and_what_cannot_be_told_apart_is_said(house: Visited, study: Study) -> None:
    name = study.folder.name
    told = house.post(f"/study/{name}/colours", '{"thread": "#FFFFFF", "cloth": "#2f5d8c"}')[1]
    assert told["colours"] == {"thread": "#ffffff", "cloth": "#2f5d8c", "words": "", "ink": "ffffff-2f5d8c"}
    assert told["undo"] == house.post(f"/study/{name}/undo")[1]["undo"] == 0
    assert 'data-ink="ffffff-2f5d8c"' in house.client.get(f"/study/{name}/together").text
    assert f"/study/{name}/1/lace.svg?in=ffffff-2f5d8c" in house.client.get("/").text
    words = house.post(f"/study/{name}/colours", '{"thread": "#ffffff", "cloth": "#dcc9a0"}')[1]["colours"]["words"]
    assert words == "They are hard to tell apart: their contrast is 1.6, and to see the print well takes 3."


def test_a_folder_that_went_away_is_told_and_is_there_again_when_it_comes_back(house: Visited, study: Study) -> None:
    away = study.folder.with_name("unplugged")
    study.folder.rename(away)
    name = study.folder.name
    assert house.post(f"/study/{name}/mark", '{"number": 1, "state": "kept"}')[0] == 404
    away.rename(study.folder)
    assert house.post(f"/study/{name}/mark", '{"number": 1, "state": "kept"}')[1]["kept"] == [1]


class ToldSearch:
    """Stands in for a search of the service: it finds these squares and ends. meanwhile: done before the second."""

    def __init__(self, *found: int, meanwhile: Callable[[], object] = lambda: None) -> None:
        self.found, self.meanwhile, self.cancelled = found, meanwhile, False

    def begin(self, wanted: Wanted) -> ToldSearch:
        return self

    def cancel(self) -> None:
        self.cancelled = True

    def events(self) -> Iterator[Event]:
        for number in self.found:
            if number == self.found[1]:
                self.meanwhile()
            yield Found(number, plain_square(number))
        yield Ended(End.ENOUGH, len(self.found))


def hunted(house: Visited, study: Study, search: ToldSearch) -> dict[str, Any]:
    """The last that is told of a search for more."""
    board = house.room.board(study.folder.name)
    errand = Errand(continued((), study.folder, 3, ()))
    board.hunt(lambda own: SearchHunt(own, errand, search))
    return told(house, study.folder.name, ended)[-1]


def test_a_command_that_adds_squares_at_the_same_time_is_told_and_nothing_is_written_over(
    house: Visited, study: Study
) -> None:
    # What `explore` would have saved meanwhile.
    path = square_path(study.folder, 6)
    search = ToldSearch(5, 6, 7, meanwhile=lambda: path.write_text("of another run"))
    last = hunted(house, study, search)
    assert last["words"].startswith("The search broke off. ")
    assert "is another run writing to this study?" in last["words"]
    assert search.cancelled
    assert path.read_text() == "of another run"
    assert [design.number for design in open_study(study.folder).designs] == [1, 2, 3, 4, 5]


def test_a_full_disk_ends_a_search_and_keeps_what_was_found(
    house: Visited, study: Study, monkeypatch: pytest.MonkeyPatch
) -> None:
    from explore.storage import study as storage

    def full(path: Path, content: str | bytes) -> None:
        if path.name == "06.json":
            raise OSError(28, "No space left on device", str(path))
        write_whole(path, content)

    monkeypatch.setattr(storage, "write_whole", full)
    last = hunted(house, study, ToldSearch(5, 6, 7))
    assert last["words"] == "The search broke off. No space left on device."
    assert [design.number for design in open_study(study.folder).designs] == [1, 2, 3, 4, 5]

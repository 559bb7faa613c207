"""A study on the table: found, told, kept and gone on with, on the folder that commands use too."""

from __future__ import annotations

import asyncio
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
from studios import SVG, Visited, visited

from constraints.brief import Brief
from constraints.check import check
from explore import cli
from explore.files import write_whole
from explore.reading import built_in, read
from explore.serving.events import End, Ended, Event, Found
from explore.serving.searches import Wanted
from explore.storage.picks import read_picks
from explore.storage.request import continued
from explore.storage.study import Study, create, open_study, square_path
from explore.studio import wishes
from explore.studio.hunt import Errand, SearchHunt
from explore.studio.streams import Stream

# Squares of few pairs, however well the print is known in them.
EASY = {"pairs": "12", "symmetry": "none", "known": "no", "count": "2"}
ONE = {**EASY, "count": "1"}


@pytest.fixture(scope="module")
def house(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Visited]:
    folder = tmp_path_factory.mktemp("garden")
    (folder / "kite.svg").write_text(SVG)
    with visited(folder) as found:
        yield found


@pytest.fixture
def study(house: Visited, tmp_path: Path, request: pytest.FixtureRequest) -> Study:
    """One of four plain squares."""
    folder = house.room.folder.path / f"study-{abs(hash(request.node.name))}"
    made = create(folder, Brief.of(stamp="petal"), (petal(),), (SVG.encode(),))
    for number in range(1, 5):
        made = made.keep(plain_square(number), number)
    return made


def told(house: Visited, name: str, enough: Any, within: float = 60) -> list[dict[str, Any]]:
    """The events of a study until there are enough of them."""
    events: list[dict[str, Any]] = []

    async def hear() -> None:
        async for _, event in house.room.board(name).stream.listen():
            events.append(dict(event))
            if enough(events):
                return

    asyncio.run(asyncio.wait_for(hear(), within))
    return events


def ended(events: list[dict[str, Any]]) -> bool:
    return events[-1].get("state") == "ended"


def test_squares_are_found_saved_and_told_and_more_go_on_from_there(house: Visited) -> None:
    status, answer = house.post("/find", json.dumps({"of": "kite.svg", "turn": None, "flags": ONE}))
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
    # Half-size 4 at a pitch of 5 mm is 20 mm wide (README: a square of N pitches).
    assert [(each["number"], each["width_mm"]) for each in squares] == [(1, 20.0), (2, 20.0), (4, 20.0)]


def test_what_cannot_be_had_is_told_with_what_mends_it_and_leaves_nothing(house: Visited) -> None:
    before = sorted(house.room.folder.path.iterdir())
    flags = {**EASY, "pairs": "28", "pitch": "4-5mm", "width": "140mm"}
    status, told_at_once = house.post("/wishes", json.dumps({"of": "kite.svg", "flags": flags}))
    assert status == 200
    # README's own example of what cannot be had, and its mends.
    assert told_at_once["why"] == "28 pairs at a 4-5 mm pitch give at most 130 mm, 140 mm is asked for."
    assert {each["words"] for each in told_at_once["mends"]} == {"30 pairs", "130mm wide"}
    flags = {**EASY, "pitch": "4-5mm", "width": "55mm"}
    _, answer = house.post("/find", json.dumps({"of": "kite.svg", "turn": None, "flags": flags}))
    events = told(house, str(answer["study"]), ended)
    assert events[-1]["words"].startswith("It cannot be had. 12 pairs at a 4-5 mm pitch give at most 50 mm, 55 mm is")
    assert {each["words"] for each in events[-1]["mends"]} == {"13 pairs", "50mm wide"}
    assert sorted(house.room.folder.path.iterdir()) == before


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


@pytest.mark.parametrize("flags", [{"form": "strip"}, {"out": "/tmp"}, {"pairs": 30}, {"pairs": "x" * 500}, ["pairs"]])
def test_no_wish_but_those_of_the_page_is_taken(house: Visited, flags: object) -> None:
    status, answer = house.post("/find", json.dumps({"of": "kite.svg", "flags": flags}))
    assert (status, set(answer)) == (422, {"why"})


def test_a_drawing_is_an_svg_of_ours_and_never_changes(house: Visited, study: Study) -> None:
    for look in ("drawing", "lace", "threads"):
        answer = house.client.get(f"/study/{study.folder.name}/1/{look}.svg")
        assert answer.headers["content-type"].startswith("image/svg+xml")
        assert "immutable" in answer.headers["cache-control"]
        assert answer.text.startswith("<svg ")
    assert house.client.get(f"/study/{study.folder.name}/9/lace.svg").status_code == 422
    assert house.client.get(f"/study/{study.folder.name}/1/other.svg").status_code == 422


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


# --- streams and words -------------------------------------------------------------------------------------


def test_whoever_comes_later_hears_all_and_whoever_comes_again_the_rest() -> None:
    stream = Stream()
    for number in range(3):
        stream.tell(number=number)
    stream.close()
    stream.tell(number=9)

    async def heard(after: int) -> list[int]:
        return [event["number"] async for _, event in stream.listen(after)]

    assert asyncio.run(heard(0)) == [0, 1, 2]
    assert asyncio.run(heard(2)) == [2]


def test_of_how_things_stand_whoever_comes_later_hears_the_last_alone() -> None:
    stream = Stream()
    for number in range(3):
        stream.tell(kind="marks", number=number)
        stream.tell(kind="square", number=number)
    stream.close()

    async def heard(after: int) -> list[tuple[int, str, int]]:
        return [(at, event["kind"], event["number"]) async for at, event in stream.listen(after)]

    assert asyncio.run(heard(0)) == [(2, "square", 0), (4, "square", 1), (5, "marks", 2), (6, "square", 2)]
    assert asyncio.run(heard(4)) == [(5, "marks", 2), (6, "square", 2)]


def test_the_sentence_names_size_print_and_verdict() -> None:
    stamp = petal()
    brief = wishes.brief_of("tulip", {"pairs": "28", "known": "no"})
    found = wishes.room_for(stamp, brief)
    assert 0 < found.size <= 28
    # 28 pairs worked round with one passive: 26 pitches (README: a square of N pitches takes N pairs, the edge pair
    # and the passives).
    assert wishes.measured("tulip", {"pairs": "28"})["words"].startswith("28 pairs: 130 mm wide, 26 pitches of 5 mm")
    words = wishes.in_it("moth", found, 14.0, "known", "known")["words"]
    assert words == f"Your moth: up to {found.size:g} pitches, known."
    small = wishes.in_it("moth", wishes.Room(8.0, {}), 12.0, "not known", "known")
    assert small["why"] == "Your moth: up to 8 pitches, not known: it begins to be known at 12."


def test_the_pairs_that_are_offered_are_the_fewest_that_give_the_print_room() -> None:
    """One by one, as README's own refusal names them: the watering can, known from 12 pitches, with 12 pairs."""
    stamp, brief = read(built_in("watering-can")), wishes.brief_of("watering-can", {"pairs": "12"})
    assert wishes.pairs_for(stamp, brief, 12.0) == 16
    assert (
        wishes.room_for(stamp, brief.changed(pairs=15)).size
        < 12
        <= wishes.room_for(stamp, brief.changed(pairs=16)).size
    )
    assert wishes.pairs_for(stamp, brief, 500.0) == 0
    offered = wishes.mends_of_room(16, "known")
    assert [(each["words"], each["flags"]) for each in offered] == [
        ("16 pairs", {"pairs": "16"}),
        ("take it all the same", {"known": "no"}),
    ]

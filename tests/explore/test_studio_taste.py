"""More like what she keeps: learnt as `stampwork taste` does, told in words, and off at a switch."""

from __future__ import annotations

import shlex
import sys
from collections.abc import Iterator
from contextlib import chdir
from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from asked import Ask

sys.path.append(str(Path(__file__).parents[1] / "gallery"))

from examples import gallery_of
from fakes import FakeSearch, petal
from studios import SVG, Visited, told

from constraints.brief import Brief
from explore import cli
from explore.editing.liking import certain_with
from explore.serving.events import End, Ended, Event
from explore.serving.searches import Wanted
from explore.storage.study import create, read_square
from explore.studio.tasting import MORE, learnt_of, learnt_with
from gallery.seeing.traits import TRAITS, measured


@pytest.fixture
def liked(house: Visited) -> str:
    """A study of twelve squares, of which she keeps those whose trails close most."""
    folder = house.room.folder.path / "liked"
    made = create(folder, Brief.of(stamp="petal", pairs=26), (petal(),), (SVG.encode(),), force=folder.exists())
    squares = [replace(design, number=number) for number, design in enumerate(gallery_of(12, 8), 1)]
    for design in squares:
        made = made.keep(design, design.number)
    closed = [measured(design)[list(TRAITS).index("closed")] for design in squares]
    with chdir(house.room.folder.path):
        kept = [str(design.number) for design, much in zip(squares, closed, strict=True) if much > 0]
        assert cli.run(["pick", "liked", *kept, "-q"]) == 0
    return "liked"


class Noted:
    """In place of the searches of the service: what was asked of them."""

    def __init__(self) -> None:
        self.wanted: list[Wanted] = []

    def begin(self, wanted: Wanted) -> Noted:
        self.wanted.append(wanted)
        return self

    def cancel(self) -> None:
        raise AssertionError("nothing ends it")

    def events(self) -> Iterator[Event]:
        yield Ended(End.NONE, 0)


def looked_for(house: Visited, name: str, monkeypatch: pytest.MonkeyPatch) -> Wanted:
    """What is searched for when she asks for more."""
    noted = Noted()
    monkeypatch.setattr(house.room, "searches", noted)
    assert house.post(f"/study/{name}/more", '{"count": 2}')[0] == 200
    told(house, name, lambda events: events[-1].get("state") == "ended")
    return noted.wanted[0]


def test_more_are_looked_for_by_what_she_keeps_as_the_command_that_is_shown_does(
    house: Visited, liked: str, ask: Ask, search: FakeSearch, monkeypatch: pytest.MonkeyPatch
) -> None:
    page: dict[str, Any] = house.client.get(f"/study/{liked}/taste").json()
    with chdir(house.room.folder.path):
        status, lines, _ = ask("taste", liked)
    # The words of the command, and no fewer.
    assert status == 0
    words = lines[1].removeprefix("perhaps you like ").split(", ")
    assert page["words"] == f"Perhaps you like {', '.join(words)}."
    assert lines[2] == f"taste: {page['taste']}"
    begun = looked_for(house, liked, monkeypatch)
    # No sheet is looked at here.
    monkeypatch.setattr("explore.storage.sheets.write_sheets", lambda study, *_: [study.folder / "sheet.png"])
    more = page["commands"][0]
    with chdir(house.room.folder.path):
        status, _, _ = ask(*shlex.split(more[more.index("explore ") :]))
    assert status == 0
    assert search.calls[0]["brief"] == begun.brief
    assert begun.brief.run.taste


def test_the_switch_is_kept_in_the_study_and_its_own_brief_stays(
    house: Visited, liked: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    before = (house.room.folder.path / liked / "brief.toml").read_bytes()
    assert house.post(f"/study/{liked}/liking", '{"on": false}')[1]["liking"] is False
    assert house.post(f"/study/{liked}/undo")[1]["liking"] is False
    assert "--taste" not in house.client.get(f"/study/{liked}/taste").json()["commands"][0]
    assert looked_for(house, liked, monkeypatch).brief.run.taste == ()
    assert (house.room.folder.path / liked / "brief.toml").read_bytes() == before
    assert house.post(f"/study/{liked}/liking", '{"on": "yes"}')[0] == 422


def test_nothing_is_said_before_anything_is_kept_and_nothing_that_chance_would_say(house: Visited, liked: str) -> None:
    name = f"/study/{liked}"
    kept = house.room.board(liked).marks.told()["kept"]
    for number in kept:
        house.post(f"{name}/mark", f'{{"number": {number}, "state": ""}}')
    assert house.client.get(f"{name}/taste").json()["words"] == ""
    house.post(f"{name}/mark", '{"number": 1, "state": "kept"}')
    told_of_one = house.client.get(f"{name}/taste").json()
    assert told_of_one["words"].startswith("The 1 that you kept of 12")
    assert told_of_one["taste"] == ""


def test_where_nothing_is_learnt_it_is_said_how_many_more_would_do_and_they_do(house: Visited, liked: str) -> None:
    """Who keeps so many more, those that are most like the ones that she kept, is told something then."""
    board = house.room.board(liked)
    squares, _ = board._kept_of_all()
    traits = np.array([measured(read_square(Path(path))) for path, _ in squares])
    found: set[int] = set()
    for first in range(len(squares)):
        kept = np.arange(len(squares)) == first
        numbers = frozenset({int(Path(squares[first][0]).stem)})
        if not learnt_of(squares, numbers)["open"]:
            continue
        more = next((more for more in MORE if learnt_with(squares, numbers, more)), 0)
        found.add(more)
        for fewer in (each for each in MORE if each < more):
            assert not certain_with(traits, kept, fewer)
        assert not more or certain_with(traits, kept, more)
    assert len(found) > 1
    assert not learnt_with(squares, frozenset({1}), len(squares))


def test_the_page_is_told_so_and_asked_for_more_nobody_waits_for_it(
    house: Visited, liked: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("explore.studio.board.learnt_of", nothing_yet)
    monkeypatch.setattr("explore.studio.board.learnt_with", only_three)
    board = house.room.board(liked)
    board._learnt = board._wanting = None
    assert board.learnt()["words"] == "Nothing yet."
    assert board._wanting is None
    page = house.client.get(f"/study/{liked}/taste").json()
    assert page["words"] == "Nothing yet. Keep 3 more like them, and it can tell."
    board._learnt = None


def nothing_yet(squares: object, kept: object) -> dict[str, Any]:
    return {"words": "Nothing yet.", "taste": "", "open": True}


def only_three(squares: object, kept: object, more: int) -> bool:
    return more == 3

"""A wall: frames filled by hand and by themselves, and its papers as `stampwork series` makes them."""

from __future__ import annotations

import asyncio
import json
import shlex
import time
from contextlib import chdir
from dataclasses import replace
from pathlib import Path
from typing import Any

import httpx2
import pytest
from pypdf import PdfReader
from studios import HOUSE, Visited, ended, told
from walls import BRIEF, MODEL, OTHER, ROSES, contrast

from explore import cli
from explore.editing.series import keeping, pool
from explore.storage.study import create, open_study
from explore.studio.hanging import EMPTY

# Squares 1 to 6 share their border, 7 does not.
SQUARES = [replace(MODEL, number=1), *(replace(MODEL, number=n, fillings=own) for n, own in enumerate(ROSES, 2))]
SQUARES.append(replace(OTHER, number=7))


@pytest.fixture
def study(house: Visited, tmp_path: Path) -> Path:
    folder = house.room.folder.path / f"{tmp_path.name}-study"
    made = create(folder, BRIEF, (), ())
    for design in SQUARES:
        made = made.keep(design, 0)
    return folder


def asked(house: Visited, study: Path, what: str, *frames: int, **more: object) -> tuple[int, dict[str, Any]]:
    wall = {**EMPTY, "share": "border", "frames": list(frames), **more}
    return house.post(f"/study/{study.name}/wall/{what}", json.dumps(wall))


def test_what_hangs_is_kept_in_the_study_and_taken_back(house: Visited, study: Path) -> None:
    assert asked(house, study, "hang", 3, 0, 1, title=" At\ndusk ")[1]["wall"]["title"] == "At dusk"
    assert asked(house, study, "hang", 1, 0, 3)[1]["wall"]["frames"] == [1, 0, 3]
    assert house.post(f"/study/{study.name}/undo")[1]["wall"]["frames"] == [3, 0, 1]
    # Another studio finds it there.
    del house.room._boards[study.name]
    marks = house.room.board(study.name).marks
    assert marks.told()["wall"]["frames"] == [3, 0, 1]
    assert marks.undo()["wall"] is None


def test_empty_frames_are_filled_with_what_belongs_and_is_most_different(house: Visited, study: Path) -> None:
    status, answer = asked(house, study, "fill", 0, 1, 0)
    assert status == 200
    first, hers, last = answer["wall"]["frames"]
    assert hers == 1
    assert {first, last} < {2, 3, 4, 5, 6}
    by = {design.number: design for design in SQUARES}

    def least(*numbers: int) -> float:
        return min(contrast(by[one], by[other]) for one in numbers for other in numbers if one < other)

    # Pinhole by pinhole, from the files alone: no other two go better with hers.
    every = [least(1, one, other) for one in range(2, 7) for other in range(one + 1, 7)]
    assert least(first, hers, last) == pytest.approx(max(every), abs=1e-9)
    # One that is changed for another does not come again, and what is put away does not come.
    house.post(f"/study/{study.name}/mark", f'{{"number": {last}, "state": "away"}}')
    _, answer = asked(house, study, "fill", 0, 1, without=first)
    assert answer["wall"]["frames"][0] not in (0, first, last, 7)
    assert asked(house, study, "fill", 0, 6, 1, 2, 3, 4, 5, without=7)[0] == 422


@pytest.mark.parametrize(
    ("frames", "more"),
    [
        ([1], {}),
        ([0] * 41, {}),
        ([1, 1], {}),
        ([1, 99], {}),
        ([1, True], {}),
        ([1, "../1"], {}),
        ([1, 2], {"share": "colour"}),
        ([1, 2], {"title": "x" * 500}),
        ([1, 2], {"title": 1}),
        ([1, 2], {"titles": ["At dusk"]}),
        ([1, 2], {"titles": {"1": 1}}),
        ([1, 2], {"titles": {"99": "At dusk"}}),
        ([1, 2], {"titles": {"1": "x" * 121}}),
    ],
)
def test_nonsense_hangs_nothing(house: Visited, study: Path, frames: list[Any], more: dict[str, Any]) -> None:
    assert asked(house, study, "hang", *frames, **more)[0] == 422
    assert house.room.board(study.name).marks.told()["wall"] is None


def test_nothing_is_found_for_a_bare_wall_and_strangers_are_told(house: Visited, study: Path) -> None:
    for what in ("fill", "grow"):
        status, answer = asked(house, study, what, 0, 0)
        assert (status, str(answer["why"])[:25]) == (422, "Put a square into a frame")
        status, answer = asked(house, study, what, 1, 7, 0)
        assert status == 422
        assert "do not share the border" in str(answer["why"])


def test_new_squares_are_found_for_empty_frames_and_are_squares_of_the_study(
    house: Visited, study: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(pool, "WANTED", 4)
    monkeypatch.setattr(pool, "_AT_LEAST", 1)
    status, answer = asked(house, study, "grow", 1, 0, 0, 0, 0, 0, 0, 0)
    assert (status, answer) == (200, {})
    events = told(house, study.name, ended, within=120)
    frames = next(each for each in reversed(events) if each["kind"] == "marks")["wall"]["frames"]
    after = open_study(study)
    new = [design for design in after.designs if design.number > 7]
    assert {design.number for design in new} <= set(frames)
    assert new
    assert all(contrast(one, MODEL) > 0 for one in new)
    bare = frames.count(0)
    assert events[-1]["words"].startswith(f"{bare} of the frames stay empty" if bare else "Every frame is filled.")


def test_its_papers_are_those_of_the_command_that_is_shown(
    house: Visited, study: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    named = {"title": "At dusk", "titles": {"1": "Moths at\nthe lamp", "2": "Not hung", "3": " "}}
    assert asked(house, study, "hang", 3, 0, 1, **named)[1]["wall"]["titles"] == {
        "1": "Moths at the lamp",
        "2": "Not hung",
    }
    assert asked(house, study, "write", 3, 0, 1, **named)[0] == 200
    page = f"/study/{study.name}/wall"
    begun = time.monotonic()
    while (papers := house.client.get(f"{page}/papers").json())["busy"]:
        assert time.monotonic() - begun < 60
        time.sleep(0.1)
    made = house.room.folder.path / papers["study"]
    assert made.name == f"{study.name.removesuffix('-study')}-series"
    for name, begins in (("exhibition.png", b"\x89PNG"), ("labels.pdf", b"%PDF"), ("catalogue.pdf", b"%PDF")):
        assert house.client.get(f"{page}/papers/{name}").content.startswith(begins)
    for name in ("series.json", "..%2Fstudy.json", "study.json"):
        assert house.client.get(f"{page}/papers/{name}").status_code in (404, 422)
    told_of_it = (made / keeping.STATEMENT).read_bytes()
    assert [each["title"] for each in json.loads(told_of_it)["squares"]] == ["No. 1", "Moths at the lamp"]
    for name in ("labels.pdf", "catalogue.pdf"):
        pages = "".join(page.extract_text() for page in PdfReader(made / name).pages)
        assert "Moths at the lamp" in pages
        assert "Not hung" not in pages
    assert papers["titles"] == "\nMoths at the lamp"
    monkeypatch.setattr(keeping, "_draw", lambda folder, *_: (folder / "exhibition.png").write_text("drawn"))
    line = papers["command"].replace("--force", "").replace(f"--out {papers['study']}", "--out typed")
    with chdir(house.room.folder.path):
        Path(papers["titles_file"]).write_text(papers["titles"], encoding="utf-8")
        assert cli.run([*shlex.split(line[line.index("series ") :]), "-q"]) == 0
    assert (house.room.folder.path / "typed" / keeping.STATEMENT).read_bytes() == told_of_it
    # Made again they take the same place.
    assert house.client.get(f"{page}/papers").json()["study"] == papers["study"]


def test_of_two_changes_the_later_one_holds_however_soon_they_follow(
    house: Visited, study: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The first one takes long to be done."""
    board = house.room.board(study.name)
    slow = board.changed
    calls = iter([0.5, 0.0])

    def changed(change: Any) -> Any:
        time.sleep(next(calls))
        return slow(change)

    monkeypatch.setattr(board, "changed", changed)

    async def both() -> None:
        transport = httpx2.ASGITransport(app=house.threshold)
        headers = {"origin": HOUSE, "cookie": "; ".join(f"{k}={v}" for k, v in house.client.cookies.items())}
        async with httpx2.AsyncClient(transport=transport, base_url=HOUSE, headers=headers) as tab:
            walls = [json.dumps({**EMPTY, "frames": [1, 2, 0], "title": title}) for title in ("Dawn", "Dusk")]
            first = asyncio.create_task(tab.post(f"/study/{study.name}/wall/hang", content=walls[0]))
            await asyncio.sleep(0.1)
            await asyncio.gather(first, tab.post(f"/study/{study.name}/wall/hang", content=walls[1]))

    asyncio.run(both())
    assert board.marks.told()["wall"]["title"] == "Dusk"

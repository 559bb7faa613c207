"""Papers in the studio: the booklet of `pack`, the order of `work`, and where she is at the pillow."""

from __future__ import annotations

import asyncio
import json
import re
import time
from collections.abc import Iterator
from contextlib import chdir
from pathlib import Path
from typing import Any

import pytest
from fakes import petal, plain_square
from pypdf import PdfReader
from studios import SVG, Visited, visited

from constraints.brief import Brief
from explore import cli
from explore.storage.study import create, read_square, square_path
from explore.studio.scribe import booklet_path


@pytest.fixture(scope="module")
def house(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Visited]:
    folder = tmp_path_factory.mktemp("garden")
    made = create(folder / "petals", Brief.of(stamp="petal"), (petal(),), (SVG.encode(),))
    made.keep(plain_square(1), 1).keep(plain_square(2), 2)
    with visited(folder) as found:
        yield found


def get(house: Visited, path: str) -> dict[str, Any]:
    answer = house.client.get(f"/study/petals/{path}")
    assert answer.status_code == 200, answer.text
    told: dict[str, Any] = answer.json()
    return told


def progress(house: Visited, number: int) -> list[dict[str, Any]]:
    async def hear() -> list[dict[str, Any]]:
        stream = house.room.board("petals").scribes[number].stream
        return [dict(event) async for _, event in stream.listen()]

    return asyncio.run(asyncio.wait_for(hear(), 60))


def texts(path: Path) -> list[str]:
    return [page.extract_text() for page in PdfReader(path).pages]


def test_the_booklet_is_the_one_of_the_command_that_is_shown(house: Visited, tmp_path: Path) -> None:
    assert get(house, "1/papers")["pages"] == 0
    ways = {"paper": "letter", "method": "open", "footside": "right"}
    status, told = house.post("/study/petals/1/papers/make", json.dumps({"ways": ways}))
    assert status == 200
    events = progress(house, 1)
    parts = ["Cover", "Materials", "Pricking", "Working diagram", "Order of work"]
    assert [(each["part"], each["done"]) for each in events[:-1]] == [(part, n) for n, part in enumerate(parts, 1)]
    assert events[-1]["why"] == ""
    folder = house.room.folder.path
    made = texts(booklet_path(folder / "petals", 1))
    shown = get(house, "1/papers")
    assert shown["pages"] == len(made) == events[-1]["pages"]
    assert [each["words"] for each in shown["parts"]] == parts
    words = re.sub("^.*?(?=pack )", "", str(told["command"])).replace("--force", f"--out {tmp_path}").split()
    with chdir(folder):
        assert cli.run([*words, "--cores", "1", "-q"]) == 0
    assert texts(tmp_path / "01-booklet.pdf") == made


def test_pages_are_pictures_and_the_booklet_is_shown_or_saved(house: Visited) -> None:
    house.post("/study/petals/1/papers/make")
    progress(house, 1)
    picture = house.client.get("/study/petals/1/papers/0.png")
    # A PNG begins so (PNG specification, section 5.2).
    assert picture.content.startswith(b"\x89PNG\r\n\x1a\n")
    assert house.client.get("/study/petals/1/papers/999.png").status_code == 422
    shown, saved = (house.client.get(f"/study/petals/1/booklet.pdf{more}") for more in ("", "?save=1"))
    assert shown.content == saved.content == booklet_path(house.room.folder.path / "petals", 1).read_bytes()
    assert shown.headers["content-disposition"] == 'inline; filename="petals-01-booklet.pdf"'
    assert saved.headers["content-disposition"].startswith("attachment; ")
    assert "script-src" not in shown.headers["content-security-policy"]
    assert house.client.get("/study/petals/2/booklet.pdf").status_code == 422


def test_making_papers_is_stopped_and_leaves_no_half_booklet(house: Visited) -> None:
    assert house.post("/study/petals/2/papers/make")[0] == 200
    assert house.post("/study/petals/2/papers/make")[1]["why"] == "Its papers are being made already."
    assert house.post("/study/petals/2/papers/stop")[0] == 200
    begun = time.monotonic()
    assert progress(house, 2)[-1] == {"kind": "ended", "why": "The papers were not finished."}
    assert time.monotonic() - begun < 5
    assert not booklet_path(house.room.folder.path / "petals", 2).exists()


@pytest.mark.parametrize("ways", [{"out": "/tmp"}, {"paper": "a5"}, {"title": "x"}, ["a4"]])
def test_no_other_way_to_work_is_taken(house: Visited, ways: object) -> None:
    assert house.post("/study/petals/1/papers/make", json.dumps({"ways": ways}))[0] == 422


def test_the_pillow_has_every_line_of_the_order_of_work_and_keeps_where_she_is(house: Visited, tmp_path: Path) -> None:
    told = get(house, "1/pillow/lines")
    ways = house.room.board("petals").marks.ways()
    with chdir(house.room.folder.path):
        options = [word for name, value in ways.items() if name != "paper" for word in (f"--{name}", value)]
        assert cli.run(["work", "petals", "1", "--out", str(tmp_path), "-q", *options]) == 0
    flowing = " ".join((tmp_path / "01-work.txt").read_text().split())
    at = -1
    for line in told["lines"]:
        assert line["words"]
        words = " ".join(f"{line['number'] or ''} {line['words']}".split())
        assert (at := flowing.find(words, at + 1)) >= 0, words
    assert [line["number"] for line in told["lines"] if line["kind"] == "step"] == list(
        range(1, 1 + sum(line["kind"] == "step" for line in told["lines"]))
    )
    assert (told["at"], told["looking"]) == (0, False)
    for given, kept in (('{"at": 5, "looking": true}', (5, True)), ('{"at": 6}', (6, False))):
        assert house.post("/study/petals/1/pillow/at", given)[0] == 200
        told = get(house, "1/pillow/lines")
        assert (told["at"], told["looking"]) == kept
    for given in ('{"at": -5}', '{"at": 5, "looking": "yes"}'):
        assert house.post("/study/petals/1/pillow/at", given)[0] == 422


def test_at_the_pillow_she_looks_now_and_then_where_every_pair_hangs(house: Visited) -> None:
    told = get(house, "1/pillow/lines")
    looks = [line["look"] for line in told["lines"] if line["look"]]
    assert told["edge"] == "footside"
    assert looks
    pairs = read_square(square_path(house.room.folder.path / "petals", 1)).pairs
    for look in looks:
        first, last = re.match(r"\d+", look[0][0]), re.search(r"\d+$", look[-1][0])
        assert first
        assert last
        assert (int(first[0]), int(last[0])) == (1, pairs)
        assert look[0][1].startswith("the edge pair")
        assert all(where for _, _, where in look)


def test_the_map_is_a_drawing(house: Visited) -> None:
    answer = house.client.get("/study/petals/1/pillow/map.svg")
    assert answer.headers["content-type"].startswith("image/svg+xml")
    assert "<svg" in answer.text

"""The folder of the studio: what lies outside it is neither listed, read nor written, by whatever name."""

from __future__ import annotations

import io
import time
from pathlib import Path

import pytest
from fakes import petal, plain_square
from PIL import Image
from studios import SVG, Visited, visited

from constraints.brief import Brief
from explore.bad_input import BadInput
from explore.storage.study import create
from explore.studio.folder import Elsewhere, OpenedFolder, tidy_name
from explore.studio.reader import ReadingLimits, read_apart


@pytest.fixture
def opened_folder(tmp_path: Path) -> OpenedFolder:
    """A folder with a print and a study; beside it others of both."""
    for name in ("garden", "outside"):
        folder = tmp_path / name
        folder.mkdir()
        (folder / "kite.svg").write_text(SVG)
        study = create(folder / "kite-study", Brief.of(stamp="petal"), (petal(),), (SVG.encode(),))
        study.keep(plain_square(1), 0)
    return OpenedFolder((tmp_path / "garden").resolve())


NAMES = ["", ".", "..", "../outside", "..\\outside", "/etc", "kite-study/../../outside", "a\0b", "a\nb", ".git", "C:",
         "%2e%2e", "x" * 300, "*", "~"]  # fmt: skip


@pytest.mark.parametrize("name", NAMES)
def test_no_trick_with_names_leads_to_a_study_or_a_print(opened_folder: OpenedFolder, name: str) -> None:
    for ask in (opened_folder.study, opened_folder.print):
        with pytest.raises(Elsewhere):
            ask(name)


def test_what_lies_there_is_found(opened_folder: OpenedFolder) -> None:
    assert opened_folder.studies() == ["kite-study"]
    assert opened_folder.prints() == ["kite.svg"]
    assert opened_folder.study("kite-study").name == "kite-study"
    assert opened_folder.print("kite.svg").read_text() == SVG


def test_links_out_of_the_folder_are_not_followed(opened_folder: OpenedFolder, tmp_path: Path) -> None:
    here, outside = opened_folder.path, tmp_path / "outside"
    (here / "away").symlink_to(outside / "kite-study")
    (here / "away.svg").symlink_to(outside / "kite.svg")
    (here / "round").symlink_to(here / "round")
    assert opened_folder.studies() == ["kite-study"]
    assert opened_folder.prints() == ["kite.svg"]
    for name in ("away", "round"):
        with pytest.raises(Elsewhere):
            opened_folder.study(name)
    with pytest.raises(Elsewhere):
        opened_folder.print("away.svg")


@pytest.mark.parametrize("inside", ["picks.json", "squares/02.json", "papers", "brief.toml"])
def test_a_study_with_a_link_out_of_the_folder_in_it_is_none(
    opened_folder: OpenedFolder, tmp_path: Path, inside: str
) -> None:
    link = opened_folder.path / "kite-study" / inside
    link.unlink(missing_ok=True)
    link.symlink_to(tmp_path / "outside" / "kite-study" / inside)
    with pytest.raises(Elsewhere):
        opened_folder.study("kite-study")
    assert opened_folder.studies() == []


def test_prints_are_not_written_through_a_link(opened_folder: OpenedFolder, tmp_path: Path) -> None:
    (opened_folder.path / "prints").symlink_to(tmp_path / "outside")
    with pytest.raises(Elsewhere):
        opened_folder.put_print("moth.svg", SVG.encode())
    assert not (tmp_path / "outside" / "moth.svg").exists()


@pytest.mark.parametrize(
    ("name", "kept"),
    [
        ("Moth.JPG", "Moth.jpg"),
        ("../../etc/passwd.png", "passwd.png"),
        ("..\\..\\moth.svg", "moth.svg"),
        ("<img src=x onerror=a()>.png", "img-src-x-onerror-a.png"),
        (".hidden", "hidden.png"),
        ("", "print.png"),
        ("moth.exe", "moth.png"),
        ("--force.svg", "force.svg"),
        ("ä b\r\nc.tiff", "ä-b-c.tiff"),
    ],
)
def test_a_print_is_kept_under_a_plain_name(name: str, kept: str) -> None:
    assert tidy_name(name) == kept


def test_a_print_is_kept_once_and_another_one_of_its_name_beside_it(opened_folder: OpenedFolder) -> None:
    other = SVG.replace("38", "30").encode()
    given = [
        opened_folder.put_print("moth.svg", data) for data in (SVG.encode(), SVG.encode(), other, SVG.encode(), other)
    ]
    assert given == ["prints/moth.svg"] * 2 + ["prints/moth-2.svg", "prints/moth.svg", "prints/moth-2.svg"]
    assert (opened_folder.path / "prints" / "moth-2.svg").read_bytes() == other


# --- reading apart -----------------------------------------------------------------------------------------


def bomb() -> bytes:
    """A small file that unpacks to very many pixels."""
    held = io.BytesIO()
    Image.new("1", (9000, 9000)).save(held, "PNG")
    assert len(held.getvalue()) < 20_000
    return held.getvalue()


def test_a_picture_of_too_many_pixels_is_refused_in_one_line_that_tells_no_path(tmp_path: Path) -> None:
    (tmp_path / "bomb.png").write_bytes(bomb())
    with pytest.raises(BadInput, match=r"^bomb.png has 9000 x 9000 pixels; at most 50 million are read"):
        read_apart(tmp_path / "bomb.png")


def test_reading_that_takes_too_long_is_ended(tmp_path: Path) -> None:
    (tmp_path / "kite.svg").write_text(SVG)
    read_apart(tmp_path / "kite.svg")
    begun = time.monotonic()
    with pytest.raises(BadInput, match=r"takes longer than 0.001 seconds"):
        read_apart(tmp_path / "kite.svg", limits=ReadingLimits(patience=0.001))
    assert time.monotonic() - begun < 5


def test_reading_that_takes_too_much_memory_is_ended(tmp_path: Path) -> None:
    Image.new("RGB", (5000, 5000), "white").save(tmp_path / "large.png")
    with pytest.raises(BadInput, match=r"large.png .*memory"):
        read_apart(tmp_path / "large.png", limits=ReadingLimits(memory=10**6))


# --- through the house -------------------------------------------------------------------------------------


@pytest.fixture
def house(opened_folder: OpenedFolder) -> object:
    with visited(opened_folder.path) as found:
        yield found


def test_a_dropped_print_is_read_and_kept_and_shown(house: Visited) -> None:
    status, told = house.post("/prints?name=My%20kite.svg", SVG.replace("20", "22"))
    assert (status, told) == (200, {"of": "prints/My-kite.svg"})
    read = house.client.get("/prints/read", params={"of": told["of"]}).json()
    assert read["outline"].startswith("M")
    assert read["name"] == "My-kite"
    assert "prints/My-kite.svg" in house.client.get("/").text


@pytest.mark.parametrize("data", [b"", b"<svg", b"\x89PNG\r\n\x1a\n", b"#!/bin/sh", b"\0" * 1000])
def test_what_is_no_print_is_told_in_one_line_and_nothing_is_kept(house: Visited, data: bytes) -> None:
    before = sorted(house.room.folder.path.rglob("*"))
    status, told = house.post("/prints?name=moth.png", data)
    assert status == 422
    assert str(told["why"]).startswith("Moth.png ")
    assert "/" not in str(told["why"])
    assert sorted(house.room.folder.path.rglob("*")) == before


@pytest.mark.parametrize("name", NAMES)
def test_no_path_is_read_from_an_address(house: Visited, name: str) -> None:
    answer = house.client.get("/prints/read", params={"of": name})
    assert answer.status_code == 404
    assert set(answer.json()) == {"why"}


@pytest.mark.parametrize("path", ["/../outside/kite.svg", "/parts/../app.py", "/parts/%2e%2e/app.py", "/parts/app.py"])
def test_no_address_leads_to_another_file(house: Visited, path: str) -> None:
    assert house.client.get(path).status_code == 404


def test_names_are_shown_as_they_are_and_never_as_markup(house: Visited) -> None:
    name = "<script>alert(1)</script>.svg".replace("/", "")
    hostile = house.room.folder.path / "&<b onclick='a()'>.svg"
    hostile.write_text(SVG)
    (house.room.folder.path / name.replace("<", "(").replace(">", ")")).write_text(SVG)
    text = house.client.get("/", headers={"accept": "text/html"}).text
    assert "<b onclick" not in text
    refused = house.client.get("/<script>alert(1)", headers={"accept": "text/html"}).text
    assert "<script>alert" not in refused


def test_a_full_disk_is_told_in_one_line(house: Visited, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(path: Path, data: bytes) -> None:
        raise OSError(28, "No space left on device", str(path))

    monkeypatch.setattr("explore.studio.folder.write_whole", full)
    status, told = house.post("/prints?name=moth.svg", SVG)
    assert (status, told) == (507, {"why": "No space left on device: nothing was changed."})

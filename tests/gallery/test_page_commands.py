"""What the page offers to copy runs as it is pasted, in a shell that finds neither program nor study by name alone."""

from __future__ import annotations

import json
import os
import shlex
import subprocess
import sys
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest
from browser import Opened
from playwright.sync_api import Browser, Locator, expect

# The program itself, but that it chooses a series from few squares and gives up sooner on more cousins, which spares
# the test minutes.
PROGRAM = f"""#!{sys.executable}
import explore.editing.series.pool as pool
import explore.editing.varying.cousins as cousins
from explore.start import main
pool.WANTED, pool._AT_LEAST, cousins._IN_VAIN = 12, 2, 8
main()
"""
PETAL = '<svg xmlns="http://www.w3.org/2000/svg" width="40" height="40"><path d="M2 2 H38 L20 38 Z"/></svg>'
EASY = "--pairs 12 --symmetry none --known no --match 0.5 --count 2"


@dataclass(frozen=True)
class Hers:
    """Her home, and the page of a study, both in folders whose names a shell reads otherwise unless they are quoted."""

    home: Path
    study: Path

    def pastes(self, line: str) -> subprocess.CompletedProcess[str]:
        """What comes of a line that she pastes into a shell in another folder, with nothing of ours on its PATH."""
        elsewhere = self.home / "elsewhere"
        elsewhere.mkdir(exist_ok=True)
        given = {"HOME": str(self.home), "PATH": "/usr/bin:/bin", "LANG": "C.UTF-8"}
        return subprocess.run(["bash", "-c", line], cwd=elsewhere, env=given, capture_output=True, text=True)


def made(home: Path, explored: str) -> Hers:
    program = home / "my programs" / "stampwork"
    program.parent.mkdir(parents=True)
    program.write_text(PROGRAM)
    program.chmod(0o755)
    (home / "petal.svg").write_text(PETAL)
    hers = Hers(home, home / "that's & more" / "$study")
    hers.study.parent.mkdir()
    for words in (f"{explored} --out", "page"):
        # As she calls it: by a way that holds in this folder alone.
        line = ["../my programs/stampwork", *shlex.split(words), hers.study.name]
        ended = subprocess.run(line, cwd=hers.study.parent, env={**os.environ, "HOME": str(home)}, capture_output=True)
        assert ended.returncode == 0, ended.stderr
    return hers


@pytest.fixture(scope="module")
def squares(tmp_path_factory: pytest.TempPathFactory) -> Hers:
    return made(tmp_path_factory.mktemp("squares"), f"explore ../petal.svg {EASY}")


@pytest.fixture(scope="module")
def strips(tmp_path_factory: pytest.TempPathFactory) -> Hers:
    return made(tmp_path_factory.mktemp("strips"), "explore --no-stamp --form strip --pairs 10 --repeat 8 --count 1")


@pytest.fixture
def browsed(browser: Browser) -> Iterator[Callable[[Hers], Opened]]:
    context = browser.new_context(permissions=["clipboard-read", "clipboard-write"])
    yield lambda hers: Opened(context, hers.study / "page.html")
    context.close()


def copied(opened: Opened, within: str) -> dict[str, str]:
    """All commands that can be copied in a part of the page, as they come to the clipboard, by what is said of each."""

    def line(row: Locator) -> str:
        row.get_by_role("button").click()
        told: str = opened.page.evaluate("navigator.clipboard.readText()")
        return told

    return {row.locator("span").inner_text(): line(row) for row in opened.page.locator(f"{within} .command").all()}


def test_every_command_on_the_page_of_squares_runs_as_it_is_pasted(
    squares: Hers, browsed: Callable[[Hers], Opened]
) -> None:
    opened = browsed(squares)
    page, study = opened.page, squares.study
    opened.tick(1, 2)
    opened.card(2).locator(".picture").click()
    page.get_by_label("Note").fill("for the door")
    commands = copied(opened, "#large")
    page.keyboard.press("Escape")
    page.get_by_role("button", name="Compare").click()
    commands |= copied(opened, "#compare")
    page.keyboard.press("Escape")
    page.get_by_role("button", name="Picks").click()
    with page.expect_download() as download:
        page.get_by_role("button", name="Save picks.json").click()
    commands |= copied(opened, "#picks")

    downloads = squares.home / "Downloads"
    saved = downloads / download.value.suggested_filename
    download.value.save_as(saved)
    written = {
        "More like this one": study.parent / f"{study.name}-02-cousins" / "sheet.pdf",
        "Its pricking, at true size": study / "papers" / "02-pricking.pdf",
        "The differences of 1 and 2 coloured": study / "compare-01-02.pdf",
        "Keep these picks in the study": study / "picks.json",
        "Or with the notes, once picks.json is saved": study / "picks.json",
        "A series for a wall, of those with the print of 1": None,
    }
    assert set(commands) == set(written)
    for words, file in written.items():
        ended = squares.pastes(commands[words])
        assert ended.returncode == 0, ended.stderr
        assert file is None or file.is_file(), commands[words]
        if "--from" in commands[words]:
            assert f"note: picks are taken from {saved}" in ended.stderr.splitlines()
        else:
            assert str(downloads) not in ended.stderr
    assert json.loads((study / "picks.json").read_text()) == json.loads(saved.read_text())
    assert len(list((squares.home).rglob("exhibition.pdf"))) == 1


def test_the_page_of_strips_offers_no_command_that_refuses_strips(
    strips: Hers, browsed: Callable[[Hers], Opened]
) -> None:
    opened = browsed(strips)
    opened.tick(1)
    opened.card(1).locator(".picture").click()
    commands = copied(opened, "#large")
    opened.page.keyboard.press("Escape")
    opened.page.get_by_role("button", name="Picks").click()
    assert [shlex.split(line)[3:] for line in copied(opened, "#picks").values()] == [
        ["1"],
        ["--from", "downloads"],
    ]
    assert strips.pastes(commands["Its pricking, at true size"]).returncode == 0
    assert (strips.study / "papers" / "01-pricking.pdf").is_file()


def test_strips_are_called_strips(strips: Hers, browsed: Callable[[Hers], Opened]) -> None:
    opened = browsed(strips)
    page = opened.page
    expect(page.locator("#shown")).to_have_text("1 of 1 strip")
    opened.tick(1)
    page.get_by_role("button", name="Strip 1, enlarge").click()
    expect(page.get_by_role("dialog", name="Strip 1")).to_be_visible()
    page.keyboard.press("Control+z")
    expect(page.locator("#large .told")).to_have_text("Undone: strip 1 ticked.")
    page.keyboard.press("Escape")
    assert "square" not in page.locator("body").inner_text().lower()

"""Letters that the fonts lack: whichever command draws one says so, told from the files it writes alone."""

from __future__ import annotations

import shlex
from contextlib import chdir
from pathlib import Path

import pytest
from asked import Ask
from every_command import COMMANDS, LETTER, garden_with_studies, make_series_small
from fontTools.ttLib import TTFont

from explore import menu
from explore.exits import DONE
from gallery.paper.faces import FOLDER


@pytest.fixture(scope="module")
def garden(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return garden_with_studies(tmp_path_factory.mktemp("garden"))


def test_every_command_is_tried() -> None:
    # Settings hold no word of hers, and the studio goes on until it is ended.
    assert {each.split()[0] for each in COMMANDS} == set(menu.COMMANDS) - {"settings", "studio"}


def test_no_font_of_the_papers_has_the_letter() -> None:
    for path in FOLDER.glob("*.ttf"):
        assert ord(LETTER) not in TTFont(path).getBestCmap()


@pytest.mark.parametrize("command", COMMANDS)
def test_a_command_notes_a_letter_that_stands_as_a_box_in_what_it_writes(
    garden: Path, ask: Ask, monkeypatch: pytest.MonkeyPatch, command: str
) -> None:
    make_series_small(monkeypatch)
    before = _written(garden)
    with chdir(garden):
        status, _, errors = ask(*shlex.split(command))
    assert status == DONE, errors
    new = [path for path, time in _written(garden).items() if before.get(path) != time]
    noted = [line for line in errors if f"'{LETTER}' (U+{ord(LETTER):04X})" in line and "boxes stand" in line]
    drawn = any(LETTER in path.read_text(encoding="utf-8") for path in new if path.suffix == ".svg")
    assert len(noted) == bool(COMMANDS[command])
    assert not drawn or noted


def _written(folder: Path) -> dict[Path, int]:
    return {path: path.stat().st_mtime_ns for path in folder.rglob("*") if path.is_file()}

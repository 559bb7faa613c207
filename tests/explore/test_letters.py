"""Letters that the fonts lack: whichever command draws one says so, told from the files it writes alone."""

from __future__ import annotations

import shlex
from contextlib import chdir
from pathlib import Path

import pytest
from asked import Ask
from fontTools.ttLib import TTFont

from explore import cli, menu
from explore.exits import DONE
from gallery.paper.faces import FOLDER

# In no font of the papers, which is read from the fonts themselves below.
LETTER = "\u5ead"
# Squares of few pairs, however well the print is known in them.
EASY = "--symmetry none --known no --match 0.5"
SQUARES, STRIPS = f"{LETTER}-squares", f"{LETTER}-strips"
SVG = '<svg xmlns="http://www.w3.org/2000/svg" width="40" height="40"><path d="M2 2 H38 L20 38 Z"/></svg>'
ROWS = "columns\n1\n0 2\n1 3\n0 2 4\n1 3\n0 2\n1\n0 2\n1 3\n0 2 4\n1 3\n0 2\n1\n"
# Every command, each once or more; the words beside it are what of hers it draws.
COMMANDS = {
    f"explore {LETTER}.svg --pairs 12 {EASY} --count 1 --out new --cores 2": "stamp, elsewhere",
    f"stamp {LETTER}.svg --effort 0.2": "stamp",
    f"budget {LETTER}.svg --pairs 12-12 {EASY} --effort 0.2": "stamp",
    f"page {SQUARES} --force": "",
    f"pick {SQUARES} 1 --force": "study",
    f"pick {STRIPS} 1 --note {LETTER} --force": "study and note",
    f"vary {SQUARES} 1 --count 1 --force": "stamp",
    f"series {SQUARES} 1 --squares 2 --title Dusk{LETTER} --force": "stamp, study and title",
    f"compare {SQUARES} 1 2 --force": "study",
    "count --pairs 5": "",
    f"pricking {SQUARES} 1 --force": "study",
    f"diagram {SQUARES} 1 --force": "study",
    f"work {SQUARES} 1 --force": "study",
    f"materials {SQUARES} 1 --force": "study",
    f"show {SQUARES} 1 --force": "",
    f"pack {SQUARES} 1 --title Dusk{LETTER} --force": "title",
    f"edgings {STRIPS} 1 --force": "",
    f"mirror {STRIPS} 1 --force": "",
    f"frame {STRIPS} 1 --repeats 3 --fill centre --count 1": "",
    f"fit {STRIPS} 1 --for 70x180mm --ease 90mm": "",
    f"redraft {LETTER}.txt --force": "card",
    f"check {SQUARES}": "",
}


@pytest.fixture(scope="module")
def garden(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("garden")
    (folder / f"{LETTER}.svg").write_text(SVG)
    (folder / f"{LETTER}.txt").write_text(ROWS)
    with chdir(folder):
        designs = f"explore {LETTER}.svg --pairs 12 {EASY} --count 2 --cores 1 --out {SQUARES}"
        strips = f"explore --no-stamp --form strip --pairs 10 --repeat 8 --count 1 --cores 1 --out {STRIPS}"
        assert cli.run(shlex.split(designs)) == cli.run(shlex.split(strips)) == DONE
    return folder


def test_every_command_is_tried() -> None:
    assert {each.split()[0] for each in COMMANDS} == set(menu.COMMANDS)


def test_no_font_of_the_papers_has_the_letter() -> None:
    for path in FOLDER.glob("*.ttf"):
        assert ord(LETTER) not in TTFont(path).getBestCmap()


@pytest.mark.parametrize("command", COMMANDS)
def test_a_command_notes_a_letter_that_stands_as_a_box_in_what_it_writes(
    garden: Path, ask: Ask, monkeypatch: pytest.MonkeyPatch, command: str
) -> None:
    monkeypatch.setattr("explore.editing.series.pool.WANTED", 8)
    monkeypatch.setattr("explore.editing.series.pool._AT_LEAST", 2)
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

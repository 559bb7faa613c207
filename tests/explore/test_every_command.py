"""Every command, run once each: its document has the keys that the guide lists, what it wrote can be opened, a letter
that the fonts lack is noted, and the command that goes on from there can be followed."""

from __future__ import annotations

import json
import shlex
from contextlib import chdir
from pathlib import Path

import pytest
from every_command import COMMANDS, LETTER, SQUARES, WITHOUT_PICTURES, garden_with_studies, make_series_small
from fontTools.ttLib import TTFont
from scripts_guide import ALWAYS, GUIDE, documented

from constraints.design_file import from_text
from explore import cli, document, menu
from explore.exits import DONE
from gallery.paper.faces import FOLDER


def test_the_guide_lists_every_command() -> None:
    assert set(documented()) == set(menu.COMMANDS)
    assert documented()["pick"]["picks"] >= {"number", "width_mm", "known", "note"}
    assert f"| `stampwork` | {document.VERSION}, the version" in GUIDE


def test_every_command_is_tried() -> None:
    # Settings hold no word of hers, and the studio goes on until it is ended.
    assert {each.split()[0] for each in COMMANDS} == set(menu.COMMANDS) - {"settings", "studio"}


def test_no_font_of_the_papers_has_the_letter() -> None:
    for path in FOLDER.glob("*.ttf"):
        assert ord(LETTER) not in TTFont(path).getBestCmap()


@pytest.fixture(scope="module")
def studies(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return garden_with_studies(tmp_path_factory.mktemp("garden"))


@pytest.mark.parametrize("command", COMMANDS)
def test_its_document_its_pictures_its_letters_and_the_command_that_follows(
    studies: Path,
    command: str,
    opened: list[Path],
    capfd: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """All of one run, since some take their time."""
    make_series_small(monkeypatch)
    monkeypatch.setattr("explore.studio.opening.serve", lambda app, at, ready, over: None)
    words = shlex.split(command)
    draws = words[0] not in WITHOUT_PICTURES
    before = _written(studies)
    with chdir(studies):
        assert cli.run([*words, "--json", *(["--open"] if draws else [])]) == DONE
        told, err = capfd.readouterr()
        assert_as_the_guide_lists(words[0], told)
        # What made a study has the studio show it, where she sits before a terminal.
        following = json.loads(told)["next"]
        assert bool(opened) == (draws and following[0] != "studio")
        assert all(each.is_file() and each.suffix in (".png", ".pdf", ".html") for each in opened)
        assert_letters_are_noted(COMMANDS[command], before, _written(studies), err.splitlines())
        last = err.splitlines()[-1]
        assert last.startswith("next: stampwork "), last
        # The same is told in words and in the document.
        assert shlex.split(last)[2:] == following
        # As many as are asked for take their time.
        status = cli.run([*following, "--count", "1"] if following[0] == "explore" else following)
        assert status == DONE, (last, capfd.readouterr().err)


def assert_as_the_guide_lists(command: str, text: str) -> None:
    told = json.loads(text)
    assert (told["stampwork"], told["command"]) == (document.VERSION, command)
    assert all(Path(file).is_file() for file in told["files"])
    keys = documented()[command]
    assert set(told) == ALWAYS | set(keys)
    for key, own in keys.items():
        for row in told[key] if own else ():
            assert set(row) == own, key
    assert any(told[key] for key in keys)


def assert_letters_are_noted(drawn: str, before: dict[Path, int], after: dict[Path, int], errors: list[str]) -> None:
    """drawn: what of hers the command draws, "" for nothing."""
    new = [path for path, time in after.items() if before.get(path) != time]
    noted = [line for line in errors if f"'{LETTER}' (U+{ord(LETTER):04X})" in line and "boxes stand" in line]
    seen = any(LETTER in path.read_text(encoding="utf-8") for path in new if path.suffix == ".svg")
    assert len(noted) == bool(drawn)
    assert not seen or noted


def _written(folder: Path) -> dict[Path, int]:
    return {path: path.stat().st_mtime_ns for path in folder.rglob("*") if path.is_file()}


def test_the_figures_are_those_of_the_squares(studies: Path, capsys: pytest.CaptureFixture[str]) -> None:
    with chdir(studies):
        assert cli.run(["pick", SQUARES, "1", "2", "--force", "--json", "-q"]) == DONE
        told, errors = capsys.readouterr()
        for row in json.loads(told)["picks"]:
            design = from_text(Path(SQUARES, "squares", f"{row['number']:02d}.json").read_text())
            assert (row["pairs"], row["pitch_mm"], row["form"]) == (design.pairs, design.pitch_mm, "square")
            # The guide to files: `half_size` is its width in pitches.
            assert row["width_mm"] == row["height_mm"] == design.half_size * design.pitch_mm
    assert errors == ""

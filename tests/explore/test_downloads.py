"""The picks that a browser saved are found where browsers put them, and it is told which file was taken."""

from __future__ import annotations

import json
import os
from pathlib import Path

import pytest
from fakes import plain_square

from constraints.brief import Brief
from explore.cli import run
from explore.storage.downloads import downloads_folder
from explore.storage.picks import Picks, read_picks
from explore.storage.study import create

HEAD = {"format": "stampwork picks", "version": 1}


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.delenv("XDG_CONFIG_HOME", raising=False)
    (tmp_path / "Downloads").mkdir()
    made = create(tmp_path / "garden", Brief.of(match=0.65), (), ())
    for number in (1, 2, 3):
        made = made.keep(plain_square(number), number)
    return tmp_path


def save(folder: Path, name: str, age: int, *numbers: int, study: str = "garden") -> Path:
    """A file of picks that a browser saved so many seconds ago."""
    path = folder / name
    path.write_text(json.dumps({**HEAD, "study": study, "picks": [{"number": number} for number in numbers]}))
    os.utime(path, (1_700_000_000 - age,) * 2)
    return path


# How browsers number a name that is taken: from memory, no source.
@pytest.mark.parametrize("name", ["picks.json", "picks (1).json", "picks(1).json", "picks-1.json", "picks 2.json"])
def test_the_newest_file_of_the_study_is_taken_whatever_number_the_browser_gave_it(
    home: Path, name: str, capsys: pytest.CaptureFixture[str]
) -> None:
    downloads = home / "Downloads"
    save(downloads, "picks (7).json", 60, 1)
    save(downloads, "picks (8).json", 0, 3, study="bees")
    save(downloads, "mypicks.json", 0, 3)
    save(downloads, "picks.json.part", 0, 3)
    newest = save(downloads, name, 30, 2)
    capsys.readouterr()
    assert run(["pick", str(home / "garden"), "--from", "downloads"]) == 0
    assert read_picks(home / "garden", "garden") == Picks("garden", (2,))
    assert capsys.readouterr().err.splitlines()[:2] == [
        'note: picks (8).json is of "bees"; it is newer',
        f"note: picks are taken from {newest}",
    ]


def test_a_newer_file_that_cannot_be_taken_is_told(home: Path, capsys: pytest.CaptureFixture[str]) -> None:
    downloads = home / "Downloads"
    taken = save(downloads, "picks.json", 60, 1)
    unknown = save(downloads, "picks (1).json", 30, 31)
    damaged = save(downloads, "picks (2).json", 0)
    damaged.write_text("{")
    os.utime(damaged, (1_700_000_000,) * 2)
    capsys.readouterr()
    assert run(["pick", str(home / "garden"), "--from", "downloads"]) == 0
    assert capsys.readouterr().err.splitlines()[:3] == [
        f"note: {damaged} is damaged: not a JSON text; it is newer",
        f"note: {unknown.name}: {home / 'garden'} has no square 31; it has 1 to 3; the nearest is 3; it is newer",
        f"note: picks are taken from {taken}",
    ]


def test_where_none_fits_one_line_says_what_is_there(home: Path, capsys: pytest.CaptureFixture[str]) -> None:
    downloads = home / "Downloads"
    mend = "--from FILE names the file that was saved"
    for there, said in (([], ": there is no picks.json"), (["bees"], ' (picks.json is of "bees")')):
        for study in there:
            save(downloads, "picks.json", 0, 1, study=study)
        capsys.readouterr()
        assert run(["pick", str(home / "garden"), "--from", "downloads"]) == 2
        assert capsys.readouterr().err == f'stampwork: {downloads} holds no picks of "garden"{said}; {mend}\n'
    assert not (home / "garden" / "picks.json").exists()


def test_her_downloads_folder_may_be_called_and_lie_otherwise(home: Path) -> None:
    """xdg-user-dirs (freedesktop.org), user-dirs.dirs: "$HOME/yyy" or an absolute path, quoted for a shell."""
    assert downloads_folder() == home / "Downloads"
    settings = home / ".config" / "user-dirs.dirs"
    settings.parent.mkdir()
    for line, folder in (
        ('XDG_DOWNLOAD_DIR="$HOME/Téléchargements"', home / "Téléchargements"),
        ('XDG_DOWNLOAD_DIR="/big disk/new"', Path("/big disk/new")),
        ('XDG_DOWNLOAD_DIR="$HOME/a \\"b\\""', home / 'a "b"'),
        ('#XDG_DOWNLOAD_DIR="/no"', home / "Downloads"),
    ):
        settings.write_text(f'# hers\nXDG_DESKTOP_DIR="$HOME/Desk"\n{line}\n')
        assert downloads_folder() == folder

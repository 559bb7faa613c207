"""A disk that is full at any moment: the message names the file, nothing of hers is lost, the next run goes ahead."""

from __future__ import annotations

import errno
import os
import subprocess
import sys
from pathlib import Path

import pytest
from asked import Ask, files_of
from fakes import FakeSearch, new_study

from constraints.brief import Brief
from explore.storage.free import only_begun
from explore.storage.study import create, open_study, square_path

EXPLORE = ("explore", "kite.svg", "--count", "3")


class Disk:
    """A disk with room for so many files more; None for as many as anybody likes."""

    def __init__(self) -> None:
        self.room: int | None = None

    def written(self, _: int) -> None:
        if self.room is not None:
            if not self.room:
                raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
            self.room -= 1


@pytest.fixture
def disk(monkeypatch: pytest.MonkeyPatch) -> Disk:
    full = Disk()
    monkeypatch.setattr(os, "fsync", full.written)
    return full


# Five files of a new study come before the first square: the state, the brief, picture and outline, the state again.
@pytest.mark.parametrize("room", range(6))
def test_a_new_study_without_a_square_is_no_hindrance(
    room: int, garden: Path, search: FakeSearch, disk: Disk, ask: Ask
) -> None:
    disk.room = room
    status, lines, errors = ask(*EXPLORE)
    assert (status, lines) == (2, [])
    assert errors[-1].startswith("stampwork: kite-study/")
    assert errors[-1].endswith(": No space left on device")
    disk.room = None
    assert ask(*EXPLORE)[0] == 0
    assert [design.number for design in open_study(Path("kite-study")).designs] == [1, 2, 3]


# A square and the state after it, each time.
@pytest.mark.parametrize(("room", "kept"), [(6, 1), (7, 1), (8, 2), (9, 2)])
def test_squares_that_were_found_are_kept_and_the_search_goes_on(
    room: int, kept: int, garden: Path, search: FakeSearch, disk: Disk, ask: Ask
) -> None:
    disk.room = room
    status, _, errors = ask(*EXPLORE)
    assert (status, errors[-1].endswith(".json: No space left on device")) == (2, True)
    disk.room = None
    assert len(open_study(Path("kite-study")).designs) == kept
    assert "--more 12 adds squares to it" in ask(*EXPLORE, "--out", "kite-study")[2][-1]
    assert ask("explore", "kite-study", "--more", str(3 - kept))[0] == 0
    assert [design.number for design in open_study(Path("kite-study")).designs] == [1, 2, 3]


def test_picks_and_notes_stay_as_they_were(garden: Path, search: FakeSearch, disk: Disk, ask: Ask) -> None:
    ask(*EXPLORE)
    ask("pick", "kite-study", "1", "--note", "for the door")
    before = files_of(Path("kite-study"))
    disk.room = 0
    for words in (("2", "--note", "for the gate"), ("--drop", "1")):
        _, _, errors = ask("pick", "kite-study", *words)
        assert errors[-1] == "stampwork: kite-study/picks.json: No space left on device"
    assert ask("page", "kite-study")[2] == ["stampwork: kite-study/page.html: No space left on device"]
    assert files_of(Path("kite-study")) == before


@pytest.mark.parametrize("hers", ["notes.txt", "squares/notes.txt", "picks.json", "stamp.png", "sheet.png"])
def test_a_folder_with_anything_else_is_not_only_begun(hers: str, tmp_path: Path) -> None:
    create(tmp_path, Brief.of(match=0.65), (), ())
    assert only_begun(tmp_path)
    (tmp_path / hers).write_text("hers")
    assert not only_begun(tmp_path)


def test_a_study_whose_squares_were_taken_out_is_not_only_begun(tmp_path: Path) -> None:
    new_study(tmp_path, designs=1)
    square_path(tmp_path, 1).unlink()
    assert not only_begun(tmp_path)


@pytest.mark.parametrize(
    ("words", "streams", "said"),
    [
        ("--version", ("/dev/full", ""), b"stampwork: standard output: No space left on device\n"),
        ("check nowhere", ("", "/dev/full"), b""),
    ],
)
def test_a_full_disk_behind_the_lines_ends_in_a_line_where_one_can_be_read(
    words: str, streams: tuple[str, str], said: bytes
) -> None:
    code = f"import sys, explore.start as start\nsys.argv = {['stampwork', *words.split()]}\nstart.main()"
    with open(streams[0] or os.devnull, "w") as out, open(streams[1] or os.devnull, "w") as err:
        heard = err if streams[1] else subprocess.PIPE
        ended = subprocess.run([sys.executable, "-c", code], stdout=out, stderr=heard)
    assert (ended.returncode, ended.stderr or b"") == (2, said)

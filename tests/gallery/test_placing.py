"""Files appear whole or not at all; what killed commands leave is cleared, what anybody else has there is not."""

from __future__ import annotations

import errno
import os
import signal
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from gallery.paper.placing import clear, folder_beside, place

# Begins a file or a folder and is then stopped in the midst of it.
_BEGINS = {
    "file": """
import os, sys, time
from pathlib import Path
from gallery.paper.placing import place
def stay(_):
    print("begun", flush=True)
    time.sleep(60)
os.fsync = stay
place(Path(sys.argv[1]) / "sheet.png", b"x" * 100_000)
""",
    "folder": """
import sys, time
from pathlib import Path
from gallery.paper.placing import folder_beside
with folder_beside(Path(sys.argv[1])) as new:
    (new / "wall.png").write_bytes(b"x")
    print("begun", flush=True)
    time.sleep(60)
""",
}


@contextmanager
def beginning(what: str, folder: Path) -> Iterator[subprocess.Popen[bytes]]:
    """A command that has begun to write there, and is killed at the end."""
    with subprocess.Popen([sys.executable, "-c", _BEGINS[what], str(folder)], stdout=subprocess.PIPE) as other:
        assert other.stdout is not None
        assert other.stdout.readline() == b"begun\n"
        yield other
        other.send_signal(signal.SIGKILL)


@pytest.mark.parametrize("what", _BEGINS)
def test_what_a_killed_command_left_is_cleared_and_what_a_running_one_writes_is_not(what: str, tmp_path: Path) -> None:
    with beginning(what, tmp_path):
        (unfinished,) = tmp_path.iterdir()
        clear(tmp_path)
        assert unfinished.exists()
        place(tmp_path / "page.html", b"page")
        assert unfinished.exists()
    assert unfinished.exists()
    place(tmp_path / "page.html", b"page")
    assert os.listdir(tmp_path) == ["page.html"]


def test_nothing_else_is_cleared(tmp_path: Path) -> None:
    hers = [".stampwork-notes", ".stampwork-garden01", "stampwork-garden01.unfinished", ".stampwork-garden.unfinished"]
    for name in hers:
        (tmp_path / name).write_text("hers")
    link = tmp_path / ".stampwork-12345678.unfinished"
    link.symlink_to(tmp_path / hers[0])
    os.mkfifo(tmp_path / ".stampwork-pipepipe.unfinished")
    before = sorted(tmp_path.iterdir())
    clear(tmp_path)
    assert sorted(tmp_path.iterdir()) == before
    assert (tmp_path / hers[0]).read_text() == "hers"


def test_a_folder_made_ready_beside_goes_with_what_is_still_in_it(tmp_path: Path) -> None:
    with folder_beside(tmp_path) as new:
        (new / "series").mkdir()
        (new / "other").write_text("other")
        os.replace(new / "series", tmp_path / "series")
    assert os.listdir(tmp_path) == ["series"]


@pytest.mark.parametrize("fails", ["fsync", "replace"])
def test_a_full_disk_is_told_with_the_file_and_leaves_the_old_one(
    fails: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "sheet.png"
    place(path, b"old")

    def full(*_: object) -> None:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    with monkeypatch.context() as patch:
        patch.setattr(os, fails, full)
        with pytest.raises(OSError, match="No space left") as told:
            place(path, b"new")
    assert (told.value.errno, told.value.filename) == (errno.ENOSPC, str(path))
    assert os.listdir(tmp_path) == ["sheet.png"]
    assert path.read_bytes() == b"old"


def test_a_file_takes_no_place_of_a_link_to_nothing_or_of_what_is_no_file(tmp_path: Path) -> None:
    (tmp_path / "link").symlink_to("nowhere")
    os.mkfifo(tmp_path / "pipe")
    (tmp_path / "folder").mkdir()
    (tmp_path / "device").symlink_to("/dev/null")
    refused = {"link": "link to nothing", "pipe": "not a file", "folder": "not a file", "device": "not a file"}
    for name, words in refused.items():
        with pytest.raises(OSError, match=words) as told:
            place(tmp_path / name, b"new")
        assert told.value.filename == str(tmp_path / name)
    assert sorted(os.listdir(tmp_path)) == ["device", "folder", "link", "pipe"]
    assert (tmp_path / "link").is_symlink()
    assert (tmp_path / "device").is_symlink()


def test_what_files_may_be_read_by_others_stays_as_it_was(tmp_path: Path) -> None:
    before = os.umask(0o027)
    try:
        place(tmp_path / "page.txt", b"one")
        after = os.umask(0o027)
    finally:
        os.umask(before)
    assert after == 0o027
    assert (tmp_path / "page.txt").stat().st_mode & 0o777 == 0o640

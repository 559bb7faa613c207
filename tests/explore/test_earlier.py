"""What killed commands of earlier versions left goes, as those versions called it; what is hers or new stays."""

from __future__ import annotations

import os
import time
from pathlib import Path

import pytest
from fakes import new_study

from explore.storage.earlier import clear_earlier_series
from explore.storage.free import refuse_unless_free
from explore.storage.study import open_study

# As versions until November 2026 called what they were writing.
LEFT = (
    ".new-study.json", ".new-picks.json", ".new-page.html", ".sheet.png.a1b2c3d4.png", ".sheet-2.svg.k_9zzzzz.svg",
    ".mirror-03.pdf.abcdefgh.pdf", "squares/.new-07.json", "papers/.new-07-pricking.svg",
    "papers/.07-diagram.pdf.abcdefgh.pdf",
)  # fmt: skip
HERS = (
    ".new-garden.json", ".new-page.htm", ".sheet.png.a1b2c3d4.svg", ".sheet.png.a1b2c3.png", "new-study.json",
    ".notes.png.abcdefgh.png", "squares/.new-7.json", "mine/.new-study.json", ".new-sheet.png",
)  # fmt: skip


def write(folder: Path, names: tuple[str, ...], days: float = 2) -> None:
    for name in names:
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text("left")
        then = time.time() - days * 86400
        os.utime(path, (then, then))


def files(folder: Path) -> set[str]:
    return {str(path.relative_to(folder)) for path in folder.rglob("*") if not path.is_dir()}


def test_what_was_left_in_a_study_goes_when_it_is_opened_and_nothing_else(tmp_path: Path) -> None:
    new_study(tmp_path / "study", designs=2)
    before = files(tmp_path)
    write(tmp_path / "study", (*LEFT, *HERS))
    (tmp_path / "study" / ".new-brief.toml").symlink_to(tmp_path / "study" / "brief.toml")
    open_study(tmp_path / "study")
    assert files(tmp_path) - before == {f"study/{name}" for name in (*HERS, ".new-brief.toml")}
    assert before <= files(tmp_path)


def test_what_may_still_be_written_to_stays(tmp_path: Path) -> None:
    new_study(tmp_path, designs=1)
    write(tmp_path, LEFT, days=0.5)
    open_study(tmp_path)
    assert set(LEFT) <= files(tmp_path)


def test_outside_a_study_nothing_goes(tmp_path: Path) -> None:
    write(tmp_path, LEFT)
    before = files(tmp_path)
    with pytest.raises(ValueError, match="not empty"):
        refuse_unless_free(tmp_path)
    assert files(tmp_path) == before


def test_a_study_of_which_only_the_first_file_was_begun_is_no_hindrance(tmp_path: Path) -> None:
    (tmp_path / "squares").mkdir()
    write(tmp_path, (".new-study.json",))
    refuse_unless_free(tmp_path)
    assert files(tmp_path) == set()


def test_a_series_made_ready_beside_its_place_goes_and_others_stay(tmp_path: Path) -> None:
    for place in (".tulip-series.abcdefgh/tulip-series", ".tulip-series.a1b2c3d4/mine", ".leaf.abcdefgh/leaf"):
        new_study(tmp_path / place, designs=1)
    (tmp_path / ".tulip-series.emptyone").mkdir()
    (tmp_path / ".tulip-series.hers1234" / "tulip-series").mkdir(parents=True)
    then = time.time() - 2 * 86400
    for path in tmp_path.rglob("*"):
        os.utime(path, (then, then))
    new_study(tmp_path / ".tulip-series.running1" / "tulip-series")
    clear_earlier_series(tmp_path / "tulip-series")
    assert set(os.listdir(tmp_path)) == {
        ".tulip-series.a1b2c3d4", ".leaf.abcdefgh", ".tulip-series.hers1234", ".tulip-series.running1"
    }  # fmt: skip

"""A study folder: what is there already is not lost, whole or not written."""

import os
from pathlib import Path

import pytest
from asked import files_of
from fakes import new_study, plain_square

from constraints.brief import Brief
from explore.files import write_whole
from explore.storage.free import Output, refuse_unless_free
from explore.storage.state import StudyError, is_study
from explore.storage.study import create, open_study, read_square, square_path

# --- files -------------------------------------------------------------------------------------------------


def test_a_failure_before_the_replacement_leaves_the_old_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "brief.toml"
    write_whole(path, "old")

    def fail(*_: object) -> None:
        raise OSError("no space left")

    monkeypatch.setattr(os, "replace", fail)
    with pytest.raises(OSError, match="no space left"):
        write_whole(path, "new")
    assert files_of(tmp_path) == {"brief.toml": b"old"}


def test_a_failure_while_writing_leaves_the_old_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "brief.toml"
    write_whole(path, "old")

    def stopped(_: int) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(os, "fsync", stopped)
    with pytest.raises(KeyboardInterrupt):
        write_whole(path, "new")
    assert files_of(tmp_path) == {"brief.toml": b"old"}


# --- what is there already ---------------------------------------------------------------------------------


def test_nothing_is_overwritten_unasked(tmp_path: Path) -> None:
    new_study(tmp_path, designs=1)
    before = files_of(tmp_path)
    with pytest.raises(StudyError, match="holds a study already"):
        new_study(tmp_path)
    assert files_of(tmp_path) == before


@pytest.mark.parametrize("force", [False, True])
def test_a_folder_of_others_is_refused_even_with_force(tmp_path: Path, force: bool) -> None:
    (tmp_path / "letters.txt").write_text("dear garden society")
    with pytest.raises(StudyError, match="holds no study"):
        new_study(tmp_path, force=force)
    with pytest.raises(StudyError, match="not a folder"):
        refuse_unless_free(tmp_path / "letters.txt", force)
    with pytest.raises(StudyError, match="cannot be made"):
        refuse_unless_free(tmp_path / "letters.txt" / "study", force)
    assert files_of(tmp_path) == {"letters.txt": b"dear garden society"}


def test_force_replaces_what_is_ours_and_nothing_else(tmp_path: Path) -> None:
    new_study(tmp_path, designs=3)
    ours = ["sheet.png", "sheet.pdf", "sheet.svg", "sheet-2.png"]
    theirs = ["page.html", "papers/02.pdf", "squares/notes.txt", "squares/7.json", "sheets.png", "rose.png"]
    (tmp_path / "papers").mkdir()
    for name in [*ours, *theirs]:
        (tmp_path / name).write_text("old")
    study = create(tmp_path, Brief.of(stamp="", match=0.65), (), (), force=True)
    assert study.next_number == 1
    assert sorted(files_of(tmp_path)) == sorted([*theirs, "brief.toml", "study.json"])


def test_a_picture_of_hers_is_not_replaced_by_ours(tmp_path: Path) -> None:
    create(tmp_path, Brief.of(match=0.65), (), ())
    (tmp_path / "stamp.png").write_text("hers")
    with pytest.raises(StudyError, match="in the way"):
        new_study(tmp_path, force=True)
    assert (tmp_path / "stamp.png").read_text() == "hers"


def test_an_empty_folder_is_free(tmp_path: Path) -> None:
    refuse_unless_free(tmp_path)
    refuse_unless_free(tmp_path / "not yet")
    assert not is_study(tmp_path)
    assert is_study(new_study(tmp_path).folder)


def test_what_a_crash_left_of_a_new_study_can_be_replaced(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def fail(_: object) -> str:
        raise OSError("no space left")

    with monkeypatch.context() as patch:
        patch.setattr("explore.asking.to_toml", fail)
        with pytest.raises(OSError, match="no space left"):
            new_study(tmp_path / "study")
    new_study(tmp_path / "study", designs=1, force=True)
    assert len(open_study(tmp_path / "study").designs) == 1


def test_a_square_file_may_be_read_by_itself(tmp_path: Path) -> None:
    new_study(tmp_path, designs=1)
    copy = tmp_path / "favourite.json"
    copy.write_bytes(square_path(tmp_path, 1).read_bytes())
    assert read_square(copy) == plain_square(1)


# --- a place that nobody named -----------------------------------------------------------------------------


def test_files_go_to_the_first_folder_of_the_name_that_holds_none_of_them(tmp_path: Path) -> None:
    usual = tmp_path / "tulip-stamp"
    assert Output().files(usual, ["grid.png"]) == (usual, ())
    usual.mkdir()
    (usual / "letter.txt").write_text("hers")
    assert Output().files(usual, ["grid.png"]) == (usual, ())
    (usual / "grid.png").write_text("a sheet")
    second = tmp_path / "tulip-stamp-2"
    assert Output().files(usual, ["grid.png"]) == (
        second, (f"{usual} is there already, so this is {second}",)
    )  # fmt: skip
    assert Output(force=True).files(usual, ["grid.png"]) == (usual, ())


def test_a_folder_that_is_not_there_is_told_with_the_nearest_study(tmp_path: Path) -> None:
    with pytest.raises(StudyError, match=r"there is no folder .*tulp-study$"):
        open_study(tmp_path / "tulp-study")
    for name in ("bee-study", "tulip-study"):
        create(tmp_path / name, Brief(), (), ())
    (tmp_path / "tulp-studies").mkdir()
    with pytest.raises(StudyError, match=r"there is no folder .*tulp-study; the nearest study is .*tulip-study$"):
        open_study(tmp_path / "tulp-study")
    with pytest.raises(StudyError, match="tulp-studies holds no study"):
        open_study(tmp_path / "tulp-studies")

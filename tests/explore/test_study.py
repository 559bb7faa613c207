"""A study folder: whole or not written, nothing lost, nothing used twice, nothing of others touched."""

import json
import tomllib
from dataclasses import replace
from pathlib import Path

import pytest
from asked import files_of
from fakes import BRIEF, new_study, petal, plain_square
from hypothesis import given
from hypothesis import strategies as some

from constraints.brief import Brief
from constraints.design_file import to_text
from explore.asking import BriefError
from explore.files import write_whole
from explore.storage.outlines import OutlineError, stamp_of, stamp_text
from explore.storage.state import StudyError
from explore.storage.study import create, open_study, square_path

# --- a new study -------------------------------------------------------------------------------------------


def test_a_study_holds_brief_stamp_squares_and_state(tmp_path: Path) -> None:
    new_study(tmp_path / "petal-study", designs=2)
    names = sorted(files_of(tmp_path / "petal-study"))
    assert names == [
        "brief.toml",
        "squares/01.json",
        "squares/02.json",
        "stamp.json",
        "stamp.png",
        "study.json",
    ]
    state = json.loads((tmp_path / "petal-study" / "study.json").read_text())
    assert state["format"] == "stampwork study"
    assert (state["version"], state["next_job"], state["next_number"]) == (2, 5, 3)
    assert state["stamps"] == ["stamp.png"]
    assert sorted(state["tools"]) == ["numpy", "ortools", "pillow", "shapely"]
    assert tomllib.loads((tmp_path / "petal-study" / "brief.toml").read_text())["match"] == 0.65


def test_a_study_is_the_same_wherever_it_lies(tmp_path: Path) -> None:
    for place in ("one", "deep/er/two"):
        new_study(tmp_path / place, designs=2)
    assert files_of(tmp_path / "one") == files_of(tmp_path / "deep/er/two")
    (tmp_path / "one").rename(tmp_path / "moved")
    assert open_study(tmp_path / "moved").designs == (plain_square(1), plain_square(2))


def test_what_was_written_is_read_back(tmp_path: Path) -> None:
    written = new_study(tmp_path / "study", designs=2)
    again = open_study(tmp_path / "study")
    assert replace(again, stamps=()) == replace(written, stamps=())
    assert again.stamps
    assert (again.stamps[0].name, again.stamps[0].notes, again.stamps[0].tilt_degrees) == ("petal", petal().notes, 1.5)


def test_the_outline_is_kept_to_the_last_digit() -> None:
    again = stamp_of(stamp_text(petal()))
    assert again.shape.wkb == petal().shape.wkb
    assert stamp_text(again) == stamp_text(petal())


@given(some.text(max_size=40) | some.sampled_from(["null", "[]", '{"format": "stampwork stamp", "version": 1}']))
def test_any_other_text_is_no_outline(text: str) -> None:
    with pytest.raises(OutlineError):
        stamp_of(text)


@pytest.mark.parametrize(
    "polygons",
    [
        "null",
        "[]",
        "[[]]",
        "[[[]]]",
        "[[[[0, 0], [1, 1]]]]",
        "[[[[0, 0], [1, 1], [1, true]]]]",
        "[[[0, 1, 2]]]",
        "[[[[0, 0], [1, 1], [0, 1], [1, 0]]]]",
        "[[[[0, 0], [1, 1], [1, NaN]]]]",
        "[[[[0, 0], [1, 1], [2, 2]]]]",
    ],
)
def test_damaged_polygons_are_refused(polygons: str) -> None:
    head = '{"format": "stampwork stamp", "version": 1, "name": "a", "notes": [], "tilt_degrees": 0, '
    with pytest.raises(OutlineError, match="polygons"):
        stamp_of(f'{head} "polygons": {polygons}}}')


def test_patterns_without_a_stamp_keep_none(tmp_path: Path) -> None:
    create(tmp_path, Brief.of(match=0.65), (), ())
    assert sorted(files_of(tmp_path)) == ["brief.toml", "study.json"]
    assert open_study(tmp_path).stamps == ()


# --- going on ----------------------------------------------------------------------------------------------


def test_numbers_are_never_used_twice(tmp_path: Path) -> None:
    study = new_study(tmp_path, designs=3)
    square_path(tmp_path, 3).unlink()
    assert open_study(tmp_path).next_number == 4
    for used in (1, 3):
        with pytest.raises(StudyError, match="used already"):
            study.keep(plain_square(used), job=9)
    study.keep(plain_square(4), job=9)
    with pytest.raises(StudyError, match="another run"):
        study.keep(plain_square(4), job=9)


def test_a_square_whose_state_was_not_written_keeps_its_number(tmp_path: Path) -> None:
    new_study(tmp_path, designs=2)
    write_whole(square_path(tmp_path, 3), to_text(plain_square(3)))
    study = open_study(tmp_path)
    assert [design.number for design in study.designs] == [1, 2, 3]
    assert (study.next_number, study.next_job) == (4, 5)


def test_a_study_says_how_it_was_made(tmp_path: Path) -> None:
    made_by = {"command": "vary", "number": 7}
    created = create(tmp_path / "s", BRIEF, (), (), made_by=made_by)
    assert created.keep(plain_square(1), 0).made_by == made_by
    assert open_study(tmp_path / "s").made_by == made_by
    assert open_study(create(tmp_path / "t", BRIEF, (), ()).folder).made_by == {}


def test_numbers_beyond_99_take_more_digits(tmp_path: Path) -> None:
    study = replace(new_study(tmp_path), next_number=99)
    study = study.keep(plain_square(99), job=1).keep(plain_square(100), job=2).keep(plain_square(101), job=3)
    assert [design.number for design in open_study(tmp_path).designs] == [99, 100, 101]
    assert square_path(tmp_path, 100).name == "100.json"


@pytest.mark.parametrize(
    "content",
    [b"", b"{", b"\xff\xfe", b"[]", b'{"format": "stampwork square"}', to_text(plain_square(7)).encode()],
    ids=["empty", "cut off", "no text", "list", "bare", "another number"],
)
def test_a_damaged_square_is_named_kept_and_its_number_stays_used(tmp_path: Path, content: bytes) -> None:
    new_study(tmp_path, designs=3)
    damaged = square_path(tmp_path, 3)
    damaged.write_bytes(content)
    study = open_study(tmp_path)
    assert [design.number for design in study.designs] == [1, 2]
    assert len(study.notes) == 1
    assert str(damaged) in study.notes[0]
    assert len(study.notes[0].splitlines()) == 1
    study.keep(plain_square(study.next_number), job=study.next_job)
    assert damaged.read_bytes() == content
    assert square_path(tmp_path, 4).exists()


def test_other_files_among_the_squares_are_left_alone(tmp_path: Path) -> None:
    new_study(tmp_path, designs=1)
    for name in ("notes.json", "7.json", "007.json", ".new-02.json"):
        (tmp_path / "squares" / name).write_text("mine")
    study = open_study(tmp_path)
    assert (len(study.designs), study.next_number, study.notes) == (1, 2, ())


@pytest.mark.parametrize(
    ("name", "content"),
    [
        ("study.json", "{"),
        ("study.json", "[]"),
        ("study.json", '{"format": "stampwork study", "version": 2}'),
        ("study.json", '{"format": "stampwork study", "version": 1, "next_job": true, "next_number": 1}'),
        ("study.json", '{"format": "stampwork study", "version": 1, "next_job": 0, "next_number": 0}'),
        ("stamp.json", "{}"),
        ("brief.toml", "pairs = many"),
        ("brief.toml", "symetry = 1"),
    ],
)
def test_a_damaged_study_is_named_in_one_line(tmp_path: Path, name: str, content: str) -> None:
    new_study(tmp_path, designs=1)
    (tmp_path / name).write_text(content)
    with pytest.raises((StudyError, BriefError)) as caught:
        open_study(tmp_path)
    assert str(tmp_path / name) in str(caught.value)
    assert len(str(caught.value).splitlines()) == 1


def test_a_picture_outside_the_study_is_never_named(tmp_path: Path) -> None:
    new_study(tmp_path)
    state = json.loads((tmp_path / "study.json").read_text())
    (tmp_path / "study.json").write_text(json.dumps(state | {"stamps": ["../keep.png"]}))
    with pytest.raises(StudyError, match="stamp"):
        open_study(tmp_path)


def test_other_tools_than_before_are_told(tmp_path: Path) -> None:
    new_study(tmp_path)
    state = json.loads((tmp_path / "study.json").read_text())
    state["tools"]["ortools"] = "1.0"
    (tmp_path / "study.json").write_text(json.dumps(state))
    assert open_study(tmp_path).notes == (
        f"{tmp_path} was made with ortools 1.0; squares to come may differ from those of one long run",
    )

"""What she keeps and puts away: in the study's own picks, undone and done again, whoever else changes them."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from explore.bad_input import BadInput
from explore.storage.leavings import BESIDE
from explore.storage.picks import Picks, read_picks, write_picks
from explore.studio.colours import USUAL, Colours
from explore.studio.marks import AWAY, KEPT, OPEN, StudyMarks


@pytest.fixture
def marks(tmp_path: Path) -> StudyMarks:
    return StudyMarks(tmp_path, "kites")


def test_what_is_kept_is_what_commands_call_picked(marks: StudyMarks, tmp_path: Path) -> None:
    marks.mark(3, KEPT)
    marks.mark(1, KEPT)
    marks.mark(3, AWAY)
    marks.note(1, "for the door\r\n\x07")
    assert read_picks(tmp_path, "kites") == Picks("kites", (1,), {1: "for the door"})
    assert {
        "kept": [1],
        "away": [3],
        "notes": {"1": "for the door"},
        "undo": 4,
        "redo": 0,
    }.items() <= marks.told().items()


STEPS = st.lists(
    st.tuples(st.integers(1, 3), st.sampled_from([KEPT, AWAY, OPEN, "note: a", "note: b"])), min_size=1, max_size=12
)


@settings(max_examples=12)
@given(STEPS)
def test_all_can_be_taken_back_one_by_one_and_done_again(steps: list[tuple[int, str]]) -> None:
    """As a row of snapshots has it: undo goes back along it, redo forth."""
    import tempfile

    with tempfile.TemporaryDirectory() as folder:
        marks = StudyMarks(Path(folder), "kites")

        def shown() -> tuple[object, ...]:
            told = marks.told()
            return told["kept"], told["away"], told["notes"]

        snapshots = [shown()]
        for number, what in steps:
            if what.startswith("note: "):
                marks.note(number, what[6:])
            else:
                marks.mark(number, what)
            if shown() != snapshots[-1]:
                snapshots.append(shown())
        for snapshot in snapshots[-2::-1]:
            # Another process reads it all from the folder.
            StudyMarks(Path(folder), "kites").undo()
            assert shown() == snapshot
        assert marks.undo()["undo"] == 0
        for snapshot in snapshots[1:]:
            marks.redo()
            assert shown() == snapshot
        assert marks.redo()["redo"] == 0


def test_a_change_forgets_what_was_taken_back(marks: StudyMarks) -> None:
    marks.mark(1, KEPT)
    marks.undo()
    marks.mark(2, KEPT)
    assert marks.redo()["kept"] == [2]


def test_what_a_command_picks_meanwhile_is_not_lost(marks: StudyMarks, tmp_path: Path) -> None:
    marks.mark(1, KEPT)
    write_picks(tmp_path, read_picks(tmp_path, "kites").with_numbers([7]).noted({7: "hers"}))
    marks.mark(2, KEPT)
    assert marks.undo()["kept"] == [1, 7]
    assert marks.undo()["kept"] == [7]
    assert marks.told()["notes"] == {"7": "hers"}


def test_where_she_is_at_the_pillow_and_how_she_works_are_kept(marks: StudyMarks, tmp_path: Path) -> None:
    assert (marks.step(4), marks.ways()) == ((0, False), {})
    marks.set_step(4, 17, looking=True)
    marks.set_ways({"method": "open"})
    marks.mark(1, KEPT)
    later = StudyMarks(tmp_path, "kites")
    assert (later.step(4), later.ways()) == ((17, True), {"method": "open"})
    later.set_step(4, 18)
    assert later.step(4) == (18, False)


def test_what_an_older_file_does_not_say_is_as_usual(marks: StudyMarks, tmp_path: Path) -> None:
    marks.set_colours(Colours("#ffffff", "#2f5d8c"))
    kept = json.loads((tmp_path / BESIDE).read_text())
    assert StudyMarks(tmp_path, "kites").colours() == ("#ffffff", "#2f5d8c")
    del kept["colours"], kept["looking"]
    (tmp_path / BESIDE).write_text(json.dumps(kept))
    assert (marks.colours(), marks.step(1)) == (USUAL, (0, False))
    (tmp_path / BESIDE).write_text(json.dumps({**kept, "colours": ["#ffffff", "blue"]}))
    with pytest.raises(BadInput, match="damaged"):
        marks.told()


@pytest.mark.parametrize("text", ["", "[]", "{}", '{"format": "stampwork studio", "version": 2}', "\xff", "[" * 9999])
def test_what_is_damaged_is_told_and_not_written_over(marks: StudyMarks, tmp_path: Path, text: str) -> None:
    path = tmp_path / "studio.json"
    path.write_text(text, encoding="latin-1")
    for act in (marks.told, marks.undo, lambda: marks.mark(1, KEPT), lambda: marks.set_step(1, 1)):
        with pytest.raises(BadInput, match=r"^studio\.json in kites is damaged"):
            act()
    assert path.read_text(encoding="latin-1") == text


def test_a_study_holds_no_paths_and_nothing_but_words_in_it(marks: StudyMarks, tmp_path: Path) -> None:
    marks.mark(1, AWAY)
    assert json.loads((tmp_path / "studio.json").read_text())["past"] == [[1, "state", "", "away"]]
    assert str(tmp_path) not in (tmp_path / "studio.json").read_text()

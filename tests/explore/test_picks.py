"""Picks: read and written whole, joined without losing a note, refused in one line."""

import json
import os
import subprocess
import sys
from pathlib import Path

import pypdf
import pytest
from fakes import petal, plain_square
from hypothesis import given
from hypothesis import strategies as some

from constraints.brief import Brief
from explore.cli import run
from explore.storage.picks import Picks, PicksError, picks_in, read_picks, tidy, write_picks
from explore.storage.study import create

HEAD = {"format": "stampwork picks", "version": 1, "study": "s"}
NUMBERS = some.integers(1, 30)
NOTES = some.dictionaries(NUMBERS, some.text(min_size=1, max_size=40).map(tidy), max_size=6)
PICKS = some.builds(lambda numbers, notes: Picks("s").with_numbers(numbers).noted(notes), some.sets(NUMBERS), NOTES)


@given(PICKS)
def test_picks_come_back_as_they_were_written(tmp_path_factory: pytest.TempPathFactory, picks: Picks) -> None:
    folder = tmp_path_factory.mktemp("picks")
    write_picks(folder, picks)
    assert read_picks(folder, "s") == picks
    data = json.loads((folder / "picks.json").read_text(encoding="utf-8"))
    assert {key: data[key] for key in HEAD} == HEAD
    assert [each["number"] for each in data["picks"]] == sorted(picks.numbers)


@given(PICKS, PICKS)
def test_joining_loses_no_pick_and_no_note_unsaid(one: Picks, other: Picks) -> None:
    both = one.joined(other)
    assert set(both.numbers) == {*one.numbers, *other.numbers}
    for number, note in {**one.notes, **other.notes}.items():
        assert both.notes[number] == note
    told = one.lost(both)
    for number, note in one.notes.items():
        assert both.notes[number] == note or f'the note on {number} was "{note}"' in told
    assert len(told) == sum(both.notes[number] != note for number, note in one.notes.items())


@given(PICKS, some.sets(NUMBERS))
def test_what_is_picked_no_longer_keeps_its_note(picks: Picks, dropped: set[int]) -> None:
    after = picks.without(dropped)
    assert set(after.numbers) == set(picks.numbers) - dropped
    assert after.notes == picks.notes


def test_without_a_file_nothing_is_picked(tmp_path: Path) -> None:
    assert read_picks(tmp_path, "s") == Picks("s")


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("{", "not a JSON text"),
        ("[" * 100_000, "not a JSON text"),
        ("[]", 'it is no "stampwork picks"'),
        (json.dumps({**HEAD, "format": "stampwork square", "picks": []}), 'it is no "stampwork picks"'),
        (json.dumps({**HEAD, "version": 2, "picks": []}), "it is of another version; this release reads version 1"),
        (json.dumps({**HEAD, "version": True, "picks": []}), "it is of another version; this release reads version 1"),
        (json.dumps({**HEAD, "study": 1, "picks": []}), '"study" must be the name of a study'),
        (json.dumps(HEAD), '"picks" must be a list'),
        (json.dumps({**HEAD, "picks": [7]}), '"picks" entry 1: "number" must be a whole number from 1'),
        (json.dumps({**HEAD, "picks": [{"number": 0}]}), '"picks" entry 1: "number" must be a whole number from 1'),
        (json.dumps({**HEAD, "picks": [{"number": True}]}), '"picks" entry 1: "number" must be a whole number from 1'),
        (
            json.dumps({**HEAD, "picks": [{"number": 1}, {"number": 2, "note": 3}]}),
            '"picks" entry 2: "note" must be a text of at most 2000 letters',
        ),
        (json.dumps({**HEAD, "picks": [{"number": 1}, {"number": 1}]}), '"picks" names 1 twice'),
        (json.dumps({**HEAD, "picks": [{"number": 1}], "notes": [{"number": 1}]}), "1 stands under both picks and "),
    ],
)
def test_a_damaged_file_is_one_line(tmp_path: Path, text: str, said: str) -> None:
    path = tmp_path / "picks.json"
    path.write_text(text)
    with pytest.raises(PicksError) as refused:
        picks_in(path)
    assert str(refused.value).startswith(f"{path} is damaged: {said}")


def test_a_file_that_is_no_text_is_one_line(tmp_path: Path) -> None:
    path = tmp_path / "picks.json"
    path.write_bytes(b"\xff\xfe{}")
    with pytest.raises(PicksError, match="not a text in UTF-8"):
        picks_in(path)


def test_a_note_keeps_its_lines_and_loses_control_signs() -> None:
    assert tidy("  for the\x07 door \r\nnot \ud800before\n\n") == "for the  door\nnot  before"


# --- the command -------------------------------------------------------------------------------------------


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    made = create(tmp_path / "s", Brief.of(stamp="petal", match=0.65), (petal(),), (b"\x89PNG",))
    for number in range(1, 9):
        made = made.keep(plain_square(number), number)
    return made.folder


def told(capsys: pytest.CaptureFixture[str]) -> tuple[list[str], list[str]]:
    """What was said, the next command apart, which test_every_command.py follows."""
    out, err = capsys.readouterr()
    return out.splitlines(), [line for line in err.splitlines() if not line.startswith("next: ")]


def test_picks_are_added_noted_dropped_and_listed(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["pick", str(folder), "7", "3"]) == 0
    assert told(capsys)[0][-1] == f"2 picked (2 added); sheet: {folder / 'picks.png'} (also .pdf)"
    assert run(["pick", str(folder), "7", "5", "--note", "for the door"]) == 0
    assert run(["pick", str(folder), "7", "--note", "for the gate"]) == 0
    assert told(capsys)[1] == ['note: the note on 7 was "for the door"']
    assert run(["pick", str(folder), "--drop", "3", "--drop", "7"]) == 0
    out, err = told(capsys)
    assert err == ["note: 7 is picked no more; the note on it is kept"]
    assert out[-1].startswith("1 picked (2 dropped)")
    assert run(["pick", str(folder)]) == 0
    assert told(capsys)[0] == [
        "number  pairs  size   the print is  note",
        "05      6      20 mm  -             for the door",
        "1 picked",
    ]
    assert read_picks(folder, "s").notes == {5: "for the door", 7: "for the gate"}
    text = pypdf.PdfReader(folder / "picks.pdf").pages[0].extract_text()
    assert "Picks of s" in text
    assert "for the door" in text


def test_the_last_pick_dropped_takes_the_sheet_away(folder: Path) -> None:
    assert run(["pick", str(folder), "1"]) == 0
    assert run(["pick", str(folder), "--drop", "1"]) == 0
    assert not [path for path in folder.iterdir() if path.name.startswith("picks.p")]


def test_picks_from_a_file_are_joined_and_what_gives_way_is_told(
    folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(["pick", str(folder), "2", "3", "--note", "mine"]) == 0
    file = tmp_path / "saved.json"
    file.write_text(json.dumps({**HEAD, "picks": [{"number": 3, "note": "hers"}, {"number": 4, "note": ""}]}))
    capsys.readouterr()
    assert run(["pick", str(folder), "--from", str(file)]) == 0
    out, err = told(capsys)
    assert err == [
        'note: the note on 3 was "mine"',
        f"note: picked before and not in {file}: 2; they stay until dropped",
    ]
    assert out[-1].startswith("3 picked (1 added)")
    assert read_picks(folder, "s") == Picks("s", (2, 3, 4), {2: "mine", 3: "hers"})


def test_what_cannot_be_taken_is_one_line_and_changes_nothing(
    folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    other, unknown = tmp_path / "other.json", tmp_path / "unknown.json"
    other.write_text(json.dumps({**HEAD, "study": "bees", "picks": [{"number": 1}]}))
    unknown.write_text(json.dumps({**HEAD, "picks": [{"number": 31}]}))
    assert run(["pick", str(folder), "2"]) == 0
    before = {path: path.read_bytes() for path in folder.iterdir() if path.is_file()}
    capsys.readouterr()
    no_such = f"{folder} has no square 31; it has 1 to 8; the nearest is 8"
    for words, said in (
        (["31"], no_such),
        (["x"], 'NUMBER is "x"; allowed: the number of a square, such as 3'),
        (["--drop", "4"], f"--drop is 4, which is not picked in {folder}; picked: 2"),
        (["2", "--drop", "2"], "2 is both picked and dropped; leave one out"),
        (["--note", "x"], "--note goes with squares, and none is named; give their numbers too"),
        (["--from", str(other)], f'{other} holds picks of "bees", not of "s"; --force takes them all the same'),
        (["--from", str(unknown)], f"{unknown} names 31, but {no_such}"),
        (["--from", str(tmp_path / "none.json")], f"{tmp_path / 'none.json'}: No such file or directory"),
        (["--look", "lacy"], '--look is "lacy" (did you mean lace?); allowed: drawing, lace'),
    ):
        assert run(["pick", str(folder), *words]) == 2
        assert told(capsys) == ([], [f"stampwork: {said}"])
    assert {path: path.read_bytes() for path in folder.iterdir() if path.is_file()} == before
    assert run(["pick", str(folder), "--from", str(other), "--force"]) == 0
    assert read_picks(folder, "s").numbers == (1, 2)


def test_pictures_of_hers_are_not_replaced(folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (folder / "picks.png").write_text("hers")
    assert run(["pick", str(folder), "1"]) == 2
    said = f"stampwork: {folder / 'picks.png'} is there already: --force replaces it, --out names another folder"
    assert told(capsys)[1] == [said]
    assert not (folder / "picks.json").exists()
    assert run(["pick", str(folder), "1", "--out", str(tmp_path / "new" / "wall")]) == 0
    assert (tmp_path / "new" / "wall" / "picks.pdf").exists()
    assert run(["pick", str(folder), "1", "--out", str(tmp_path / "new" / "wall")]) == 2
    assert (folder / "picks.png").read_text() == "hers"


def test_a_square_that_was_deleted_stays_picked_and_is_told(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["pick", str(folder), "1", "2"]) == 0
    (folder / "squares" / "01.json").unlink()
    capsys.readouterr()
    assert run(["pick", str(folder), "3"]) == 0
    assert told(capsys)[1] == ["note: 1 is picked, but its square is there no more"]
    assert read_picks(folder, "s").numbers == (1, 2, 3)


# A terminal sends "für die Tür" as these bytes; where the locale is plain C, Python hands on what it cannot read as
# halves of surrogate pairs (PEP 383).
@pytest.mark.parametrize(
    ("note", "status", "kept"), [("für die Tür".encode(), 0, "für die Tür"), ("Tür".encode("latin-1"), 2, None)]
)
@pytest.mark.parametrize(
    "locale", [{"LC_ALL": "C", "PYTHONUTF8": "0", "PYTHONCOERCECLOCALE": "0"}, {"PYTHONUTF8": "1"}], ids=["C", "UTF-8"]
)
def test_a_note_is_kept_as_typed_or_refused_in_one_line(
    tmp_path: Path, note: bytes, status: int, kept: str | None, locale: dict[str, str]
) -> None:
    create(tmp_path, Brief.of(match=0.65), (), ()).keep(plain_square(1), 0)
    code = "from explore.start import main; main()"
    ended = subprocess.run(
        [sys.executable, "-c", code, "pick", str(tmp_path), "1", "-q", b"--note", note],
        env={**os.environ, **locale}, capture_output=True,
    )  # fmt: skip
    assert (ended.returncode, read_picks(tmp_path, "").notes.get(1)) == (status, kept)
    assert not kept or not ended.stderr
    assert kept or ended.stderr == (
        b'stampwork: --note is "T?r", whose ? are no letters in UTF-8; type it on a terminal set to UTF-8\n'
    )

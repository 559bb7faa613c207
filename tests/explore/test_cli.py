"""The command line: what it writes, what it says and where, and the exit code of every ending."""

import re
import sys
import tomllib
from pathlib import Path

import pytest
from asked import Ask, files_of
from fakes import FakeSearch

from constraints.brief import Brief
from explore import asking, cli
from explore.storage.study import Study, create, open_study, square_path

pytestmark = pytest.mark.usefixtures("garden")


# --- 0: done -----------------------------------------------------------------------------------------------


def test_explore_writes_a_study_named_after_the_stamp(ask: Ask, search: FakeSearch) -> None:
    status, lines, errors = ask("explore", "kite.svg", "--pairs", "12", "--count", "3")
    assert (status, errors) == (0, [])
    assert sorted(files_of(Path("kite-study"))) == [
        "brief.toml",
        "sheet.png",
        "squares/01.json",
        "squares/02.json",
        "squares/03.json",
        "stamp.json",
        "stamp.svg",
        "study.json",
    ]
    piece, print_and_work = ["number", "pairs", "size", "pitch", "stitches"], ["the print is", "it lies", "splits"]
    assert re.split(" {2,}", lines[0]) == [*piece, *print_and_work, "seams", "seam pins"]
    assert lines[1].split() == ["01", "6", "20", "mm", "5", "mm", "-", "aslant", "0", "0", "0"]
    assert lines[-1] == "3 found with seed 1; sheet: kite-study/sheet.png (also .pdf and .svg)"
    assert Path("kite-study/sheet.png").read_text() == "drawing a4 [1, 2, 3]"
    assert tomllib.loads(Path("kite-study/brief.toml").read_text())["pairs"] == 12


def test_a_sheet_of_several_pages_names_the_last(ask: Ask, search: FakeSearch, monkeypatch: pytest.MonkeyPatch) -> None:
    def two_pages(study: Study, *_: str) -> list[Path]:
        return [study.folder / name for name in ("sheet.png", "sheet-2.png", "sheet.svg", "sheet.pdf")]

    monkeypatch.setattr("explore.storage.sheets.write_sheets", two_pages)
    _, lines, _ = ask("explore", "kite.svg", "--count", "1")
    assert lines[-1].endswith("sheet: kite-study/sheet.png to sheet-2.png (also .pdf and .svg)")


def test_without_stamp_and_brief_it_shows_the_built_in_one(ask: Ask, search: FakeSearch) -> None:
    status, _, _ = ask("explore", "--count", "1")
    assert status == 0
    study = open_study(Path("tulip-study"))
    assert study.brief == asking.read(flags={"count": "1"}).brief
    assert study.stamps
    assert study.stamps[0].name == "tulip"


def test_patterns_from_the_rules_alone(ask: Ask, search: FakeSearch) -> None:
    assert ask("explore", "--no-stamp", "--count", "1")[0] == 0
    assert search.calls[0]["stamps"] == ()
    assert open_study(Path("patterns-study")).brief.stamps == ()


def test_flags_win_over_the_brief(ask: Ask, search: FakeSearch, garden: Path) -> None:
    (garden / "brief.toml").write_text('stamp = "kite.svg"\npairs = 20\nseed = 7\ncount = 1\n')
    assert ask("explore", "--brief", "brief.toml", "--pairs", "22", "--cores", "1", "--out", "here")[0] == 0
    brief = open_study(Path("here")).brief
    assert (brief.stamp.name, brief.rules.pairs, brief.run.seed) == ("kite", 22, 7)
    assert search.calls[0]["cores"] == 1


def test_the_brief_of_a_study_works_from_within_it(ask: Ask, search: FakeSearch) -> None:
    ask("explore", "kite.svg", "--count", "1", "--out", "first")
    Path("kite.svg").unlink()
    assert ask("explore", "--brief", "first/brief.toml", "--seed", "2", "--out", "second")[0] == 0
    first, second = files_of(Path("first")), files_of(Path("second"))
    assert [first[name] == second[name] for name in ("stamp.json", "stamp.svg")] == [True, True]


def test_fewer_than_asked_is_done_with_a_note(ask: Ask, search: FakeSearch) -> None:
    search.jobs, search.fails = 8, (1, 2, 5)
    status, lines, errors = ask("explore", "kite.svg", "--count", "9")
    assert status == 0
    assert len(lines) == 1 + 5 + 1
    assert errors == [
        "note: 5 of 9 squares found in the effort given (8 jobs: 3 too like another); --more goes on from here"
    ]
    assert open_study(Path("kite-study")).next_job == 8


def test_a_print_too_small_to_keep_its_character_is_told(ask: Ask, search: FakeSearch) -> None:
    search.stamp_size = 6.0
    _, _, errors = ask("explore", "kite.svg", "--count", "1")
    assert errors == [
        "note: the print is at most 6 pitches long in these squares; "
        "stampwork stamp shows from which size kite keeps its character"
    ]


def test_a_width_that_is_not_met_is_told(ask: Ask, search: FakeSearch) -> None:
    _, _, errors = ask("explore", "kite.svg", "--width", "138mm", "--count", "1")
    assert errors == ["note: 28 pitches of 5 mm give 140 mm, 2 mm more than asked"]


def test_look_and_paper_reach_the_sheet(ask: Ask, search: FakeSearch) -> None:
    ask("explore", "kite.svg", "--count", "1", "--look", "lace", "--paper", "a3")
    assert Path("kite-study/sheet.png").read_text() == "lace a3 [1]"


def test_a_terminal_shows_how_far_the_search_is(
    search: FakeSearch, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    search.fails = (1,)
    monkeypatch.setattr(sys.stderr, "isatty", lambda: True)
    monkeypatch.setenv("TERM", "xterm")
    assert cli.run(["explore", "kite.svg", "--count", "3"]) == 0
    told = capsys.readouterr()
    assert "3/3" in told.err
    assert "4 jobs" in told.err
    assert "jobs" not in told.out


# --- more --------------------------------------------------------------------------------------------------


def test_twelve_and_twelve_more_are_twenty_four(ask: Ask, search: FakeSearch) -> None:
    search.fails = (3, 4, 11, 12, 13)
    ask("explore", "kite.svg", "--count", "24", "--out", "once")
    ask("explore", "kite.svg", "--count", "12", "--out", "twice")
    Path("kite.svg").unlink()
    status, lines, errors = ask("explore", "--more", "12", "--out", "twice")
    assert (status, errors) == (0, [])
    assert lines[-1].startswith("12 found")
    once, twice = files_of(Path("once")), files_of(Path("twice"))
    differing = [name for name in once if once[name] != twice.get(name)]
    assert differing == ["brief.toml"]  # which says 24 and 12
    assert len(once) == len(twice)


def test_more_takes_the_study_by_its_folder_or_its_stamp(ask: Ask, search: FakeSearch) -> None:
    ask("explore", "kite.svg", "--count", "2")
    for number, words in enumerate((["kite-study"], ["kite.svg"], ["--out", "kite-study"])):
        assert ask("explore", *words, "--more", "1")[0] == 0
        assert len(open_study(Path("kite-study")).designs) == 3 + number
    assert Path("kite-study/sheet.png").read_text() == "drawing a4 [1, 2, 3, 4, 5]"


def test_more_is_for_studies_of_explore_alone(ask: Ask, search: FakeSearch) -> None:
    create(Path("cousins"), Brief(), (), (), made_by={"command": "vary"})
    assert ask("explore", "cousins", "--more", "3") == (
        2, [], ["stampwork: cousins was made by vary, not by explore; --more cannot go on with it"]
    )  # fmt: skip


def test_nothing_tells_her_to_go_on_with_a_study_that_cannot(ask: Ask, search: FakeSearch) -> None:
    ask("explore", "kite.svg", "--count", "1", "--out", "squares")
    (found,) = open_study(Path("squares")).designs
    study = create(Path("cousins"), Brief(), (), (), made_by={"command": "vary"})
    for words in (["explore", "cousins"], ["page", "cousins"]):
        assert "--more" not in ask(*words)[2][-1], words
    study.keep(found, 0)
    status, _, errors = ask("explore", "kite.svg", "--out", "cousins")
    assert status == 2
    assert errors[-1].endswith("holds a study already: --force replaces it, --out names another folder")


def test_more_goes_by_the_studys_own_brief(ask: Ask, search: FakeSearch) -> None:
    ask("explore", "kite.svg", "--count", "1")
    before = files_of(Path("kite-study"))
    for words in (["--pairs", "20"], ["--force"], ["--brief", "x.toml"], ["--turn", "0"], ["--no-stamp"]):
        status, _, errors = ask("explore", "kite-study", "--more", "1", *words)
        assert status == 2
        assert words[0] in errors[0]
    assert ask("explore", "kite-study", "--more", "1", "--out", "kite-study")[0] == 2
    assert ask("explore", "other-study", "--more", "1")[0] == 2
    assert files_of(Path("kite-study")) == before


def test_a_damaged_square_is_named_and_never_overwritten(ask: Ask, search: FakeSearch) -> None:
    ask("explore", "kite.svg", "--count", "3")
    damaged = square_path(Path("kite-study"), 3)
    damaged.write_text("{")
    status, _, errors = ask("explore", "kite-study", "--more", "1")
    assert status == 0
    assert "kite-study/squares/03.json is damaged" in errors[0]
    assert damaged.read_text() == "{"
    assert Path("kite-study/sheet.png").read_text() == "drawing a4 [1, 2, 4]"


def test_more_asks_which_study_is_meant_if_the_stamp_has_several(ask: Ask, search: FakeSearch) -> None:
    for _ in range(2):
        ask("explore", "kite.svg", "--count", "1")
    Path("kite-study-of-hers").mkdir()
    assert ask("explore", "kite.svg", "--more", "1") == (
        2, [], ["stampwork: there are kite-study, kite-study-2; name one of them, such as kite-study-2"]
    )  # fmt: skip
    for folder in ("kite-study", "kite-study-2"):
        assert ask("explore", folder, "--more", "1")[0] == 0
        assert len(open_study(Path(folder)).designs) == 2


# --- a folder that nobody named ----------------------------------------------------------------------------


def test_a_study_without_a_name_of_its_own_takes_the_next_number(ask: Ask, search: FakeSearch) -> None:
    ask("explore", "kite.svg", "--count", "2")
    first = files_of(Path("kite-study"))
    Path("kite-study-2").write_text("a file of hers")
    Path("kite-study-3").mkdir()
    status, lines, errors = ask("explore", "kite.svg", "--count", "1")
    assert status == 0
    assert errors == [
        "note: kite-study is there already, so this is kite-study-3; "
        "--more 12 of stampwork explore kite-study adds squares to it"
    ]
    assert lines[-1] == "1 found with seed 1; sheet: kite-study-3/sheet.png (also .pdf and .svg)"
    assert ask("explore", "kite.svg", "--count", "1")[1][-1].endswith("kite-study-4/sheet.png (also .pdf and .svg)")
    assert files_of(Path("kite-study")) == first
    assert ask("explore", "kite.svg", "--count", "1", "--force")[1][-1].endswith(
        "kite-study/sheet.png (also .pdf and .svg)"
    )


def test_a_study_that_was_only_begun_keeps_its_name(ask: Ask, search: FakeSearch) -> None:
    Path("kite-study/squares").mkdir(parents=True)
    assert ask("explore", "kite.svg", "--count", "1")[2] == []
    assert len(open_study(Path("kite-study")).designs) == 1
    Path("patterns-study").symlink_to("nowhere")
    assert ask("explore", "--no-stamp", "--count", "1")[2] == [
        "note: patterns-study is there already, so this is patterns-study-2"
    ]


# --- Ctrl-C ------------------------------------------------------------------------------------------------


def test_a_stopped_search_keeps_and_draws_what_was_found(ask: Ask, search: FakeSearch) -> None:
    search.stop_at, search.fails = 4, (1,)
    status, _, errors = ask("explore", "kite.svg", "--count", "9")
    assert status == 0
    assert errors == ["note: stopped at 3 of 9 squares; --more goes on from here"]
    assert Path("kite-study/sheet.png").read_text() == "drawing a4 [1, 2, 3]"
    assert open_study(Path("kite-study")).next_job == 4
    search.stop_at = -1
    ask("explore", "kite-study", "--more", "6")
    ask("explore", "kite.svg", "--count", "9", "--out", "unstopped")
    stopped, unstopped = files_of(Path("kite-study")), files_of(Path("unstopped"))
    assert [name for name in stopped if stopped[name] != unstopped[name]] == []


def test_a_stop_between_a_square_and_its_state_loses_nothing(
    ask: Ask,
    search: FakeSearch,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    after = Study.after

    def stopped_at_two(study: Study, job: int) -> Study:
        if study.next_number == 3 and not stops:
            stops.append(job)
            raise KeyboardInterrupt
        return after(study, job)

    stops: list[int] = []
    monkeypatch.setattr(Study, "after", stopped_at_two)
    status, _, errors = ask("explore", "kite.svg", "--count", "9")
    assert (status, stops) == (0, [1])
    assert errors == ["note: stopped at 2 of 9 squares; --more goes on from here"]
    study = open_study(Path("kite-study"))
    assert [design.number for design in study.designs] == [1, 2]
    assert study.next_number == 3

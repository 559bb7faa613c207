"""The command line where it refuses: bad input, what is impossible, what is not found."""

from pathlib import Path

import pytest
from asked import Ask, files_of
from fakes import FakeSearch

from explore.storage.study import open_study

pytestmark = pytest.mark.usefixtures("garden")


# --- 2: bad input or usage ---------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "words",
    [
        ["explore", "missing.png"],
        ["explore", "tulp"],
        ["explore", "."],
        ["explore", ""],
        ["explore", "kite.svg", "--no-stamp"],
        ["explore", "--no-stamp", "--turn", "3"],
        ["explore", "kite.svg", "--pairs", "many"],
        ["explore", "kite.svg", "--pairs"],
        ["explore", "kite.svg", "--pars", "3"],
        ["explore", "kite.svg", "--look", "photo"],
        ["explore", "kite.svg", "--paper", "b5"],
        ["explore", "kite.svg", "--cores", "0"],
        ["explore", "kite.svg", "--more", "0"],
        ["explore", "kite.svg", "--turn", "left"],
        ["explore", "kite.svg", "--turn", "nan"],
        ["explore", "kite.svg", "--brief", "missing.toml"],
        ["explore", "kite.svg", "--brief", "kite.svg"],
        ["explore", "kite.svg", "--out", "kite.svg"],
        ["explore", "kite.svg", "--out", "."],
        ["explore", "kite.svg", "--out", "kite.svg/under"],
        ["explore", "kite.svg", "too", "many"],
        ["check"],
        ["check", "missing-study"],
        ["check", "."],
        ["explor"],
        ["--pairs", "3"],
    ],
    ids=" ".join,
)
def test_bad_input_is_one_line_and_exit_2(words: list[str], ask: Ask, search: FakeSearch, garden: Path) -> None:
    before = files_of(garden)
    status, lines, errors = ask(*words)
    assert (status, lines) == (2, [])
    assert len(errors) == 1
    assert errors[0].startswith("stampwork: ")
    assert files_of(garden) == before


def test_refusals_name_what_is_allowed(ask: Ask, search: FakeSearch) -> None:
    assert ask("explore", "kite.svg", "--look", "photo")[2] == ['stampwork: --look is "photo"; allowed: drawing, lace']
    assert ask("explore", "tulp")[2][0].endswith("did you mean tulip?")
    assert "--apart, --pairs" in ask("explore", "--pars", "3")[2][0]


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["series"], "(see stampwork series --help)"),
        (["vary", "garden"], "(see stampwork vary --help)"),
        (["explor"], "(see stampwork --help)"),
        (["work", "garden", "1", "--color", "red"], "No such option: --color (see stampwork work --help)"),
    ],
    ids=" ".join,
)
def test_what_is_called_otherwise_than_it_can_be_names_its_own_help(words: list[str], told: str, ask: Ask) -> None:
    status, _, errors = ask(*words)
    assert (status, len(errors)) == (2, 1)
    assert told in errors[0]


def test_a_name_with_blanks_is_put_in_quotes_and_a_misspelt_file_is_named(ask: Ask, search: FakeSearch) -> None:
    Path("tea pot.svg").write_bytes(Path("kite.svg").read_bytes())
    told = 'stampwork: a name with blanks is put in quotes: "tea pot.svg"'
    for words in (["tea", "pot.svg"], ["tulip", "tea", "pot.svg"]):
        assert ask("explore", *words)[2] == [told]
    assert ask("stamp", "tea", "pot.svg")[2] == [told]
    assert ask("explore", "kyte.svg")[2] == ["stampwork: kyte.svg does not exist; did you mean kite.svg?"]
    assert ask("explore", "rake.png")[2] == ["stampwork: rake.png does not exist"]
    # Both are stamps, whatever else is called like the two.
    Path("tulip kite.svg").write_text("")
    assert ask("explore", "tulip", "kite.svg", "--count", "1")[0] == 0


def test_a_study_that_is_named_is_not_overwritten_without_force(ask: Ask, search: FakeSearch) -> None:
    ask("explore", "kite.svg", "--count", "2")
    before = files_of(Path("kite-study"))
    status, _, errors = ask("explore", "kite.svg", "--count", "1", "--seed", "2", "--out", "kite-study")
    assert status == 2
    assert all(word in errors[0] for word in ("kite-study", "--out", "--force", "--more"))
    assert files_of(Path("kite-study")) == before
    assert ask("explore", "kite.svg", "--count", "1", "--seed", "2", "--force")[0] == 0
    assert len(open_study(Path("kite-study")).designs) == 1


def test_a_file_name_with_a_line_break_stays_one_line(ask: Ask, search: FakeSearch) -> None:
    status, _, errors = ask("explore", "two\nlines\x1b[31m.png")
    assert status == 2
    assert len(errors) == 1
    assert "\x1b" not in errors[0]


# --- 3 and 4: impossible, and nothing found ----------------------------------------------------------------


def test_too_few_pairs_for_the_width_are_proven_impossible(ask: Ask, search: FakeSearch) -> None:
    status, lines, errors = ask("explore", "kite.svg", "--pairs", "28", "--pitch", "4-5mm", "--width", "140mm")
    assert (status, lines) == (3, [])
    assert errors == [
        "stampwork: 28 pairs at a 4-5 mm pitch give at most 130 mm, 140 mm is asked for; "
        "what mends it: --pairs 30 or --width 130mm"
    ]
    assert not Path("kite-study").exists()


def test_what_the_search_proves_impossible_is_exit_3(ask: Ask, search: FakeSearch) -> None:
    search.impossible = "this stamp keeps at most 0.58 at 12 pitches"
    status, lines, errors = ask("explore", "kite.svg")
    assert (status, lines, len(errors)) == (3, [], 1)
    assert errors[0].startswith(f"stampwork: {search.impossible}; tried in vain: --")
    assert not Path("kite-study").exists()


def test_nothing_found_is_exit_4_and_replaces_nothing(ask: Ask, search: FakeSearch) -> None:
    ask("explore", "kite.svg", "--count", "2")
    before = files_of(Path("kite-study"))
    search.jobs, search.fails = 3, (0, 1, 2)
    status, lines, errors = ask("explore", "kite.svg", "--pairs", "12", "--force")
    assert (status, lines) == (4, [])
    assert len(errors) == 1
    assert errors[0].startswith(
        "stampwork: nothing found in the effort given (3 jobs: 3 too like another); tried in vain: --seed 2, --"
    )
    assert files_of(Path("kite-study")) == before
    assert ask("explore", "kite.svg", "--pairs", "12", "--out", "new")[0] == 4
    assert not Path("new").exists()


def test_a_stop_before_any_square_leaves_nothing(ask: Ask, search: FakeSearch) -> None:
    search.stop_at = 0
    status, _, errors = ask("explore", "kite.svg")
    assert status == 4
    assert errors == ["stampwork: stopped at 0 of 24 squares"]
    assert not Path("kite-study").exists()

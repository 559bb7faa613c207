"""Settings of her own: which of option, brief and setting wins, and what they change."""

from __future__ import annotations

import json
import re
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest
from asked import Ask
from fakes import FakeSearch

from explore import asking
from explore.asking import settings
from explore.commands.going_on import ways


@pytest.fixture
def hers(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Her file, which is not there yet."""
    file = tmp_path / "of hers" / "settings.toml"
    monkeypatch.setenv(settings.ELSEWHERE, str(file))
    return file


def test_the_file_is_where_such_files_are_unless_the_environment_names_another(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    # The XDG base directory specification, version 0.8: $XDG_CONFIG_HOME, by default ~/.config.
    if sys.platform == "linux":
        monkeypatch.delenv(settings.ELSEWHERE)
        monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path))
        assert settings.read().file == tmp_path / "stampwork" / "settings.toml"
    monkeypatch.setenv(settings.ELSEWHERE, str(tmp_path / "mine.toml"))
    assert settings.read() == settings.Settings(tmp_path / "mine.toml")


def test_the_command_sets_tells_and_takes_out(ask: Ask, hers: Path) -> None:
    status, lines, errors = ask("settings")
    assert (status, errors) == (0, [])
    assert lines[-1] == f"settings: {hers} (not there yet)"
    assert [line.split()[0] for line in lines[1:-1]] == list(settings.SETTINGS)
    assert all("built in" in line for line in lines[1:-1])
    told = json.loads("\n".join(ask("settings", "--json")[1]))
    assert (told["file"], told["settings"][0]["value"], told["settings"][0]["set"]) == (str(hers), "30", False)
    status, lines, errors = ask("settings", "pairs=28", "paper=letter")
    assert (status, errors) == (0, [])
    assert tomllib.loads(hers.read_text()) == {"pairs": 28, "paper": "letter"}
    assert lines[1].split()[:3] == ["pairs", "28", "you"]
    assert lines[-1] == f"settings: {hers}"
    ask("settings", "pairs=")
    assert tomllib.loads(hers.read_text()) == {"paper": "letter"}


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ("pairs=many", 'settings: pairs is "many"; allowed: a whole number from 2 to 2000'),
        ("pears=3", 'settings: unknown setting "pears"; did you mean pairs?'),
        ("pairs", '"pairs" sets nothing; allowed: NAME=VALUE, such as pairs=28'),
    ],
)
def test_what_cannot_be_set_is_refused(ask: Ask, hers: Path, words: str, said: str) -> None:
    assert ask("settings", words) == (2, [], [f"stampwork: {said}"])
    assert not hers.exists()


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ('paper = "a7"', ': paper is "a7"; allowed: a4, a3, letter'),
        ("pears = 3", ': unknown setting "pears"; did you mean pairs?'),
        ("pairs", ": not a TOML text"),
    ],
)
@pytest.mark.usefixtures("garden")
def test_a_file_that_cannot_be_taken_is_named_by_every_command_that_asks_it(
    ask: Ask, hers: Path, text: str, said: str
) -> None:
    hers.parent.mkdir()
    hers.write_text(text)
    for command in (["explore", "kite.svg"], ["pricking", "s", "1"], ["settings"]):
        assert ask(*command) == (2, [], [f"stampwork: {hers}{said}"])
    assert ask("--help")[0] == 0


def pairs_of(study: str) -> int:
    found = tomllib.loads(Path(study, "brief.toml").read_text())["pairs"]
    assert isinstance(found, int)
    return found


@pytest.mark.usefixtures("garden")
def test_an_option_wins_over_the_brief_and_the_brief_over_a_setting(ask: Ask, hers: Path, search: FakeSearch) -> None:
    Path("brief.toml").write_text("pairs = 20\n")
    Path("other.toml").write_text("count = 2\n")
    ask("explore", "kite.svg", "--out", "usual")
    ask("settings", "pairs=26")
    for study, words in (("set", ()), ("filed", ("--brief", "brief.toml")), ("silent", ("--brief", "other.toml"))):
        assert ask("explore", "kite.svg", "--out", study, *words)[0] == 0
    ask("explore", "kite.svg", "--out", "named", "--brief", "brief.toml", "--pairs", "14")
    studies = ("usual", "set", "filed", "silent", "named")
    assert [pairs_of(study) for study in studies] == [30, 26, 20, 26, 14]


@pytest.mark.usefixtures("garden")
def test_a_study_depends_on_no_later_setting(ask: Ask, hers: Path, search: FakeSearch) -> None:
    ask("settings", "pairs=26")
    ask("explore", "kite.svg", "--out", "kites")
    ask("settings", "pairs=12")
    assert ask("explore", "kites", "--more", "2")[0] == 0
    assert pairs_of("kites") == 26
    # A program that calls the rooms below asks no file of hers.
    assert asking.read(None, {"stamp": "kite.svg"}).brief.rules.pairs == 30


@pytest.mark.usefixtures("garden")
def test_a_length_without_a_unit_is_in_hers(ask: Ask, hers: Path, search: FakeSearch) -> None:
    ask("settings", "unit=cm")
    for study, width in (("bare", "14"), ("named", "14cm"), ("inches", "5.5in")):
        assert ask("explore", "kite.svg", "--width", width, "--out", study)[0] == 0
    widths = [tomllib.loads(Path(study, "brief.toml").read_text())["width"] for study in ("bare", "named", "inches")]
    assert widths == ["140mm", "140mm", "139.7mm"]
    # Pairs are no length, and a file says what it says.
    Path("brief.toml").write_text("width = 140\n")
    assert ask("explore", "kite.svg", "--brief", "brief.toml", "--pairs", "30", "--out", "filed")[0] == 0
    assert tomllib.loads(Path("filed", "brief.toml").read_text())["width"] == "140mm"


def test_papers_and_help_take_them_where_they_can(ask: Ask, hers: Path) -> None:
    def default(command: str, option: str) -> str:
        told = " ".join(" ".join(ask(command, "--help")[1]).split())
        return told.rpartition(f" {option} ")[2].partition("[default: ")[2].partition("]")[0]

    assert [default("work", option) for option in ("--paper", "--footside", "--method")] == ["a4", "left", "closed"]
    ask("settings", "paper=letter", "footside=right", "method=open")
    assert [default("work", option) for option in ("--paper", "--footside", "--method")] == ["letter", "right", "open"]
    # Sheets come in no letter size, and where the footside lies on a picture is another question.
    assert default("explore", "--paper") == "a4"
    assert "footside" not in " ".join(ask("redraft", "--help")[1]).partition("[default: right]")[1]


def test_the_next_command_names_what_differs_from_what_is_set(hers: Path) -> None:
    from constraints.working.habits import Habits
    from explore.commands.going_on import _given

    worked = ways(Habits(ground="closed"), "right")
    assert _given(worked, ("footside", "method")) == ["--footside", "right"]
    with settings.holding(settings.Settings(hers, {"footside": "right", "method": "open"})):
        assert _given(worked, ("footside", "method")) == ["--method", "closed"]


def test_no_test_reads_the_file_of_whoever_runs_it() -> None:
    asked = "from explore.asking import settings; print(settings.read().file.exists())"
    done = subprocess.run([sys.executable, "-c", asked], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "False"


def test_the_guide_lists_every_setting_with_what_is_built_in() -> None:
    guide = Path(__file__).parents[2] / "explore" / "guides" / "brief.md"
    rows = re.findall(r"^\| `(\w+)` \| (?:`(\w+)`)? ?\|", guide.read_text().partition("| setting |")[2], re.MULTILINE)
    assert dict(rows[: len(settings.SETTINGS)]) == {name: each.built_in for name, each in settings.SETTINGS.items()}

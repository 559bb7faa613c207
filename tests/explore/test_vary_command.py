"""`stampwork vary` from end to end: what it writes, what it says, and how it ends."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from asked import Ask, files_of, followed, mends
from varied import changed, data_of

from constraints.brief import Brief
from explore.editing.varying import making, sheets
from explore.search.accepting import JobResult
from explore.search.search import search
from explore.storage.study import create, open_study

BRIEF = Brief.of(half_size=(14, 14), pairs=16, solid=(0.1, 0.6), seed=2)


@pytest.fixture(scope="module")
def squares() -> list[JobResult]:
    return [step for step in search(BRIEF, count=2, cores=1) if step.design is not None]


@pytest.fixture(autouse=True)
def garden(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, squares: list[JobResult]) -> Path:
    """A folder to stand in with a study of two squares; sheets are not drawn."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr(sheets, "write_sheets", lambda study, *_: (study.folder / "sheet.png").write_text("drawn"))
    study = create(tmp_path / "garden-society-study", BRIEF, (), ())
    for step in squares:
        assert step.design is not None
        study = study.keep(step.design, step.job)
    return tmp_path


def made_by(folder: str) -> dict[str, Any]:
    found: dict[str, Any] = json.loads((Path(folder) / "study.json").read_text())["made_by"]
    return found


def test_cousins_are_a_study_whose_first_square_is_the_chosen_one(ask: Ask) -> None:
    status, lines, _ = ask(
        "vary", "garden-society-study", "2", "--keep", "centre", "--change", "5-40%", "--count", "2", "--cores", "1"
    )
    assert status == 0
    folder = Path("garden-society-02-cousins")
    assert lines[-2:] == [
        "2 cousins of 02, 5% to 40% of the pinholes changed",
        f"study: {folder}; sheet: {folder / 'sheet.png'} (also .pdf and .svg)",
    ]
    designs = [data_of(folder / "squares" / f"{number:02d}.json") for number in (1, 2, 3)]
    chosen = data_of(Path("garden-society-study/squares/02.json"))
    assert {**designs[0], "number": 2} == chosen
    assert all(0.05 <= changed(designs[0], each) <= 0.4 for each in designs[1:])
    assert made_by(str(folder)) == {
        "command": "vary", "study": "garden-society-study", "number": 2, "keep": ["centre"], "change": [0.05, 0.4],
    }  # fmt: skip
    assert not any(b"/tmp" in content or str(Path.cwd()).encode() in content for content in files_of(folder).values())
    assert ask("check", str(folder))[0] == 0


def test_steps_are_a_study_with_their_words(ask: Ask) -> None:
    status, lines, _ = ask("vary", "garden-society-study", "1", "--steps", "--cores", "1")
    assert status == 0
    words = made_by("garden-society-01-steps")["steps"]
    assert lines[:-1] == [f"{number:02d}  {each}" for number, each in enumerate(words, 2)]
    assert [design.number for design in open_study(Path("garden-society-01-steps")).designs] == list(
        range(1, len(words) + 2)
    )


def test_one_share_is_meant_about(ask: Ask) -> None:
    assert ask("vary", "garden-society-study", "1", "--change", "25%", "--count", "1", "--cores", "1")[0] == 0
    assert made_by("garden-society-01-cousins")["change"] == [0.2, 0.3]


def test_another_seed_gives_other_cousins(ask: Ask) -> None:
    given = ("vary", "garden-society-study", "2", "--change", "5-40%", "--count", "3", "--cores", "1")
    assert ask(*given, "--out", "first")[0] == ask(*given, "--seed", "5", "--out", "other")[0] == 0
    assert data_of(Path("other/squares/02.json"))["seed"] == 5
    first, other = (
        [(data_of(file)["blocks"], data_of(file)["fillings"]) for file in sorted(Path(folder, "squares").iterdir())[1:]]
        for folder in ("first", "other")
    )
    assert first != other


def test_nothing_of_hers_is_lost_without_force(ask: Ask) -> None:
    again = ("vary", "garden-society-study", "1", "--change", "5-50%", "--count", "1", "--cores", "1")
    assert ask(*again)[0] == 0
    (Path("garden-society-01-cousins") / "hers.txt").write_text("mine")
    before = files_of(Path("garden-society-01-cousins"))
    status, _, errors = ask(*again, "--out", "garden-society-01-cousins")
    assert status == 2
    assert errors == [
        "stampwork: garden-society-01-cousins holds a study already: --force replaces it, --out names another folder"
    ]
    status, lines, errors = ask(*again)
    assert (status, lines[-1].split(";")[0]) == (0, "study: garden-society-01-cousins-2")
    assert errors[0] == "note: garden-society-01-cousins is there already, so this is garden-society-01-cousins-2"
    assert files_of(Path("garden-society-01-cousins")) == before
    assert ask(*again, "--force")[0] == 0
    assert (Path("garden-society-01-cousins") / "hers.txt").read_text() == "mine"


def test_the_study_itself_is_never_overwritten(ask: Ask) -> None:
    before = files_of(Path("garden-society-study"))
    status, _, errors = ask("vary", "garden-society-study", "1", "--out", "garden-society-study", "--force")
    assert (status, len(errors)) == (2, 1)
    assert "is the study that it is made from; --out names another folder" in errors[0]
    assert files_of(Path("garden-society-study")) == before


def test_ctrl_c_keeps_what_was_found(ask: Ask, monkeypatch: pytest.MonkeyPatch) -> None:
    real = making.cousins

    def interrupted(*given: Any, **named: Any) -> Any:
        for step in real(*given, **named):
            yield step
            if step.design is not None:
                raise KeyboardInterrupt

    monkeypatch.setattr(making, "cousins", interrupted)
    status, _, errors = ask("vary", "garden-society-study", "1", "--change", "5-50%", "--count", "5", "--cores", "1")
    assert status == 0
    assert errors == ["note: stopped at 1 of 5 squares"]
    assert len(open_study(Path("garden-society-01-cousins")).designs) == 2


@pytest.mark.parametrize(
    ("given", "status", "line"),
    [
        (["7"], 2, "garden-society-study has no square 7; it has 1 to 2; the nearest is 2"),
        (["one"], 2, 'NUMBER is "one"; allowed: the number of a square, such as 3'),
        (["1", "--keep", "corners"], 2, '--keep is "corners" (did you mean corner?); allowed: '),
        (["1", "--change", "95%"], 2, '--change is "95%"; allowed: a share from 0.1% to 90% or a range'),
        (["1", "--change", "25-5%"], 2, '--change is "25-5%" (the range is upside down)'),
        (["1", "--count", "0"], 2, '--count is "0"; allowed: a whole number from 1 to 1000'),
        (["1", "--steps", "--count", "3"], 2, "--steps lists every small step; --count cannot be given with it"),
        (["1", "--steps", "--change", "5%"], 2, "--steps lists every small step; --change cannot be given with it"),
        (["1", "--look", "wool"], 2, '--look is "wool"'),
        (["1", "--keep", "centre", "--keep", "edge", "--change", "80-90%"], 3, "what is kept, with its images under"),
    ],
)
def test_what_cannot_be_done_is_one_line(ask: Ask, given: list[str], status: int, line: str) -> None:
    ended, lines, errors = ask("vary", "garden-society-study", *given)
    assert (ended, lines, len(errors)) == (status, [], 1)
    assert errors[0].startswith(f"stampwork: {line}")
    assert sorted(path.name for path in Path().iterdir()) == ["garden-society-study"]


def test_a_square_that_fails_the_check_is_not_varied(ask: Ask) -> None:
    study = open_study(Path("garden-society-study"))
    study.keep(replace(study.designs[0], number=3, pairs=99), 50)
    status, _, errors = ask("vary", "garden-society-study", "3")
    assert status == 2
    assert errors[0].startswith("stampwork: garden-society-study 03 fails the check, so it cannot be varied: ")


def test_a_study_of_cousins_is_not_gone_on_with_by_explore(ask: Ask) -> None:
    ask("vary", "garden-society-study", "1", "--change", "5-50%", "--count", "1", "--cores", "1")
    status, _, errors = ask("explore", "garden-society-01-cousins", "--more", "2")
    assert status == 2
    assert "was made by vary" in errors[0]


def test_cousins_can_be_varied_again(ask: Ask) -> None:
    ask("vary", "garden-society-study", "1", "--change", "5-50%", "--count", "1", "--cores", "1")
    status, _, _ = ask("vary", "garden-society-01-cousins", "2", "--steps")
    assert status == 0
    assert Path("garden-society-01-cousins-02-steps").is_dir()


@pytest.mark.parametrize(
    "asked",
    [
        ("--keep", "blocks", "--change", "60%"),
        ("--keep", "centre", "--keep", "edge", "--change", "60-80%"),
        ("--keep", "-14,-14:14,14"),
    ],
)
def test_every_mend_of_what_cannot_be_varied_varies_it(ask: Ask, asked: tuple[str, ...]) -> None:
    command = ["vary", "garden-society-study", "1", *asked, "--count", "2", "--cores", "1"]
    status, _, errors = ask(*command)
    assert status in (3, 4)
    told = mends(errors[-1])
    assert told, errors
    for number, mend in enumerate(told):
        assert ask(*followed(command, mend), "--out", f"mended-{number}")[0] == 0

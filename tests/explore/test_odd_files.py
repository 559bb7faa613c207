"""What is no file, has no end or an odd name is refused or read, and never waited for."""

from __future__ import annotations

import json
import os
from pathlib import Path

import pytest
from asked import Ask
from fakes import plain_square

from constraints.brief import Brief
from constraints.design_file import to_text
from explore import cli
from explore.files import content, shown_name
from explore.storage.study import create, square_path

PAPERS = ("work", "pricking", "diagram", "materials", "pack", "show")


@pytest.fixture
def study(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A study of one plain square, in a folder to stand in, and a pipe that nobody writes to."""
    monkeypatch.chdir(tmp_path)
    create(Path("garden-society"), Brief(), (), ()).keep(plain_square(1), 0)
    os.mkfifo("pipe")
    Path("endless").symlink_to("/dev/zero")
    return Path("garden-society")


@pytest.mark.parametrize("name", ["pipe", "endless", "garden-society"])
def test_a_pipe_a_device_and_a_folder_are_no_files(study: Path, name: str) -> None:
    with pytest.raises(OSError, match="not a file"):
        content(Path(name))


def test_no_more_is_read_than_allowed(tmp_path: Path) -> None:
    path = tmp_path / "long"
    path.write_bytes(b"x" * 100)
    assert content(path, 100) == b"x" * 100
    with pytest.raises(OSError, match="larger than"):
        content(path, 99)


@pytest.mark.parametrize(
    "words",
    [
        "stamp {}", "explore {}", "explore --brief {}", "check {}", "redraft {}",
        "series garden-society 1 --titles {}", "pick garden-society --from {}",
    ],
)  # fmt: skip
@pytest.mark.parametrize("name", ["pipe", "endless"])
def test_every_command_refuses_them_with_one_line(study: Path, ask: Ask, words: str, name: str) -> None:
    status, lines, errors = ask(*words.format(name).split())
    assert status in (1, 2)
    assert [line for line in (*lines, *errors) if "not a file" in line]
    assert len(lines) + len(errors) == 1


@pytest.mark.parametrize("command", ["pick", "page"])
def test_picks_that_have_no_end_are_refused(study: Path, ask: Ask, command: str) -> None:
    (study / "picks.json").symlink_to("/dev/zero")
    status, _, errors = ask(command, "garden-society", *(["1"] if command == "pick" else []))
    assert (status, errors) == (2, ["stampwork: garden-society/picks.json: is not a file"])


def test_a_name_that_is_no_text_is_shown_with_question_marks(tmp_path: Path) -> None:
    assert shown_name(tmp_path / os.fsdecode(b"a\xff\x1bb")) == "a??b"
    assert shown_name(tmp_path / "Gärten") == "Gärten"


@pytest.mark.parametrize("words", [("pick", "1"), ("page",), ("work", "1"), ("pricking", "1"), ("check",)])
def test_a_study_whose_name_is_no_text_is_worked_with(study: Path, ask: Ask, words: tuple[str, ...]) -> None:
    odd = os.fsdecode(b"g\xe4rten\xff")
    os.rename(study, odd)
    status, _, errors = ask(words[0], odd, *words[1:])
    assert (status, errors) == (0, [])


@pytest.mark.parametrize("command", PAPERS)
def test_no_papers_are_made_of_a_square_that_fails_the_check(study: Path, ask: Ask, command: str) -> None:
    text = to_text(plain_square(1)).replace('"start": "top-left"', '"start": "somewhere"')
    square_path(study, 1).write_text(text)
    status, lines, errors = ask(command, "garden-society", "1")
    assert (status, lines, len(errors)) == (2, [], 1)
    assert errors[0].startswith("stampwork: garden-society 01 fails the check")
    assert "a round cannot start at 'somewhere'" in errors[0]


def test_a_page_takes_no_place_of_a_link_to_nothing(study: Path, ask: Ask) -> None:
    Path("page.html").symlink_to("nowhere.html")
    status, _, errors = ask("page", "garden-society", "--out", "page.html")
    assert (status, errors) == (2, ["stampwork: page.html is a link to nothing; --out names another file"])
    assert Path("page.html").is_symlink()


@pytest.mark.parametrize("words", [(), ("--force",)])
def test_a_page_neither_waits_for_a_pipe_nor_takes_its_place(study: Path, ask: Ask, words: tuple[str, ...]) -> None:
    os.mkfifo("page.html")
    status, _, errors = ask("page", "garden-society", "--out", "page.html", *words)
    assert (status, errors) == (2, ["stampwork: page.html is not a file; --out names another file"])
    assert Path("page.html").is_fifo()


def test_an_endless_outline_in_a_square_is_refused(study: Path, ask: Ask) -> None:
    ring = [[float(n % 7), float(n % 11)] for n in range(10_001)]
    print_ = {"name": "scribble", "size": 4, "turn_degrees": 0, "match": 1.0, "outlines": [ring]}
    data = {**json.loads(to_text(plain_square(1))), "prints": [print_]}
    square_path(study, 1).write_text(json.dumps(data))
    status, lines, _ = ask("check", "garden-society")
    assert (status, lines) == (1, ['01 is damaged: "outlines" has 10001 points; at most 10000 are read'])


# Escape sequences, a new line and an override of the writing direction (Unicode Standard Annex 9).
@pytest.mark.parametrize("words", ["pick {} 1", "page {}", "check {}/no.json", "work {} 1", "stamp {}.svg"])
def test_no_control_sign_of_a_name_reaches_the_terminal(
    study: Path, capfd: pytest.CaptureFixture[str], words: str
) -> None:
    odd = "g\x1b[31m\n\u202eden\x9b"
    os.rename(study, odd)
    cli.run([word.format(odd) for word in words.split()])
    told = capfd.readouterr()
    lines = (told.out + told.err).split("\n")
    assert any("g?[31m??den?" in line for line in lines)
    assert all(line.isprintable() for line in lines)

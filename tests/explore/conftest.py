"""What tests of commands share."""

from collections.abc import Iterator
from pathlib import Path
from urllib.parse import unquote, urlsplit

import pytest
from asked import STRIPS, STRIPS_WITH_FANS, Ask, Keep, kept_study
from fakes import FakeSearch
from studios import SVG, Visited, visited

from constraints.brief import Brief
from constraints.design import Design
from explore import cli
from explore.search import search as searching
from explore.storage.study import Study


@pytest.fixture
def ask(capsys: pytest.CaptureFixture[str]) -> Ask:
    """Run a command; its exit code, the lines on stdout and those on stderr, the next command apart, which
    test_every_command.py follows."""

    def asked(*arguments: str) -> tuple[int, list[str], list[str]]:
        status = cli.run(arguments)
        told = capsys.readouterr()
        assert "Traceback" not in told.err
        errors = told.err.splitlines()
        if errors and errors[-1].startswith("next: "):
            assert errors.pop().startswith("next: stampwork ")
        return status, told.out.splitlines(), errors

    return asked


@pytest.fixture
def keep(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Keep:
    """A study of finished pieces in a folder "edgings" of the folder that the commands are run in."""
    monkeypatch.chdir(tmp_path)

    def kept(brief: Brief, pieces: list[Design]) -> Study:
        return kept_study(tmp_path / "edgings", brief, pieces)

    return kept


@pytest.fixture(scope="module")
def house(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Visited]:
    """A studio in a folder with a drawing of a stamp, for all tests of a file."""
    folder = tmp_path_factory.mktemp("garden")
    (folder / "kite.svg").write_text(SVG)
    with visited(folder) as found:
        yield found


@pytest.fixture(scope="session")
def mirrored() -> list[Design]:
    """Two strips with straight edges, and one with fans."""
    found = [step.design for step in searching.search(STRIPS, cores=1) if step.design is not None]
    fans = [
        step.design for step in searching.search(STRIPS_WITH_FANS, cores=1, first_number=3) if step.design is not None
    ]
    assert (len(found), len(fans)) == (2, 1)
    return found + fans


@pytest.fixture
def garden(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder of her own to stand in, with a drawing of a stamp; sheets are only noted down."""
    monkeypatch.chdir(tmp_path)
    (tmp_path / "kite.svg").write_text(SVG)

    def note_down(study: Study, look: str, paper: str, cores: int | None) -> list[Path]:
        sheet = study.folder / "sheet.png"
        sheet.write_text(f"{look} {paper} {[design.number for design in study.designs]}")
        return [sheet]

    monkeypatch.setattr("explore.storage.sheets.write_sheets", note_down)
    return tmp_path


@pytest.fixture
def search(monkeypatch: pytest.MonkeyPatch) -> FakeSearch:
    """A fake search in the place of the real one; set its attributes to change what it does."""
    fake = FakeSearch()
    monkeypatch.setattr("explore.search.search.search", fake)
    return fake


@pytest.fixture
def opened(monkeypatch: pytest.MonkeyPatch) -> list[Path]:
    """The files that were opened, in a browser that only notes them down."""
    files: list[Path] = []

    def note_down(address: str) -> bool:
        assert address.startswith("file:///")
        files.append(Path(unquote(urlsplit(address).path)))
        return True

    monkeypatch.setattr("webbrowser.open", note_down)
    return files

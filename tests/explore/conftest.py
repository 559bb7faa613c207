"""What tests of commands share."""

from pathlib import Path

import pytest
from asked import Ask, Keep

from constraints.brief import Brief
from constraints.square import Square
from explore import cli
from explore.keeping.study import Study, create


@pytest.fixture
def ask(capsys: pytest.CaptureFixture[str]) -> Ask:
    """Run a command; its exit code, the lines on stdout and those on stderr."""

    def asked(*arguments: str) -> tuple[int, list[str], list[str]]:
        status = cli.run(arguments)
        told = capsys.readouterr()
        assert "Traceback" not in told.err
        return status, told.out.splitlines(), told.err.splitlines()

    return asked


@pytest.fixture
def keep(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Keep:
    """A study of finished pieces in a folder "edgings" of the folder that the commands are run in."""
    monkeypatch.chdir(tmp_path)

    def kept(brief: Brief, pieces: list[Square]) -> Study:
        made = create(tmp_path / "edgings", brief, None, b"")
        for each in pieces:
            made = made.keep(each, 0)
        return made

    return kept

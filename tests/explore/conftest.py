"""What tests of commands share."""

import pytest
from asked import Ask

from explore import cli


@pytest.fixture
def ask(capsys: pytest.CaptureFixture[str]) -> Ask:
    """Run a command; its exit code, the lines on stdout and those on stderr."""

    def asked(*arguments: str) -> tuple[int, list[str], list[str]]:
        status = cli.run(arguments)
        told = capsys.readouterr()
        assert "Traceback" not in told.err
        return status, told.out.splitlines(), told.err.splitlines()

    return asked

"""How the program and her words are named in a line to paste; bash says what it makes of them."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as some

from explore.program import called_from_anywhere, pasted


# Every byte but zero and the slash may stand in the name of a file (POSIX.1, 3.170).
@given(some.lists(some.binary(min_size=1, max_size=8).filter(lambda name: b"\0" not in name), min_size=1, max_size=4))
def test_a_shell_reads_words_back_and_a_terminal_sees_no_control_sign(words: list[bytes]) -> None:
    line = pasted(map(os.fsdecode, words))
    assert line.isprintable()
    read = subprocess.run(["bash", "-c", f"printf '%s\\0' {line}"], capture_output=True, check=True).stdout
    assert read.split(b"\0")[:-1] == words


def test_the_program_is_named_by_its_full_path(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    program = tmp_path / "a b" / "stampwork"
    program.parent.mkdir()
    program.write_text("#!/bin/sh\n")
    program.chmod(0o755)
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("PATH", str(program.parent))
    for typed in (str(program), "a b/stampwork", "./a b/stampwork", "stampwork"):
        monkeypatch.setattr(sys, "argv", [typed])
        assert called_from_anywhere() == f"'{program}'"
    monkeypatch.setattr(sys, "argv", [str(tmp_path / "explore" / "__main__.py")])
    assert called_from_anywhere() == f"{sys.executable} -m explore"

"""The titles of a series: where they come from, and which are refused."""

from __future__ import annotations

from pathlib import Path

import pytest

from explore.bad_input import BadInput
from explore.editing.series.telling import titles


@pytest.mark.parametrize(
    ("name", "content", "found"),
    [
        ("t.txt", "One\n\nThree", ("One", "No. 2", "Three", "No. 4")),
        ("t.txt", "\ufeffA\tb\x07 c\n", ("A b c", "No. 2", "No. 3", "No. 4")),
        ("t.toml", 'titles = ["Dusk", "", "Dawn"]', ("Dusk", "No. 2", "Dawn", "No. 4")),
        ("t.txt", "", ("No. 1", "No. 2", "No. 3", "No. 4")),
    ],
)
def test_titles_come_from_lines_or_toml(tmp_path: Path, name: str, content: str, found: tuple[str, ...]) -> None:
    (tmp_path / name).write_text(content, encoding="utf-8")
    assert titles(tmp_path / name, 4) == found


@pytest.mark.parametrize(
    ("name", "content", "words"),
    [
        ("t.txt", b"1\n2\n3\n4\n5\n", "5 titles for 4 squares"),
        ("t.txt", b"\xff\xfe\x00", "no text in UTF-8"),
        ("t.toml", b"titles = 3", "must hold titles"),
        ("t.toml", b"titles = [", "no TOML"),
    ],
)
def test_titles_that_cannot_be_read_are_refused(tmp_path: Path, name: str, content: bytes, words: str) -> None:
    (tmp_path / name).write_bytes(content)
    with pytest.raises(BadInput, match=words):
        titles(tmp_path / name, 4)

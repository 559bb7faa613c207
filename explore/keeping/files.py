"""Files that are written whole or not at all."""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path


@contextmanager
def replacing(path: Path) -> Iterator[Path]:
    """A path to write to, with the suffix of `path`; left without an error, it becomes `path` in one step.

    Whatever goes wrong, `path` stays as it was. Raises OSError.
    """
    new = path.with_name(f".new-{path.name}")
    try:
        yield new
        os.replace(new, path)
    finally:
        new.unlink(missing_ok=True)


def write_whole(path: Path, content: str | bytes) -> None:
    """Write a file in one step; text in UTF-8 with line feeds. Raises OSError and leaves the old file."""
    data = content.encode("utf-8") if isinstance(content, str) else content
    with replacing(path) as new:
        new.write_bytes(data)

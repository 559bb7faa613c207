"""Files that are read whole, and written whole or not at all."""

from __future__ import annotations

import errno
import os
import stat
from collections.abc import Collection, Sequence
from itertools import combinations
from pathlib import Path

from gallery.paper.placing import place

# The largest text that is read of a study, bytes: a square of half-size 512 takes about ten million.
LARGEST_TEXT = 64 * 10**6


def content(path: Path, most: int = LARGEST_TEXT) -> bytes:
    """What a file holds, at most so many bytes.

    OSError if it cannot be read, is larger, or is no file but a folder, a device or a pipe: these may have no end, or
    never begin.
    """
    # A pipe that nobody writes to must not be waited for.
    descriptor = os.open(path, os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0))
    if not stat.S_ISREG(os.fstat(descriptor).st_mode):
        os.close(descriptor)
        raise OSError(errno.EINVAL, "is not a file", str(path))
    with open(descriptor, "rb") as file:
        data = file.read(most + 1)
    if len(data) > most:
        raise OSError(errno.EFBIG, f"is larger than {most // 10**6} MB, the most that is read", str(path))
    return data


def unquoted(words: Sequence[str], known: Collection[str] = ()) -> str:
    """The name with blanks of a file that lies there, if words that follow each other are parts of it and not all of
    them are files or known themselves; else ""."""
    for first, end in combinations(range(len(words) + 1), 2):
        whole = " ".join(words[first:end])
        there = (Path(each).exists() or each in known for each in words[first:end])
        if end - first > 1 and Path(whole).is_file() and not all(there):
            return whole
    return ""


def in_quotes(name: str) -> str:
    """How such a name is written."""
    return f'a name with blanks is put in quotes: "{name}"'


def shown_name(path: Path) -> str:
    """The name of a file or folder as it may be drawn and written: bytes that are no letters become question marks."""
    name = os.fsencode(path.resolve().name).decode("utf-8", "replace")
    return "".join(c if c.isprintable() and c != "\N{REPLACEMENT CHARACTER}" else "?" for c in name)


def write_whole(path: Path, content: str | bytes) -> None:
    """Write a file in one step; text in UTF-8 with line feeds. Raises OSError and leaves the old file."""
    place(path, content.encode("utf-8") if isinstance(content, str) else content)

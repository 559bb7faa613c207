"""Letters that words on paper have and their font lacks: a box stands for each, and whoever draws is told which."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar

_MISSED: ContextVar[set[str] | None] = ContextVar("missed", default=None)


@contextmanager
def missed_letters() -> Iterator[set[str]]:
    """The letters that are drawn as boxes within, filled as they are drawn."""
    found: set[str] = set()
    before = _MISSED.set(found)
    try:
        yield found
    finally:
        _MISSED.reset(before)


def miss(letters: Iterable[str]) -> None:
    """Say that letters are drawn as boxes."""
    found = _MISSED.get()
    if found is not None:
        found.update(letters)

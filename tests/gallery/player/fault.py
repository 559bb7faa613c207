"""What the player says when it cannot go on."""

from __future__ import annotations


class Fault(Exception):
    """A sentence that cannot be read, or cannot be done with the pairs as they lie."""


def must(true: bool, what: str) -> None:
    """A fault unless it is true."""
    if not true:
        raise Fault(what)

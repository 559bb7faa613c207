"""The search for many different squares (interface; being built)."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from constraints.brief import Brief
from constraints.square import Square
from constraints.stamp import Stamp


@dataclass(frozen=True)
class Step:
    """One job done, in job order. square: accepted, numbered and checked, or None. note: why not."""

    job: int
    square: Square | None
    note: str = ""


class Impossible(Exception):
    """No square can meet the brief: proven. The message is one line in her words, with what would mend it."""


def search(
    brief: Brief,
    stamp: Stamp | None,
    *,
    kept: Sequence[Square] = (),
    first_job: int = 0,
    first_number: int = 1,
    count: int | None = None,
    cores: int | None = None,
) -> Iterator[Step]:
    """Yield one Step a job until `count` squares are accepted or the effort is spent. Raises Impossible."""
    raise RuntimeError("being built")

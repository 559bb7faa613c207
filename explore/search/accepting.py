"""Which of the designs that jobs come to are accepted: in the order of the jobs, no two alike, numbered on."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from math import inf

from constraints.brief import Brief
from constraints.design import Design
from explore.search.diversity import Collection


@dataclass(frozen=True)
class JobResult:
    """One job done. design: accepted, numbered and checked, or None. note: why not. near: briefs that ask for as much
    as was reached, where that says more than a note."""

    job: int
    design: Design | None
    note: str = ""
    near: tuple[Brief, ...] = ()


@dataclass(frozen=True)
class JobOutcome:
    """What a job came to: designs to choose one from, checked, the best first; or none, and why. near: as that of a
    JobResult."""

    job: int
    designs: Sequence[Design]
    note: str = ""
    near: tuple[Brief, ...] = ()


def most_jobs(wanted: int, effort: float, each: int = 8, least: int = 40) -> int:
    """How many jobs are tried before a search gives up: `each` for a design that is wanted, and so many at least."""
    return max(least, int(each * wanted * max(1.0, effort)))


def accepted(
    tried: Iterable[JobOutcome], collection: Collection, first_number: int, wanted: int, in_vain: float = inf
) -> Iterator[JobResult]:
    """One result a job, until so many designs as are wanted are accepted, or so many jobs on end came to nothing."""
    number, vain = first_number, 0
    for each in tried:
        taken = next((design for design in each.designs if collection.takes(design)), None)
        if taken is None:
            yield JobResult(each.job, None, each.note or "too like one found before", each.near)
            vain += 1
            if vain >= in_vain:
                return
            continue
        yield JobResult(each.job, taken.numbered(number))
        number, wanted, vain = number + 1, wanted - 1, 0
        if wanted == 0:
            return

"""Cousins of a chosen design: what is kept stays pinhole for pinhole, of the whole a given share differs.

How much of a cousin has changed is told in `explore.editing.varying.worked`, place for place, without turning; how
much any two differ, as everywhere, by `constraints.difference`. Jobs are numbered and each is a pure function of its
number and what is asked; they are accepted in their order, so that the squares are the same on any number of cores.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from constraints.brief import Brief
from constraints.design import Design
from constraints.stamp import Stamp
from explore.editing.varying.kept import Kept
from explore.editing.varying.studio import Studio
from explore.search.accepting import JobOutcome, JobResult, accepted, most_jobs
from explore.search.diversity import Collection
from explore.search.search import Impossible
from explore.search.workers import Hands, WorkerPool

# So many jobs in vain end it.
_IN_VAIN = 64


def cousins(
    design: Design,
    brief: Brief,
    stamps: tuple[Stamp, ...],
    kept: Kept,
    change: tuple[float, float],
    *,
    kept_before: Sequence[Design] = (),
    first_job: int = 0,
    first_number: int = 1,
    count: int = 24,
    cores: Hands = None,
) -> Iterator[JobResult]:
    """Yield one JobResult a job until `count` cousins are accepted or the effort is spent.

    brief: its symmetry is the square's or a looser one; its limits hold, its size and pitch are those of the square.
    kept: what stays; the prints of the stamps do besides. change: the least and
    the greatest share of all pinholes that differ from the chosen square. Cousins differ from the chosen square,
    from those in `kept_before` and from each other by `least_apart`, however turned.

    Raises BadInput if the square does not keep the brief, Impossible if what is kept leaves too little to change.
    """
    studio = Studio(design, brief, stamps, kept, change)
    if studio.most < change[0]:
        raise Impossible(
            f"what is kept, with its images under {brief.piece.symmetry} symmetry, "
            f"leaves at most {100 * studio.most:.3g}% "
            f"of the pinholes to change, {100 * change[0]:.3g}% are asked for",
            code="impossible-kept",
        )
    jobs = range(first_job, first_job + most_jobs(count, brief.run.effort))
    collection = Collection(least_apart(brief, change), [design, *kept_before])
    with WorkerPool(Studio, (design, brief, stamps, kept, change), cores) as workers:
        every = (JobOutcome(job, *found) for job, found in workers.in_order(_work, ((job, None) for job in jobs)))
        yield from accepted(every, collection, first_number, count, _IN_VAIN * max(1.0, brief.run.effort))


def least_apart(brief: Brief, change: tuple[float, float]) -> float:
    """The least share in which any two cousins differ: her `apart`, or the least change if that is smaller."""
    return min(brief.run.apart, change[0])


def _work(studio: Studio, job: int, _: None) -> tuple[list[Design], str]:
    return studio.run(job)

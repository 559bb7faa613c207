"""Squares that a taste likes: the jobs compete in groups, and of each group the one that it likes best is offered."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import groupby

import numpy as np

from constraints.design import Design
from explore.search.accepting import JobOutcome
from gallery.seeing.traits import TRAITS, measured

# So many jobs compete for each square.
POOL = 4


def favoured(tried: Iterable[JobOutcome], taste: Sequence[tuple[str, float]]) -> Iterator[JobOutcome]:
    """One outcome for every group of jobs: the designs of all of them, the one that the taste likes best first. taste:
    weights of traits. The outcome has the number of the last job of its group, after which a search goes on."""
    for _, group in groupby(tried, lambda each: each.job // POOL):
        every = list(group)
        designs = sorted((design for each in every for design in each.designs), key=lambda one: -liked(one, taste))
        yield JobOutcome(every[-1].job, designs, every[-1].note, every[-1].near)


def liked(design: Design, taste: Sequence[tuple[str, float]]) -> float:
    """How much a taste likes a design: its traits by their weights."""
    weights = dict(taste)
    return float(np.round(measured(design) @ [weights.get(name, 0.0) for name in TRAITS], 6))

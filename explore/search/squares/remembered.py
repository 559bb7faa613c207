"""Stamps laid before in this process: searches that differ in nothing that laying depends on lay each place once."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from constraints.brief import Brief
from constraints.square_sizes import Size
from constraints.stamp import Stamp
from explore.search.laying.laid import PlaceLaid
from explore.search.laying.sectors import Place
from explore.search.memory import Memory
from explore.search.squares.placing import Placing
from explore.search.workers import WorkerPool

_Key = tuple[Brief, Stamp | None, Size, Place, float]
_laid: Memory[_Key, PlaceLaid] = Memory(kept=512)


def lay_in_order(
    placings: Sequence[Placing], places: Sequence[tuple[int, Place]], patience: float, workers: WorkerPool[Any]
) -> Iterator[tuple[int, PlaceLaid]]:
    """Each place, by the number of its placing, laid as `Placing.lay` does, in their order. workers: whose tool has
    these placings."""
    keys = [_key(placings[number], place, patience) for number, place in places]
    tasks = [(number, (place, patience)) for number, place in places]
    return _laid.in_order(workers, _lay, tasks, keys)


def _key(placing: Placing, place: Place, patience: float) -> _Key:
    """All that laying depends on. Blocks alone are laid, so the share of solid says nothing, nor do how many squares
    are wanted and how far apart."""
    brief = placing.brief.changed(solid=(0.0, 1.0), count=1, apart=0.0)
    return brief, placing.stamp, placing.size, place, patience


def _lay(workshop: Any, number: int, task: tuple[Place, float]) -> PlaceLaid:
    laid: PlaceLaid = workshop.placings[number].lay(*task)
    return laid

"""Stamps laid before in this process: searches that differ in nothing that laying depends on lay each place once."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
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


def laid_once(placing: Placing, place: Place) -> PlaceLaid:
    """As `Placing.lay`, unless it was laid so before."""
    return _laid.once(_key(placing, place, 1.0), lambda: placing.lay(place))


def _key(placing: Placing, place: Place, patience: float) -> _Key:
    """All that laying depends on: not how many squares are wanted and how far apart, nor what rules say of more than
    blocks."""
    brief = placing.brief.changed(count=1, apart=0.0)
    brief = replace(brief, rules=brief.rules.of_blocks)
    return brief, placing.stamp, placing.size, place, patience


def _lay(workshop: Any, number: int, task: tuple[Place, float]) -> PlaceLaid:
    laid: PlaceLaid = workshop.placings[number].lay(*task)
    return laid

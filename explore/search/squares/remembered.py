"""Stamps laid before in this process: searches that differ in nothing that laying depends on lay each place once.

A series asks for the same print in squares of four shares of solid, more squares of a study for all its places again.
"""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Iterator, Sequence
from threading import Lock
from typing import Any

from constraints.brief import Brief
from constraints.square_sizes import Size
from constraints.stamp import Stamp
from explore.search.laying.laid import PlaceLaid
from explore.search.laying.sectors import Place
from explore.search.squares.placing import Placing
from explore.search.workers import WorkerPool

# So many are kept, the latest ones.
_KEPT = 512

_Key = tuple[Brief, Stamp | None, Size, Place, float]
_laid: OrderedDict[_Key, PlaceLaid] = OrderedDict()
_one_at_a_time = Lock()


def lay_in_order(
    placings: Sequence[Placing], places: Sequence[tuple[int, Place]], patience: float, workers: WorkerPool[Any]
) -> Iterator[tuple[int, PlaceLaid]]:
    """Each place, by the number of its placing, laid as `Placing.lay` does, in their order. workers: whose tool has
    these placings."""
    keys = [_key(placings[number], place, patience) for number, place in places]
    with _one_at_a_time:
        known = {key: _laid[key] for key in keys if key in _laid}
    tasks = ((number, (place, patience)) for key, (number, place) in zip(keys, places, strict=True) if key not in known)
    found = workers.in_order(_lay, tasks)
    for key, (number, _) in zip(keys, places, strict=True):
        laid = known.get(key)
        if laid is None:
            _, laid = next(found)
            _remember(key, laid)
        yield number, laid


def forget() -> None:
    """Forget all of it, so that it is laid again."""
    with _one_at_a_time:
        _laid.clear()


def _key(placing: Placing, place: Place, patience: float) -> _Key:
    """All that laying depends on. Blocks alone are laid, so the share of solid says nothing, nor do how many squares
    are wanted and how far apart."""
    brief = placing.brief.changed(solid=(0.0, 1.0), count=1, apart=0.0)
    return brief, placing.stamp, placing.size, place, patience


def _remember(key: _Key, laid: PlaceLaid) -> None:
    with _one_at_a_time:
        _laid[key] = laid
        while len(_laid) > _KEPT:
            _laid.popitem(last=False)


def _lay(workshop: Any, number: int, task: tuple[Place, float]) -> PlaceLaid:
    laid: PlaceLaid = workshop.placings[number].lay(*task)
    return laid

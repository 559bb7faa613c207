"""What helps where a pool has too few squares for a series: each mend has been tried before it is told."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace

from explore.refused import Refused
from explore.search import Step
from explore.series.family import SHARES, family
from explore.series.order import ORDERS
from explore.series.pool import Asked, gather

_FEWEST = 2


def too_few(asked: Asked, found: int, cores: int | None, watch: Callable[[Step], None]) -> str:
    """One line on a pool of so many squares, with the first mend of each kind that has been seen to help."""
    mends = [f"--squares {found}"] if found >= _FEWEST else []
    other = next((words for words, other in _others(asked) if _fills(other, cores, watch)), None)
    mends += [] if other is None else [other]
    share = asked.family.share
    line = f"{found} of {asked.count} different squares with one {share} found in the effort given"
    return f"{line}; " + (f"what mends it: {' or '.join(mends)}" if mends else "no other --share or --order gives more")


def _others(asked: Asked) -> Iterator[tuple[str, Asked]]:
    """The same in every other order, then with every other family."""
    for order in ORDERS:
        if order != asked.order:
            yield f"--order {order}", replace(asked, order=order)
    for share in SHARES:
        if share != asked.family.share:
            try:
                yield f"--share {share}", replace(asked, family=family(share, asked.chosen))
            except Refused:
                continue


def _fills(asked: Asked, cores: int | None, watch: Callable[[Step], None]) -> bool:
    try:
        return len(gather(asked, cores, watch)) >= asked.count
    except Refused:
        return False

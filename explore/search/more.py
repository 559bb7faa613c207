"""A brief with more and more of a measure."""

from __future__ import annotations

from collections.abc import Iterator

from constraints.brief import Brief

# So many times a measure is offered at the most.
_MORE = 3.0


def of_more_pairs(brief: Brief) -> Iterator[Brief]:
    """The brief with one pair more, two more, and so on."""
    return (brief.changed(pairs=pairs) for pairs in more_of(brief.rules.pairs))


def more_of(own: int) -> range:
    """What is more than a measure, up to three times as much."""
    return range(own + 1, round(_MORE * own) + 1)

"""Doubtful dots: numbered, and settled as she says."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from explore.bad_input import BadInput
from explore.editing.redrafting.draft import Draft
from explore.editing.redrafting.grid import by_row


def numbered(draft: Draft) -> Draft:
    """The doubts in order of their places, row by row, numbered from 1."""
    order = sorted(draft.doubts, key=lambda doubt: (doubt.at[1], doubt.at[0], doubt.place))
    return replace(draft, doubts=tuple(replace(doubt, number=i) for i, doubt in enumerate(order, start=1)))


def settled(draft: Draft, take: Sequence[int], drop: Sequence[int]) -> Draft:
    """The draft with those doubtful dots taken and those dropped. Refused for numbers that are not in doubt."""
    both = sorted(set(take) & set(drop))
    if both:
        raise BadInput(f"doubtful dot {both[0]} cannot be taken and dropped")
    most = len(draft.doubts)
    for name, numbers in (("take", take), ("drop", drop)):
        for number in numbers:
            if not 1 <= number <= most:
                known = f"the doubtful dots are 1 to {most}" if most else "no dot is doubtful"
                raise BadInput(f"{name} {number}: {known}", of=name)
    taken = {doubt.number for doubt in draft.doubts if doubt.taken}
    taken = (taken | set(take)) - set(drop)
    own = {doubt.place for doubt in draft.doubts if doubt.number in {*take, *drop}}
    doubts = tuple(replace(doubt, taken=doubt.number in taken) for doubt in draft.doubts)
    return replace(draft, doubts=doubts, settled=by_row(own))

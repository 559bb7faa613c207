"""The rule on roses."""

from __future__ import annotations

from collections.abc import Iterator

from constraints.check.fillings.parts import in_line
from constraints.check.limits import Limits
from constraints.check.listing import Fault
from constraints.layout import Layout


def rose(layout: Layout, limits: Limits) -> Iterator[Fault]:
    """Rose units take open holes of a field, in one alignment along both diagonals of the field."""
    yield from in_line(layout, "rose", "rose")

"""The rule on half-stitch roses."""

from __future__ import annotations

from collections.abc import Iterator

from constraints.check.fillings.parts import in_line
from constraints.check.limits import Limits
from constraints.check.listing import Fault
from constraints.layout import Layout


def half_stitch_rose(layout: Layout, limits: Limits) -> Iterator[Fault]:
    """Half-stitch roses stand as other roses do."""
    yield from in_line(layout, "half-stitch-rose", "half-stitch rose")

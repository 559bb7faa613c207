"""The rule on twisted ground."""

from __future__ import annotations

from collections.abc import Iterator

from constraints.check.fillings.parts import whole_fields
from constraints.check.limits import Limits
from constraints.check.listing import Fault
from constraints.layout import Layout


def twisted_ground(layout: Layout, limits: Limits) -> Iterator[Fault]:
    """Twisted ground fills whole fields, as double ground does."""
    yield from whole_fields(layout, "twisted-ground", "twisted ground")

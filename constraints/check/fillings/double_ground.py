"""The rule on double ground."""

from __future__ import annotations

from collections.abc import Iterator

from constraints.check.fillings.parts import whole_fields
from constraints.check.limits import Limits
from constraints.check.listing import Fault
from constraints.layout import Layout


def double_ground(layout: Layout, limits: Limits) -> Iterator[Fault]:
    """Double ground fills whole fields: each of their pinholes, except those in another field's units."""
    yield from whole_fields(layout, "double-ground", "double ground")

"""What is kept of a chosen square: the pinholes whose blocks stay, and those whose fillings stay."""

from __future__ import annotations

from dataclasses import dataclass

from constraints.lattice import BoolArray


@dataclass(frozen=True, eq=False)
class Kept:
    """block: (n,) pinholes that stay in a block of their stitch, or outside all blocks. filling: (n,) pinholes
    that stay in the same unit at the same place, in double ground, or in neither."""

    block: BoolArray
    filling: BoolArray

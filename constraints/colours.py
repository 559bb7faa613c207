"""The colours by which lacemakers tell apart what is worked, as words; what ink that is, a drawing decides."""

from __future__ import annotations

from enum import Enum


class Colour(Enum):
    """Purple, green, red and brown by the convention taught in Bruges and in international use (published list: World
    Lace Congress Bruges 2018, workshop page): cloth stitch, half stitch, whole stitch, twisted half stitch. It names
    none for other fillings; theirs are sober, so that the blocks speak."""

    PURPLE = "purple"
    GREEN = "green"
    RED = "red"
    BROWN = "brown"
    STEEL = "steel"
    UMBER = "umber"
    SLATE = "slate"

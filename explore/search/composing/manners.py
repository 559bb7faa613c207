"""Manners: what a composition is after. One table."""

from __future__ import annotations

from dataclasses import dataclass

from explore.search.composing.families import FAMILIES


@dataclass(frozen=True)
class Manner:
    """lead: families of which one leads. liked: those that go well with it. gaps: neighbour steps between lines that
    run beside each other, one of them for each composition."""

    lead: tuple[str, ...]
    liked: tuple[str, ...]
    gaps: tuple[int, ...] = (4, 5)

    def liking(self, family: str) -> int:
        """2 for what leads, 1 for what is liked, 0 for all others."""
        return 2 if family in self.lead else 1 if family in self.liked else 0


MANNERS: dict[str, Manner] = {
    "round the print": Manner(("outline", "contour"), ("diamond", "rosette", "corner", "chain")),
    "waves": Manner(("zigzag",), ("diamond", "vee", "diamond ring", "corner")),
    "bastions": Manner(("bastion", "star"), ("diamond", "corner", "rosette", "vee")),
    "nested rings": Manner(
        ("square", "octagon", "diamond ring"), ("diamond ring", "octagon", "rosette", "corner"), (3, 4)
    ),
    "frames": Manner(("frame",), ("diamond", "vee", "corner", "chain")),
    "chains": Manner(("chain", "diamonds"), ("diamond", "rosette", "corner")),
    "angles": Manner(("vee", "corner"), ("diamond", "frame", "rungs"), (3, 4)),
    "rungs": Manner(("rungs",), ("vee", "diamond", "rosette")),
    "dentils": Manner(("dentil",), ("diamond", "corner", "rosette")),
    "chequers": Manner(("chequer", "rosette"), ("diamond", "square", "octagon")),
    "rows of bars": Manner(("herringbone", "bar"), ("diamond", "vee", "corner")),
    "pinwheels": Manner(("pinwheel",), ("diamond", "octagon", "square", "rosette")),
    "shields": Manner(("shield",), ("diamond", "corner", "rosette", "chain")),
}
assert all(name in FAMILIES for manner in MANNERS.values() for name in (*manner.lead, *manner.liked))

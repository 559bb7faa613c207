"""The rules of a piece as values: what model and second check limit, nothing of where or how it is sought."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, fields, replace

from constraints.corners import HALVES
from constraints.fillings import USUAL
from constraints.stitches import CLOTH, HALF, STITCHES


@dataclass(frozen=True)
class Rules:
    """What a piece must keep. Spans are (least, most), both allowed.

    pairs: the most she has. stitches: those of blocks and the fillings that are allowed. least: fewest of a stitch
    (pinholes) or figure (units). narrowest, widest, narrowest_ground, margin: pinholes. splits: the most. corners:
    how blocks cross corner lines, one of `corners.CORNERS`, or "" for what was found before that was asked. solid:
    share of pinholes in blocks. match: least of a stamp. ValueError if blocks have no stitch.
    """

    pairs: int = 30
    stitches: tuple[str, ...] = (CLOTH, HALF, *USUAL)
    least: Mapping[str, int] = field(default_factory=dict, hash=False)
    narrowest: int = 2
    widest: int = 16
    narrowest_ground: int = 2
    margin: int = 2
    splits: int = 0
    corners: str = HALVES
    solid: tuple[float, float] = (0.2, 0.5)
    match: float = 0.65

    def __post_init__(self) -> None:
        if not any(name in self.stitches for name in STITCHES):
            named = ", ".join(self.stitches) or "nothing"
            raise ValueError(f"blocks need at least one of {', '.join(STITCHES)}; the brief allows {named}")

    @property
    def of_blocks(self) -> Rules:
        """The same where blocks alone are laid: what is asked of pairs, stitches and share says nothing of them."""
        usual = Rules()
        return replace(self, pairs=usual.pairs, stitches=(CLOTH,), least={}, solid=(0.0, 1.0))

    def told(self) -> dict[str, object]:
        """As a design's file keeps them for the check."""
        values = {**{each.name: getattr(self, each.name) for each in fields(self)}, "least": dict(self.least)}
        if not self.corners:
            # What was found before crossings were asked for says nothing of them.
            del values["corners"]
        return {name: list(value) if isinstance(value, tuple) else value for name, value in values.items()}

"""What frames and rectangles have in common: two half-sides, laid about a middle."""

from __future__ import annotations

from abc import abstractmethod
from dataclasses import dataclass
from typing import Any, Self

from constraints.edgings import Headside
from constraints.forms.form import Box, Form


@dataclass(frozen=True)
class Oblong(Form):
    """A piece of half-sides A and B."""

    half_width: int
    half_height: int

    @property
    def parity(self) -> int:
        """The opposite of A + B, so that no pinhole lies on a corner line."""
        return (self.half_width + self.half_height + 1) % 2

    @property
    def box(self) -> Box:
        return (-self.half_width, -self.half_height, self.half_width, self.half_height)

    @property
    def measures(self) -> dict[str, int]:
        return {"half_width": self.half_width, "half_height": self.half_height}

    @classmethod
    @abstractmethod
    def sized(
        cls, half_width: int, half_height: int | None, band: int | None, headside: Headside | None
    ) -> Self | None:
        """The form of such half-sides with a headside or none; a height or band of None is as usual. None if whole fans
        do not fit along it."""

    def asked(self) -> dict[str, Any]:
        half_size = (self.half_width, self.half_width)
        return {**super().asked(), "half_size": half_size, "half_height": self.half_height}

"""The door of a command that takes a brief: further options are read as keys of it."""

from __future__ import annotations

from abc import abstractmethod
from dataclasses import dataclass
from pathlib import Path
from typing import ClassVar

from constraints.brief import Brief
from explore import asking
from explore.bad_input import BadInput
from explore.mending.trying import Door, Options


@dataclass(frozen=True)
class BriefDoor(Door):
    """file, flags: what the command was given, as `asking.read` takes them; usual: as it does too."""

    usual: ClassVar[Options] = {}

    file: Path | None
    flags: Options

    def opens(self, options: Options) -> bool:
        brief = self._brief(options)
        return brief is not None and self.allows(brief)

    def holds(self, options: Options) -> bool:
        brief = self._brief(options)
        return brief is not None and self.finds(brief)

    def allows(self, brief: Brief) -> bool:
        """Whether there is any hope for a brief, as `opens`."""
        return True

    @abstractmethod
    def finds(self, brief: Brief) -> bool:
        """Whether the command finds something for a brief, as `holds`."""

    def _brief(self, options: Options) -> Brief | None:
        """The brief with further options; None if it is refused."""
        try:
            return asking.read(self.file, {**self.flags, **options}, self.usual).brief
        except BadInput:
            return None

"""What came of a command as one JSON document, for a program: of one that did its work, and of one that refused.

Every document says "stampwork", the version of its shape, and "command"; `explore/guides/scripts.md` lists the rest.
"""

from __future__ import annotations

import json
import math
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

from explore.exits import CommandEnd, Outcome

# Counted up when a key goes, or means something else; keys may be added.
VERSION = 1
# A length of a tenth of a millionth is none.
_DECIMALS = 6


def of_outcome(command: str, outcome: Outcome, following: Sequence[str]) -> str:
    """The document on a command that did its work. following: the words of one that goes on from there."""
    told = {**outcome.told, "files": outcome.to_see, "next": following}
    return _text(command, told)


def of_refusal(command: str, refusal: CommandEnd) -> str:
    """The document on a command that did not."""
    return _text(command, {"error": {"code": refusal.code, "message": str(refusal), **refusal.about}, **refusal.told})


def _text(command: str, told: Mapping[str, object]) -> str:
    return json.dumps({"stampwork": VERSION, "command": command, **_plain(told)}, indent=1, allow_nan=False)


def _plain(value: object) -> Any:
    """A value as JSON has it: paths as texts, numbers to six decimals, endless ones as none."""
    match value:
        case Mapping():
            return {str(name): _plain(each) for name, each in value.items()}
        case str() | bool() | int() | None:
            return value
        case float():
            return round(value, _DECIMALS) if math.isfinite(value) else None
        case Path():
            return str(value)
        case Sequence():
            return [_plain(each) for each in value]
    raise TypeError(f"{value!r} is nothing that JSON has")

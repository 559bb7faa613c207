"""Reading a brief: TOML and flags to `constraints.brief.Brief`, and back to TOML."""

from explore.asking.briefs import BriefError, BriefRequest, from_toml, option, read, to_toml
from explore.asking.keys import BUILT_IN, KEYS, NAMED, Key

__all__ = [
    "BUILT_IN",
    "KEYS",
    "NAMED",
    "BriefError",
    "BriefRequest",
    "Key",
    "from_toml",
    "option",
    "read",
    "to_toml",
]
